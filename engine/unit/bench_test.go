package unit

import "testing"

// BenchmarkParseLength: what most figures of a job are must not allocate.
func BenchmarkParseLength(b *testing.B) {
	for _, text := range []string{"104.5", "16 in", `2'-4 1/2"`, "410 mm", "⅜″"} {
		b.Run(text, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := ParseLength(text, Feet); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkParseCoordinate(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ParseCoordinate("2457102.345", SurveyFeet); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkStyleLength(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		_ = feetEighths.Length(0.7239)
	}
}

// TestFiguresDoNotAllocate pins the fast paths.
func TestFiguresDoNotAllocate(t *testing.T) {
	for _, text := range []string{"104.5", "-2457102.345", "16 in", `2'-4 1/2"`, "410 mm"} {
		n := testing.AllocsPerRun(100, func() {
			if _, err := ParseLength(text, Feet); err != nil {
				t.Fatal(err)
			}
			if _, err := ParseCoordinate(text, Feet); err != nil {
				t.Fatal(err)
			}
		})
		if !(n == 0) {
			t.Errorf("ParseLength and ParseCoordinate(%q) allocate %v times, want 0", text, n)
		}
	}
}
