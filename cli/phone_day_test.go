package cli

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// setsUp enters the laser set up as S1 where the demo's digs are served, with more
// fields and their texts.
func (p *phone) setsUp(more ...string) {
	p.Helper()
	p.opens("/setup")
	p.sees("I have set the laser somewhere")
	for name, text := range map[string]string{"tag": "S1", "east": "90", "north": "30", "reading": "6'-2\""} {
		p.fills(name, text)
	}
	for i := 0; i+1 < len(more); i += 2 {
		p.fills(more[i], more[i+1])
	}
	p.taps("Work it out", "The laser stands, keep S1")
	p.sees("S1 has its numbers", "Beam marks")
}

// reads enters a rod on a benchmark of the close screen.
func (p *phone) reads(point, reading string) {
	p.Helper()
	p.taps(point)
	p.keys(reading)
	p.taps("OK")
	p.gone("Reading on " + point)
}

// isNoon makes it noon where the phone is, so that hours may pass within a day.
func (p *phone) isNoon() {
	evaluated[bool](p, `(() => {
		const Real = Date;
		globalThis.later = 0;
		const noon = new Real().setHours(12, 0, 0, 0) - Real.now();
		globalThis.Date = class extends Real {
			constructor(...a) { if (a.length) super(...a); else super(Real.now() + noon + globalThis.later); }
			static now() { return Real.now() + noon + globalThis.later; }
		};
		return true })()`)
}

// later lets hours pass.
func (p *phone) later(hours string) { evaluated[float64](p, `globalThis.later += 3600e3 * `+hours) }

// A laser is bumped between two digs. The first bad close takes the numbers and
// asks for the reading again, a slip of a foot is told before it is kept, and the
// second benchmark finds the beam low: nothing is dug on.
func TestPhoneFindsABump(t *testing.T) {
	p := openPhone(t)
	p.isNoon()
	p.isCalled("Ines")
	p.setsUp("reading2", `5'-5 3/4"`)
	p.picture("after")
	p.opens("/dig/P2/S1")
	p.sees("Points of the pattern", "Check S1 by")
	p.taps("Shot", "On")
	p.sees("on grade")
	p.later("1.5")
	p.opens("/close/S1")
	p.sees("the rod should read")
	p.taps("BM1")
	p.keys(`5'-2"`)
	p.taps("OK")
	p.sees("It is off by just 1'-0\"")
	p.picture("slip")
	p.taps("Wrong, read again")
	p.keys(`6'-1 1/4"`)
	p.taps("OK")
	p.sees("S1 has NO NUMBER before a close")
	p.opens("/dig/P2/S1")
	p.sees("No number now")
	p.picture("stopped")
	p.opens("/close/S1")
	p.later("0.02")
	p.reads("BM1", `6'-1 1/4"`)
	p.later("0.1")
	p.reads("BM2", `5'-5"`)
	p.sees("NO NUMBER. The beam moved")
	p.picture("moved")
	p.opens("/dig/P2/S1")
	p.sees("No number now")
	p.lacks("Shot\n")
	p.picture("no-number")
}

// A whole footing is dug without a network; the page is loaded anew and the
// browser killed in between. Nothing that was kept is lost, and all of it is sent
// when the network is back.
func TestPhoneDigsOfflineThroughAKill(t *testing.T) {
	p := openPhone(t)
	p.isCalled("Ines")
	p.setsUp()
	p.opens("/me")
	p.sees("ready to work offline")
	p.opens("/dig/P2/S1")
	p.sees("Points of the pattern")
	p.line.cut(true)
	p.taps("Shot", "High", "1\"")
	p.sees("1\" to dig", "1 waiting")
	p.do(chromedp.Reload())
	p.sees("Points of the pattern", "1 waiting", "no signal")
	p.sees("Which tag is on the laser?")
	p.taps("S1 is on it")
	p.taps("Shot", "On")
	p.sees("on grade", "2 waiting")
	p.killed()
	p.sees("no signal", "2 waiting")
	p.picture("killed")
	p.opens("/dig/P2/S1")
	p.sees("on grade")
	p.taps("Trouble", "Water")
	p.sees("3 waiting")
	p.line.cut(false)
	evaluated[bool](p, `(dispatchEvent(new Event('online')), true)`)
	p.sees("in touch")
	p.gone("waiting")
	p.opens("/")
	p.sees("Last records", "water")
}

