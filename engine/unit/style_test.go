package unit

import (
	"math"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

var (
	feetEighths = Style{System: Imperial, Face: FaceInches, Fraction: 8}
	feetDecimal = Style{System: Imperial, Face: FaceTenths}
	metric      = Style{}
	metricComma = Style{Comma: true}
	millimetre  = Style{Millimetres: true}
)

// checkText wants one text.
func checkText(t *testing.T, what, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%s = %q, want %q", what, got, want)
	}
}

func TestStyleLength(t *testing.T) {
	for _, c := range []struct {
		style Style
		l     Length
		want  string
	}{
		{feetEighths, 0.7239, `2'-4 1/2"`}, {feetEighths, 0.1143, `4 1/2"`}, {feetEighths, 0.0127, `1/2"`}, {feetEighths, 0, `0"`},
		{feetEighths, 0.6096, `2'-0"`}, {feetEighths, 2*Foot + Inch/2, `2'-0 1/2"`}, {feetEighths, -0.7239, `-2'-4 1/2"`},
		{feetEighths, 11.95 * Inch, `1'-0"`}, {feetEighths, 23.9375 * Inch, `2'-0"`}, {feetEighths, -0.0001, `0"`}, {feetEighths, -Inch / 4, `-1/4"`},
		{feetEighths, 1.0625 * Inch, `1 1/8"`}, // a tie goes away from zero
		{feetEighths, -1.0625 * Inch, `-1 1/8"`}, {feetEighths, 1.0624 * Inch, `1"`},
		{Style{System: Imperial, Fraction: 16}, 11.9375 * Inch, `11 15/16"`}, {Style{System: Imperial, Fraction: 16}, 11.97 * Inch, `1'-0"`},
		{Style{System: Imperial, Fraction: 1}, 11.5 * Inch, `1'-0"`}, {Style{System: Imperial, Fraction: 2}, 11.5 * Inch, `11 1/2"`},
		{feetDecimal, 0.7254, "2.38 ft"}, {feetDecimal, 1.5 * Inch, "0.13 ft"}, {feetDecimal, -1.5 * Inch, "-0.13 ft"},
		{Style{System: Imperial, Places: 3}, 1.5 * Inch, "0.125 ft"},
		{metric, 0.41, "0.410 m"}, {metric, 0.0005, "0.001 m"}, {metric, -0.0004, "0.000 m"}, {metric, 1.0005, "1.001 m"},
		{metricComma, 0.41, "0,410 m"}, {millimetre, 0.41, "410 mm"}, {millimetre, 0.4105, "411 mm"}, {Style{Places: 1}, 0.25, "0.3 m"},
		{metric, Length(math.NaN()), "—"}, {feetEighths, Length(math.Inf(-1)), "—"}, {feetDecimal, 1e300, "—"}, {millimetre, Length(math.NaN()), "—"},
	} {
		checkText(t, "Length", c.style.Length(c.l), c.want)
	}
}

func TestSplit(t *testing.T) {
	for _, c := range []struct {
		l    Length
		want FeetInches
	}{
		{0.7239, FeetInches{false, 2, 4, 1, 2}}, {-0.7239, FeetInches{true, 2, 4, 1, 2}}, {0, FeetInches{false, 0, 0, 0, 1}},
		{11.95 * Inch, FeetInches{false, 1, 0, 0, 1}}, {-0.0001, FeetInches{false, 0, 0, 0, 1}},
	} {
		if got, ok := feetEighths.Split(c.l); !ok || got != c.want {
			t.Errorf("Split(%v) = %+v, %v, want %+v", float64(c.l), got, ok, c.want)
		}
	}
	if got, ok := feetEighths.Split(Length(math.NaN())); ok {
		t.Errorf("Split(NaN) = %+v, want none", got)
	}
}

