package sheet

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"spadework/engine/draw"
)

// TestWrappedLinesFitAndLoseNothing is the law of a paragraph.
func TestWrappedLinesFitAndLoseNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[A-Za-z0-9ñé'"/ ]{0,80}`).Draw(t, "text")
		width := rapid.Float64Range(4, 60).Draw(t, "width")
		var joined strings.Builder
		for _, line := range wrapped(draw.Body, 3, text, width) {
			if w := draw.Width(draw.Body, 3, line); w > width+hair && len([]rune(line)) > 1 {
				t.Fatalf("line %q is %.2f wide, want at most %.2f", line, w, width)
			}
			joined.WriteString(line)
		}
		plain := func(s string) string { return strings.NewReplacer(" ", "", noBreak, "").Replace(s) }
		if plain(joined.String()) != plain(text) {
			t.Fatalf("%q is broken into %q", text, joined.String())
		}
	})
}

func TestClippedTextsTellThatTheyAre(t *testing.T) {
	if got := clipped(draw.Body, 3, "short", 50); got != "short" {
		t.Errorf("clipped = %q, want it whole", got)
	}
	got := clipped(draw.Body, 3, "a name too long for its box", 20)
	if !strings.HasSuffix(got, "…") || draw.Width(draw.Body, 3, got) > 20 {
		t.Errorf("clipped = %q, want an … inside 20 mm", got)
	}
}

// TestAFractionIsNeverReadAsAnotherNumber: stacked at 60 % or more of the
// figure's height, with a clear gap before it.
func TestAFractionIsNeverReadAsAnotherNumber(t *testing.T) {
	c := newColumn(View{}, 0, 100)
	c.bigNumber(draw.Strong, 15, 100, `7'-1 1/2"`)
	var whole, over, under draw.Item
	for _, it := range c.Items {
		switch it.Text {
		case "7'-1":
			whole = it
		case "1":
			over = it
		case "2":
			under = it
		}
	}
	if !(over.Size >= 0.6*whole.Size && under.Size >= 0.6*whole.Size && over.Size > 0) {
		t.Fatalf("sizes %g, %g, %g: want the fraction at 60 %% or more", whole.Size, over.Size, under.Size)
	}
	end := whole.Points[0].X + draw.Width(draw.Strong, whole.Size, whole.Text)
	if gap := inkBox(over).Min.X - end; !(gap >= 0.15*whole.Size) {
		t.Errorf("gap of %.2f mm before the fraction, want at least %.2f", gap, 0.15*whole.Size)
	}
	if inkBox(over).Meets(inkBox(under)) {
		t.Error("numerator and denominator touch")
	}
	for text, want := range map[string]bigNumber{`10'-1"`: {before: `10'-1"`}, "2,118": {before: "2,118"}, `3/8"`: {"", "3", "8", `"`}, "7'-1\u00a01/2\"": {"7'-1", "1", "2", `"`}} {
		if got := readBig(text); got != want {
			t.Errorf("readBig(%q) = %+v, want %+v", text, got, want)
		}
	}
}
