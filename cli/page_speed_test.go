package cli

import (
	"context"
	"os"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// TestTimeToTheNumber tells how long a phone waits for its number, at a quarter
// of this machine's speed; SPADEWORK_LONG=1 runs it. It holds what is shown, not
// how fast: speed is told in docs/benchmarks.md.
func TestTimeToTheNumber(t *testing.T) {
	if os.Getenv("SPADEWORK_LONG") != "1" {
		t.Skip("SPADEWORK_LONG=1 measures")
	}
	p := openPhone(t)
	p.isCalled("Ines")
	p.opens("/setup")
	p.sees("Set up")
	for name, text := range map[string]string{"tag": "S1", "east": "90", "north": "30", "reading": "6'-2\""} {
		p.fills(name, text)
	}
	p.taps("Work it out", "The laser stands, keep S1")
	p.sees("S1 has its numbers")
	p.opens("/dig/P2/S1")
	p.sees("check every corner")
	p.opens("/me")
	p.sees("ready to work offline")
	p.opens("/dig/P2/S1")
	p.sees("check every corner")
	if _, err := chromedp.Run(p.ctx, func(ctx context.Context, _ *chromedp.Target) (chromedp.Void, error) {
		_, err := chromedp.Call(ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4})
		return chromedp.Void{}, err
	}); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		start := time.Now()
		p.do(chromedp.Reload())
		for evaluated[bool](p, `!document.querySelector('.number.large.live')`) {
			time.Sleep(5 * time.Millisecond)
		}
		stored := time.Since(start)
		for evaluated[bool](p, `!document.querySelector('.points')`) {
			time.Sleep(5 * time.Millisecond)
		}
		t.Logf("number from what is kept after %v, from the engine after %v", stored.Round(time.Millisecond), time.Since(start).Round(time.Millisecond))
	}
}