func TestStyleOthers(t *testing.T) {
	checkText(t, "Elevation", feetEighths.Elevation(31.8516), "104.50 ft")
	checkText(t, "Elevation", metric.Elevation(31.8516), "31.852 m")
	checkText(t, "ElevationFigure", metricComma.ElevationFigure(31.8516), "31,852")
	checkText(t, "Reading tenths", Style{Face: FaceTenths}.Reading(4.87*Reading(Foot)), "4.87")
	checkText(t, "Reading inches", Style{Face: FaceInches}.Reading(Reading(4*Foot+10.375*Inch)), `4'-10 3/8"`)
	checkText(t, "Reading metric", metric.Reading(1.486), "1.486")
	checkText(t, "Reading comma", metricComma.Reading(1.486), "1,486")
	checkText(t, "Station", feetEighths.Station(259.08), "8+50")
	checkText(t, "Station", feetEighths.Station(Station(850.25*Foot)), "8+50.25")
	checkText(t, "Station", feetEighths.Station(Station(5*Foot)), "0+05")
	checkText(t, "Station", feetEighths.Station(Station(-50*Foot)), "-0+50")
	checkText(t, "Station", feetEighths.Station(Station(99.999*Foot)), "1+00")
	checkText(t, "Station", metric.Station(125), "0+125")
	checkText(t, "Station", metricComma.Station(1250.5), "1+250,500")
	checkText(t, "Grade", metric.Grade(1.0/48), "2.083 %")
	checkText(t, "Grade", metric.Grade(0.02), "2 %")
	checkText(t, "Grade", metricComma.Grade(-0.0125), "-1,25 %")
	checkText(t, "Grade", metric.Grade(-0.000001), "0 %")
	checkText(t, "Percent", metric.Percent(-0.0218, 3), "-2.180")
	checkText(t, "Angle", metric.Angle(12.5*Degree), "12.50°")
	checkText(t, "Bearing", metric.Bearing(45.5*Degree), `45°30'00"`)
	checkText(t, "Bearing", metric.Bearing(-90*Degree), `270°00'00"`)
	checkText(t, "Bearing", metric.Bearing(359.99999*Degree), `0°00'00"`)
	checkText(t, "Bearing", feetEighths.Bearing(45.5*Degree), `N 45°30'00" E`)
	checkText(t, "Bearing", feetEighths.Bearing(190*Degree), `S 10°00'00" W`)
	checkText(t, "Bearing", feetEighths.Bearing(170*Degree), `S 10°00'00" E`)
	checkText(t, "Bearing", feetEighths.Bearing(350*Degree), `N 10°00'00" W`)
	checkText(t, "Area", feetEighths.Area(Area(12.5*0.3048*0.3048)), "12.5 ft²")
	checkText(t, "Area", metric.Area(1.25), "1.3 m²")
	checkText(t, "Volume", feetEighths.Volume(12.5*CubicYard), "12.5 yd³")
	checkText(t, "Volume", metric.Volume(9.55), "9.6 m³")
	checkText(t, "Chance", metric.Chance(0.954), "95.4 %")
	checkText(t, "Chance", metric.Chance(1), "100 %")
	checkText(t, "Chance", metric.Chance(0.99999), "> 99.9 %")
	checkText(t, "Chance", metricComma.Chance(1e-9), "< 0,1 %")
	checkText(t, "Chance", metric.Chance(0), "0 %")
	checkText(t, "Number", metricComma.Number(1234.5), "1234,5")
	checkText(t, "Number", metric.Number(math.Copysign(0, -1)), "0")
	checkText(t, "Number", metric.Number(1e21), "1e+21")
	nan := math.NaN()
	for _, got := range []string{metric.Elevation(Elevation(nan)), metric.Reading(Reading(nan)), metric.Station(Station(nan)),
		metric.Grade(Grade(nan)), metric.Angle(Angle(nan)), metric.Bearing(Angle(nan)), metric.Area(Area(nan)), metric.Volume(Volume(nan)),
		metric.Chance(Chance(nan)), metric.Number(nan)} {
		checkText(t, "NaN", got, "—")
	}
}

