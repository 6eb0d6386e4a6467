package unit

import (
	"fmt"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// written is a text and its exact value in metres by big.Rat.
type written struct {
	text  string
	exact *big.Rat
}

// drawWritten writes a decimal or a mixed number in one of the units, long
// enough at times to leave 64 bits.
func drawWritten(t *rapid.T) written {
	unit := rapid.SampledFrom([]lengthUnit{kilometres, metres, decimetres, centimetres, millimetres, yards, feet, inches,
		surveyFeet}).Draw(t, "unit")
	neg := rapid.Bool().Draw(t, "negative")
	var text string
	value := new(big.Rat)
	if rapid.Bool().Draw(t, "decimal") {
		text = fmt.Sprintf("%d.%s", rapid.IntRange(0, 9_999).Draw(t, "whole"), rapid.StringMatching(`[0-9]{1,14}`).Draw(t, "part"))
		value.SetString(text)
	} else {
		whole, den := rapid.Int64Range(0, 9_999).Draw(t, "whole"), rapid.Int64Range(2, 9).Draw(t, "den")
		num := rapid.Int64Range(1, den-1).Draw(t, "num")
		text = fmt.Sprintf("%d %d/%d", whole, num, den)
		value.Add(big.NewRat(whole, 1), big.NewRat(num, den))
	}
	if neg {
		text = "-" + text
		value.Neg(value)
	}
	size := new(big.Rat).SetFrac64(int64(unit.size.num), int64(unit.size.den))
	return written{text + " " + unit.name, value.Mul(value, size)}
}

// TestLengthIsNearest: the float64 nearest to the exact value, by big.Rat.
func TestLengthIsNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWritten(t)
		want, _ := w.exact.Float64()
		got, err := ParseLength(w.text, Metres)
		if w.exact.Cmp(big.NewRat(1e7, 1)) > 0 || w.exact.Cmp(big.NewRat(-1e7, 1)) < 0 {
			if err == nil {
				t.Errorf("ParseLength(%q) = %v, want too large", w.text, float64(got))
			}
			return
		}
		if err != nil || float64(got) != want {
			t.Errorf("ParseLength(%q) = %v, %v, want %v", w.text, float64(got), err, want)
		}
	})
}

// TestCoordinateIsNearest: ⌊10⁶·x + ½⌋ of the absolute value, by big.Int.
func TestCoordinateIsNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWritten(t)
		got, err := ParseCoordinate(w.text, Metres)
		if err != nil {
			return // too large, tested above
		}
		v := new(big.Rat).Abs(w.exact)
		v.Mul(v, big.NewRat(1e6, 1)).Add(v, big.NewRat(1, 2))
		want := new(big.Int).Quo(v.Num(), v.Denom()).Int64() * int64(w.exact.Sign())
		if got != want {
			t.Errorf("ParseCoordinate(%q) = %d µm, want %d µm", w.text, got, want)
		}
	})
}

// TestExactLeaves64Bits pins texts that the fast path cannot hold.
func TestExactLeaves64Bits(t *testing.T) {
	for _, text := range []string{"0.30480000000000001", "0.000000000000000000000000123", "9999999.12345678901",
		"123456.789012345678 us_survey_ft"} {
		figure, isSurvey := strings.CutSuffix(text, " us_survey_ft")
		v, ok := new(big.Rat).SetString(figure)
		if !ok {
			t.Fatal(text)
		}
		if isSurvey {
			v.Mul(v, big.NewRat(1200, 3937))
		}
		want, _ := v.Float64()
		if got, err := ParseLength(text, Metres); err != nil || float64(got) != want {
			t.Errorf("ParseLength(%q) = %v, %v, want %v", text, float64(got), err, want)
		}
	}
}
