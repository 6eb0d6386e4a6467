//go:build !page

package sheet

import (
	"net/url"
	"strings"
)

// CardAddress is the address that opens a card in the app that is served at a
// base: base#/dig/F7/B2, the set-up left out where there is none. What stands
// after # stays on the phone that reads it.
func CardAddress(base string, k Card) string {
	out := strings.TrimSuffix(base, "#") + "#/dig/" + url.PathEscape(k.Excavation)
	if k.Setup != "" {
		out += "/" + url.PathEscape(k.Setup)
	}
	return out
}