// Two phones hold one tag. What one says of the laser takes the number on the
// other.
func TestTwoPhonesOnOneTag(t *testing.T) {
	p := openPhone(t)
	p.isCalled("Ines")
	p.setsUp()
	q := p.another()
	q.sees("Alder Quay boat store")
	q.isCalled("Rosa")
	q.opens("/dig/P2/S1")
	q.sees("Points of the pattern")
	q.taps("S1 is on it")
	q.taps("Shot", "On")
	q.sees("on grade")
	p.opens("/dig/P2/S1")
	p.sees("on grade")
	p.picture("shot-of-the-other")
	q.taps("Trouble", "Laser stopped")
	q.sees("No number now")
	p.sees("No number now")
	p.picture("stopped-by-the-other")
}

// A phone that is nearly full says so before a record is lost, and keeps this one.
func TestPhoneTellsThatItIsFull(t *testing.T) {
	p := openPhone(t)
	p.isCalled("Ines")
	p.opens("/me")
	p.sees("ready to work offline")
	used := evaluated[float64](p, `navigator.storage.estimate().then(e => { globalThis.used = e.usage }), 0`)
	for used == 0 {
		used = evaluated[float64](p, `globalThis.used ?? 0`)
	}
	evaluated[bool](p, `(navigator.storage.estimate = async () => ({quota: globalThis.used + 3e6, usage: globalThis.used}), true)`)
	p.opens("/dig/W1")
	p.taps("Trouble", "Water")
	p.sees("This phone is nearly full")
	p.picture("full")
	p.opens("/")
	p.sees("Last records", "water")
}

// The foreman saves a revision while a shot is entered: the entry stays as it is,
// and what changed is told when it is kept.
func TestRevisionWaitsForAShot(t *testing.T) {
	p := openPhone(t)
	p.isCalled("Ines")
	p.setsUp()
	p.opens("/dig/P2/S1")
	p.sees("Points of the pattern")
	p.taps("Shot", "High")
	p.sees("How much?")
	p.revises("elevation = 104.50", "elevation = 104.75")
	p.sees("It is taken when this entry is kept or cancelled", "How much?")
	p.picture("waits")
	p.taps("1\"")
	p.sees("revision 2")
	p.opens("/")
	p.sees("The foreman changed the job", "the bottom was", "revision 2")
	p.picture("revised")
}

// revises saves a revision of the job with a text of its file changed.
func (p *phone) revises(old, now string) {
	p.Helper()
	script := `(async () => {
		const { jobs } = await (await fetch('/api/jobs')).json();
		const at = '/api/jobs/' + encodeURIComponent(jobs[0].id);
		const job = await (await fetch(at)).json();
		job.bundle.files[job.bundle.main] = job.bundle.files[job.bundle.main].replace(` + quotedJS(old) + `, ` + quotedJS(now) + `);
		const answer = await fetch(at, {method: 'PUT', headers: {'Content-Type': 'application/json', 'If-Match': '"' + job.revision + '"'}, body: JSON.stringify({bundle: job.bundle})});
		globalThis.revised = answer.status + ' ' + await answer.text(); })(), 0`
	evaluated[float64](p, script)
	for range 100 {
		if got := evaluated[string](p, `globalThis.revised ?? ''`); got != "" {
			if !strings.HasPrefix(got, "200") {
				p.Fatalf("the revision is answered %s", got)
			}
			return
		}
	}
}
