package phrase

import (
	"encoding/json"
	"math"
	"testing"

	"spadework/engine/unit"
)

// checkText wants one text.
func checkText(t *testing.T, what, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%s = %q, want %q", what, got, want)
	}
}

// example is a message of a real key.
func example() Message {
	return New("unit.too_large", With("text", "20000 km"), With("limit", "10 000 km"), With("quantity", New("unit.quantity.length")))
}

func TestRender(t *testing.T) {
	checkText(t, "English", example().Render(English, unit.Style{}), `"20000 km" is beyond the limit of 10 000 km for a length`)
	checkText(t, "Spanish", example().Render(Spanish, unit.Style{}), `"20000 km" pasa del límite de 10 000 km para una longitud`)
	checkText(t, "unknown language", example().Render("fr", unit.Style{}), `"20000 km" is beyond the limit of 10 000 km for a length`)
	checkText(t, "no key", Message{}.Render(English, unit.Style{}), "")
	checkText(t, "unknown key", New("unit.none").Render(Spanish, unit.Style{}), "unit.none")
	checkText(t, "missing argument", New("unit.digits").Render(English, unit.Style{}), `"" has more than 18 digits`)
}

// TestShow: every typed value in a style.
func TestShow(t *testing.T) {
	style := unit.Style{System: unit.Imperial, Face: unit.FaceTenths, Fraction: 8}
	slope, err := unit.ParseSlope("1/4 in/ft")
	if err != nil {
		t.Fatal(err)
	}
	batter, err := unit.ParseBatter("1½:1")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		value any
		want  string
	}{
		{"T4", "T4"}, {3, "3"}, {1.5, "1.5"}, {nil, ""}, {[]string{"F1", "F2", "F3"}, "F1, F2 and F3"}, {true, "true"},
		{28.5 * unit.Inch, `2'-4 1/2"`}, {unit.Elevation(31.8516), "104.50 ft"}, {unit.Reading(1.4844), "4.87"}, {unit.Station(259.08), "8+50"},
		{unit.Grade(0.02), "2 %"}, {12.5 * unit.Degree, "12.50°"}, {unit.Area(0.3048 * 0.3048), "1.0 ft²"}, {2 * unit.CubicYard, "2.0 yd³"},
		{unit.Chance(0.5), "50 %"}, {slope, "1/4 in/ft"}, {batter, "1½:1"},
		{[]Message{New("unit.quantity.length"), New("unit.quantity.slope")}, "a length a slope"},
	} {
		checkText(t, "show", show(c.value, English, style), c.want)
	}
}

// TestQuote: inches have the straight quote themselves; control characters
// never reach a terminal.
func TestQuote(t *testing.T) {
	checkText(t, "quote", quote("16 inn"), `"16 inn"`)
	checkText(t, "quote", quote(`2'-4"`), `“2'-4"”`)
	checkText(t, "quote", quote("a\x1b[1m\n"), `"a\x1b[1m\n"`)
	checkText(t, "quote", quote(`\"`), `“\\"”`)
}

// TestList: Spanish y is e before the sound i, o is u before the sound o
// (Real Academia Española, Diccionario panhispánico de dudas, "y" and "o",
// from memory).
func TestList(t *testing.T) {
	for _, c := range []struct {
		items []string
		j     join
		lang  Language
		want  string
	}{
		{nil, and, English, ""}, {[]string{"a"}, or, Spanish, "a"}, {[]string{"a", "b"}, and, English, "a and b"},
		{[]string{"a", "b", "c"}, or, English, "a, b or c"}, {[]string{"a", "b"}, and, Spanish, "a y b"},
		{[]string{"padre", "hijo"}, and, Spanish, "padre e hijo"}, {[]string{"a", "Isla"}, and, Spanish, "a e Isla"},
		{[]string{"agua", "hielo"}, and, Spanish, "agua y hielo"}, {[]string{"siete", "ocho"}, or, Spanish, "siete u ocho"},
		{[]string{"7 ft", "8 ft"}, or, Spanish, "7 ft u 8 ft"}, {[]string{"1", "11"}, or, Spanish, "1 u 11"},
		{[]string{"1", "110"}, or, Spanish, "1 o 110"}, {[]string{"uno", "hoyo"}, or, Spanish, "uno u hoyo"}, {[]string{"a", "b", "c"}, or, Spanish, "a, b o c"},
	} {
		checkText(t, "list", list(c.items, c.j, c.lang), c.want)
	}
}

func TestFault(t *testing.T) {
	f := NewFault(example(), New("unit.remedy.too_large"))
	if f.Code != Invalid {
		t.Errorf("NewFault().Code = %q, want %q", f.Code, Invalid)
	}
	at := f.At(Place{File: "job.toml", Line: 12, Column: 8, Path: "excavation.F1.below"})
	if f.Place != (Place{}) {
		t.Errorf("At changed its receiver: %v", f.Place)
	}
	want := `job.toml:12:8: excavation.F1.below: "20000 km" is beyond the limit of 10 000 km for a length`
	checkText(t, "Error", at.Error(), want)
	checkText(t, "At twice", at.At(Place{File: "other"}).Error(), want)
	checkText(t, "Spanish", at.At(Place{}).Remedy.Render(Spanish, unit.Style{}), "revise la cifra, su unidad y su punto decimal")
	for _, c := range []struct {
		place Place
		want  string
	}{{Place{}, ""}, {Place{Line: 3}, "3"}, {Place{Path: "a.b"}, "a.b"}, {Place{File: "f", Column: 3}, "f"}, {Place{Line: 3, Column: 2, Path: "p"}, "3:2: p"}} {
		checkText(t, "Place", c.place.String(), c.want)
	}
}

// TestJSON: arguments in order, quantities in SI, unknown as null.
func TestJSON(t *testing.T) {
	slope, err := unit.ParseSlope("1/4 in/ft")
	if err != nil {
		t.Fatal(err)
	}
	m := New("unit.digits", With("text", `2'-4" <&>`), With("z", 16*unit.Inch), With("a", 3), With("g", unit.Grade(math.NaN())), With("s", slope),
		With("list", []string{"F1", "F2"}), With("m", New("unit.quantity.length")), With("ms", []Message{{}}), With("none", nil),
		With("code", Invalid), With("yes", true), With("u", uint8(2)), With("inf", math.Inf(1)))
	want := `{"key":"unit.digits","args":{"text":"2'-4\" <&>","z":0.4064,"a":3,"g":null,"s":{"rise":1,"run":48,"words":"1/4 in/ft"},` +
		`"list":["F1","F2"],"m":{"key":"unit.quantity.length","args":{},"text":"a length"},"ms":[null],"none":null,"code":"invalid",` +
		`"yes":true,"u":2,"inf":null},"text":"“2'-4\" <&>” has more than 18 digits"}`
	checkText(t, "AppendJSON", string(m.AppendJSON(nil)), want)
	data, err := json.Marshal([]Message{m, {}})
	if err != nil {
		t.Fatal(err)
	}
	var back []any
	if err := json.Unmarshal(data, &back); err != nil || len(back) != 2 || back[1] != nil {
		t.Errorf("json.Marshal = %s, %v, want a message and null", data, err)
	}
}