// TestFixed: fixed decimals, halves away from zero, the decimal comma.
func TestFixed(t *testing.T) {
	for _, c := range []struct {
		style  Style
		x      float64
		places int
		want   string
	}{
		{metric, 2.5, 0, "3"}, {metric, -2.5, 0, "-3"}, {metric, 0.125, 2, "0.13"}, {metric, -0.125, 2, "-0.13"}, {metric, 1.005, 2, "1.01"},
		{metric, 3, 2, "3.00"}, {metricComma, 3, 2, "3,00"}, {metricComma, -0.5, 1, "-0,5"}, {feetDecimal, 0.5, 3, "0.500"}, {metric, -0.0004, 3, "0.000"},
		{metric, 0.1234567, 6, "0.123457"}, {metric, 0.1234567, 9, "0.123457"}, {metric, 1.5, -2, "2"}, {metric, 1e300, 2, "—"},
		{metric, math.NaN(), 2, "—"}, {metricComma, math.Inf(-1), 2, "—"},
	} {
		checkText(t, "Fixed", c.style.Fixed(c.x, c.places), c.want)
	}
}

// TestFixedRounds: what Fixed prints lies within half a step and prints again as
// itself; the other sign prints the other way round.
func TestFixedRounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, places := rapid.Float64Range(-1e6, 1e6).Draw(t, "x"), rapid.IntRange(0, 6).Draw(t, "places")
		text := Style{}.Fixed(x, places)
		got, err := strconv.ParseFloat(text, 64)
		step := 1 / float64(powersOfTen[places])
		if err != nil || !near(got, x, slack(step)) || (Style{}).Fixed(got, places) != text {
			t.Errorf("Fixed(%v, %d) = %q, want within half of %v and a fixed point", x, places, text, step)
		}
		if other := (Style{}).Fixed(-x, places); strings.TrimPrefix(other, "-") != strings.TrimPrefix(text, "-") {
			t.Errorf("Fixed(%v, %d) = %q, of the other sign %q", x, places, text, other)
		}
		if comma := (Style{Comma: true}).Fixed(x, places); comma != strings.Replace(text, ".", ",", 1) {
			t.Errorf("Fixed(%v, %d) with comma = %q, without %q", x, places, comma, text)
		}
	})
}

// drawStyle is any style, with the length of its printed step in metres.
func drawStyle(t *rapid.T) (s Style, step float64) {
	s = Style{
		System:      rapid.SampledFrom([]System{Metric, Imperial}).Draw(t, "system"),
		Face:        rapid.SampledFrom([]Face{FaceMetric, FaceTenths, FaceInches}).Draw(t, "face"),
		Fraction:    rapid.SampledFrom([]int{0, 1, 2, 4, 8, 16, 32, 64}).Draw(t, "fraction"),
		Places:      rapid.IntRange(0, 4).Draw(t, "places"),
		Millimetres: rapid.Bool().Draw(t, "mm"),
		Comma:       rapid.Bool().Draw(t, "comma"),
	}
	decimals := 1 / float64(powersOfTen[s.places()])
	switch {
	case s.System == Imperial && s.Fraction > 0:
		return s, float64(Inch) / float64(s.Fraction)
	case s.System == Imperial:
		return s, decimals * float64(Foot)
	case s.Millimetres:
		return s, 0.001
	}
	return s, decimals
}

// slack is what the tie rule and the rounding of the float64s may add to half a
// step at 1e5 m.
func slack(step float64) float64 { return step/2*(1+4*tie) + 1e-10 }

// bareOf is the scale of what a style prints without a unit.
func bareOf(imperial bool) Scale {
	if imperial {
		return Feet
	}
	return Metres
}

