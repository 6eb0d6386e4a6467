package phrase

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"unicode/utf8"

	"spadework/engine/unit"
)

// MarshalJSON is {"key": …, "args": {name: value, …}, "text": English}. The
// arguments keep their order; quantities are bare numbers in SI (metres,
// radians, rise over run), NaN and infinities null, slopes {rise, run, words}.
// A message without a key is null.
func (m Message) MarshalJSON() ([]byte, error) { return m.AppendJSON(nil), nil }

// AppendJSON appends MarshalJSON to dst.
func (m Message) AppendJSON(dst []byte) []byte {
	if m.IsZero() {
		return append(dst, "null"...)
	}
	dst = appendString(append(dst, `{"key":`...), string(m.Key))
	dst = append(dst, `,"args":{`...)
	for i, a := range m.Args {
		if i > 0 {
			dst = append(dst, ',')
		}
		dst = append(appendString(dst, a.Name), ':')
		dst = appendValue(dst, a.Value)
	}
	dst = appendString(append(dst, `},"text":`...), m.Render(English, unit.Style{}))
	return append(dst, '}')
}

// appendValue appends one argument.
func appendValue(dst []byte, v any) []byte {
	switch v := v.(type) {
	case nil:
		return append(dst, "null"...)
	case string:
		return appendString(dst, v)
	case Message:
		return v.AppendJSON(dst)
	case []Message:
		return appendList(dst, v, func(dst []byte, m Message) []byte { return m.AppendJSON(dst) })
	case []string:
		return appendList(dst, v, appendString)
	case unit.Slope:
		return appendRatio(dst, v.Rise, v.Run, v.Words)
	case unit.Batter:
		return appendRatio(dst, v.Rise, v.Run, v.Words)
	}
	switch r := reflect.ValueOf(v); {
	case r.CanInt():
		return strconv.AppendInt(dst, r.Int(), 10)
	case r.CanUint():
		return strconv.AppendUint(dst, r.Uint(), 10)
	case r.CanFloat():
		return appendFloat(dst, r.Float())
	case r.Kind() == reflect.Bool:
		return strconv.AppendBool(dst, r.Bool())
	}
	return appendString(dst, fmt.Sprint(v))
}

// appendList appends a JSON array.
func appendList[T any](dst []byte, items []T, one func([]byte, T) []byte) []byte {
	dst = append(dst, '[')
	for i, item := range items {
		if i > 0 {
			dst = append(dst, ',')
		}
		dst = one(dst, item)
	}
	return append(dst, ']')
}

// appendRatio appends a slope.
func appendRatio(dst []byte, rise, run int64, words string) []byte {
	dst = strconv.AppendInt(append(dst, `{"rise":`...), rise, 10)
	dst = strconv.AppendInt(append(dst, `,"run":`...), run, 10)
	return append(appendString(append(dst, `,"words":`...), words), '}')
}

// appendFloat appends a number in the fewest digits that give it back.
func appendFloat(dst []byte, f float64) []byte {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return append(dst, "null"...)
	}
	return strconv.AppendFloat(dst, f, 'g', -1, 64)
}

// plainJSON says that nothing in s needs escaping: UTF-8 without quotes,
// backslashes, controls and the two line ends that scripts do not take.
func plainJSON(s string) bool {
	for _, r := range s {
		if r < ' ' || r == '"' || r == '\\' || r == 0x7f || r == utf8.RuneError || r == '\u2028' || r == '\u2029' {
			return false
		}
	}
	return true
}

// appendString appends a JSON string; <, > and & stay as they are.
func appendString(dst []byte, s string) []byte {
	if plainJSON(s) {
		dst = append(append(dst, '"'), s...)
		return append(dst, '"')
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(s); err != nil {
		panic("phrase: " + err.Error()) // a string always encodes
	}
	return append(dst, bytes.TrimSuffix(b.Bytes(), []byte("\n"))...)
}
