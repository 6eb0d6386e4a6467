package machine

import "testing"

func BenchmarkSpan(b *testing.B) {
	e, _ := small.Envelope()
	for b.Loop() {
		e.Span(1)
	}
}

func BenchmarkColumn(b *testing.B) {
	e, _ := small.Envelope()
	for b.Loop() {
		e.Column(1.4)
	}
}