// TestLengthPrintsAndReads: print ∘ parse ∘ print = print, and parse ∘ print is
// within half the printed step, in every style.
func TestLengthPrintsAndReads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, step := drawStyle(t)
		l := Length(rapid.Float64Range(-1e5, 1e5).Draw(t, "m"))
		text := s.Length(l)
		got, err := Reader{Comma: s.Comma}.Length(text)
		if err != nil || !near(float64(got), float64(l), slack(step)) {
			t.Errorf("Length(%q) = %v m, %v, want %v m (tol half a step, %v m)", text, float64(got), err, float64(l), step/2)
		}
		if again := s.Length(got); again != text {
			t.Errorf("Length(Length(%q)) = %q", text, again)
		}
	})
}

// TestFiguresPrintAndRead is the same law for elevations, readings, stations,
// grades and bearings.
func TestFiguresPrintAndRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, _ := drawStyle(t)
		x := rapid.Float64Range(-1e4, 1e4).Draw(t, "m")
		check := func(what string, print func(float64) string, read func(string) (float64, error), value, step float64) {
			text := print(value)
			got, err := read(text)
			if err != nil || !near(got, value, slack(step)) || print(got) != text {
				t.Errorf("%s(%q) = %v, %v, prints %q; want %v (tol half a step, %v)", what, text, got, err, print(got), value, step/2)
			}
		}
		decimals := 1 / float64(powersOfTen[s.places()])
		unit := 1.0
		if s.System == Imperial {
			unit = float64(Foot)
		}
		r := Reader{Bare: bareOf(s.System == Imperial), Comma: s.Comma}
		check("Elevation", func(f float64) string { return s.Elevation(Elevation(f)) }, func(text string) (float64, error) {
			um, err := r.Coordinate(text)
			return float64(FromMicrometres(um)), err
		}, x, decimals*unit+1e-6)
		check("Station", func(f float64) string { return s.Station(Station(f)) }, func(text string) (float64, error) {
			st, err := r.Station(text)
			return float64(st), err
		}, x, decimals*unit)
		check("Grade", func(f float64) string { return s.Grade(Grade(f)) }, func(text string) (float64, error) {
			g, err := r.Slope(text)
			return float64(g.Grade()), err
		}, x/1e4, 1e-5)
		check("Bearing", func(f float64) string { return s.Bearing(Angle(f)) }, func(text string) (float64, error) {
			a, err := r.Bearing(text)
			return float64(a), err
		}, math.Abs(x)/1e4*6, float64(ArcSecond))
		step := map[Face]float64{FaceMetric: 0.001, FaceTenths: 0.01 * float64(Foot), FaceInches: float64(Inch) / 8}[s.Face]
		if s.Fraction > 0 && s.Face == FaceInches {
			step = float64(Inch) / float64(s.Fraction)
		}
		rod := Reader{Bare: bareOf(s.Face != FaceMetric), Comma: s.Comma}
		check("Reading", func(f float64) string { return s.Reading(Reading(f)) }, func(text string) (float64, error) {
			l, err := rod.Length(text)
			return float64(l), err
		}, x/1e3, step)
	})
}

// TestStepsIsNearest: the whole number nearest to the exact binary value, but
// for the tie rule; checked by big.Rat.
func TestStepsIsNearest(t *testing.T) {
	most := new(big.Rat).SetFloat64(0.5 + tie)
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-1e9, 1e9).Draw(t, "x")
		n, ok := steps(x)
		off := new(big.Rat).SetFloat64(x)
		off.Sub(off, big.NewRat(n, 1))
		if !ok || off.Abs(off).Cmp(most) > 0 {
			t.Errorf("steps(%v) = %d, %v, off by %v", x, n, ok, off.FloatString(9))
		}
		if back, _ := steps(-x); back != -n {
			t.Errorf("steps(%v) = %d, want %d", -x, back, -n)
		}
	})
	for x, want := range map[float64]int64{0.5: 1, -0.5: -1, 2.5: 3, 0.4999995: 1, 0.49999: 0, 12.499999999: 13} {
		if n, ok := steps(x); !ok || n != want {
			t.Errorf("steps(%v) = %d, want %d", x, n, want)
		}
	}
}
