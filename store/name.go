package store

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxName bounds ids and names in bytes.
const maxName = 200

// isName says that a text does as an id or a name: not empty, of one line.
func isName(s string) bool {
	return s != "" && len(s) <= maxName && utf8.ValidString(s) && !strings.ContainsFunc(s, unicode.IsControl)
}

// isText says that both databases keep a text as it is.
func isText(s string) bool { return utf8.ValidString(s) && !strings.ContainsRune(s, 0) }

// sortBy sorts by bytes here, because databases collate each in their way.
func sortBy[T any](list []T, key func(T) string) {
	slices.SortFunc(list, func(a, b T) int { return cmp.Compare(key(a), key(b)) })
}
