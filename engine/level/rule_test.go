package level

import (
	"math"
	"strings"
	"testing"

	"spadework/engine/unit"
)

func TestParseRule(t *testing.T) {
	for _, c := range []struct {
		text  string
		size  unit.Length
		basis Basis
	}{
		{"12 mm √K", 0.012, RootKilometres}, {"12 mm sqrt(K)", 0.012, RootKilometres}, {"12mm*sqrt(km)", 0.012, RootKilometres},
		{"8.4 mm·√K", 0.0084, RootKilometres}, {"8,4 mm √(K)", 0.0084, RootKilometres},
		{"0.05 ft √M", 0.05 * unit.Foot, RootMiles}, {" 0.05 ft sqrt( miles ) ", 0.05 * unit.Foot, RootMiles},
		{"3 mm √n", 0.003, RootSetups}, {"2 mm per set-up", 0.002, PerSetup}, {"0.005 ft per setup", 0.005 * unit.Foot, PerSetup},
		{"10 mm", 0.010, Fixed}, {"0.02 m", 0.02, Fixed}, {"1 cm √K", 0.01, RootKilometres}, {"1 in", unit.Inch, Fixed},
	} {
		r, err := ParseRule(c.text)
		if err != nil || !within(r.Size, c.size, 1e-15) || r.Basis != c.basis {
			t.Errorf("ParseRule(%q) = %v, %v, %v; want %v, %v", c.text, r.Size, r.Basis, err, c.size, c.basis)
		}
		if again, err := ParseRule(r.String()); err != nil || again.Size != r.Size || again.Basis != r.Basis {
			t.Errorf("ParseRule(%q.String()) = %v, %v", c.text, again, err)
		}
	}
}

// badRules are texts that could mean several things or nothing.
var badRules = []string{"", "mm √K", "12", "12 √K", "12 mm √k", "12 mm √m", "12 mm K", "12 mm √", "12 mm sqrt", "12 mm √K √M", "-12 mm √K",
	"0 mm √K", "12 mm √()", "12 mm (K)", "12 mm *", "1.2.3 mm", "1,234.5 mm", ".5 mm", "5. mm", "1e3 mm", "12 miles √K", "12 mm √K/2",
	"2 mm per shot", "∞ mm", "NaN mm √K", "12 MM √K", strings.Repeat("9", 400) + " mm"}

func TestBadRules(t *testing.T) {
	for _, text := range badRules {
		if r, err := ParseRule(text); err == nil {
			t.Errorf("ParseRule(%q) = %v, want a fault", text, r)
		}
	}
}

func FuzzParseRule(f *testing.F) {
	for _, text := range append([]string{"12 mm √K", "0,05 ft sqrt(M)", "2 mm per set-up", "3 in√n"}, badRules...) {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := ParseRule(text)
		if err != nil {
			return
		}
		if !(r.Size > 0) || math.IsInf(float64(r.Size), 0) {
			t.Errorf("ParseRule(%q) has size %v", text, r.Size)
		}
		again, err := ParseRule(r.String())
		if err != nil || again != r {
			t.Errorf("ParseRule(%q) = %v, read again %v, %v", text, r, again, err)
		}
		plain := Rule{Size: r.Size, Basis: r.Basis}
		if back, err := ParseRule(plain.String()); err != nil || back.Basis != r.Basis || !(math.Abs(float64(back.Size/r.Size)-1) < 1e-12) {
			t.Errorf("ParseRule(%q) = %v, %v, want %v", plain.String(), back, err, plain)
		}
	})
}

func rule(t *testing.T, text string) Rule {
	t.Helper()
	r, err := ParseRule(text)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestLimits checks misclosure limits: the loop of Ghilani & Wolf prob. 5.12 over
// 1.5 km, and that 12 mm √K is 0.04994 ft √mi (both read).
func TestLimits(t *testing.T) {
	for _, c := range []struct {
		rule   string
		length unit.Length
		setups int
		want   unit.Length
		tol    unit.Length
	}{
		{"12 mm √K", 1500, 5, 0.01470, 0.000005},
		{"8 mm √K", 1500, 5, 0.00980, 0.000005},
		{"12 mm √K", unit.Mile, 0, 0.04994 * unit.Foot, 0.000005 * unit.Foot},
		{"0.05 ft √M", 4 * unit.Mile, 0, 0.10 * unit.Foot, 1e-12},
		{"8.4 mm √K", 1000, 0, 0.0084, 1e-12}, // second order, US Army EN0593
		{"3 mm √n", 0, 9, 0.009, 1e-12},
		{"2 mm per set-up", 0, 5, 0.010, 1e-12},
		{"10 mm", 0, 0, 0.010, 1e-12},
	} {
		got, err := rule(t, c.rule).Limit(c.length, c.setups)
		if err != nil || !within(got, c.want, c.tol) {
			t.Errorf("%s over %v m, %d set-ups = %v m, %v; want %v m (tol %v: printed digits)", c.rule, c.length, c.setups, got, err, c.want, c.tol)
		}
	}
}

// TestFGCC: the limits of the Federal Geodetic Control Committee for first order
// I and II, second I and II and third, from memory. No name of a class stands for
// a rule: a job that works to one writes it out, with its own source.
func TestFGCC(t *testing.T) {
	for class, mm := range map[string]string{"first I": "4", "first II": "5", "second I": "6", "second II": "8", "third": "12"} {
		v, _ := decimal(mm)
		got, err := rule(t, mm+" mm √K").Limit(4000, 0)
		if err != nil || !within(got, 2*unit.Length(v)*unit.Millimetre, 1e-15) {
			t.Errorf("%s over 4 km = %v m, %v; want 2 × %s mm", class, got, err, mm)
		}
		if r, err := ParseRule(class); err == nil {
			t.Errorf("ParseRule(%q) = %v, want a fault: classes are not rules by default", class, r)
		}
	}
}

// TestJudge checks Ghilani & Wolf prob. 5.12: the loop of 1.5 km passes 12 mm √K
// and fails 8 mm √K.
func TestJudge(t *testing.T) {
	run := closedLoop()
	for i := range run.Lines {
		run.Lines[i].Back.Distance, run.Lines[i].Fore.Distance = 150, 150
	}
	r := reduce(t, run)
	for _, c := range []struct {
		rule string
		want bool
	}{{"12 mm √K", true}, {"8 mm √K", false}, {"2 mm per set-up", true}, {"1.9 mm per set-up", false}, {"10 mm", true}} {
		v, err := rule(t, c.rule).Judge(r)
		if err != nil || v.Within != c.want || !within(v.Misclosure, 0.010, rounding) {
			t.Errorf("%s.Judge(loop) = %v, %v; want within %v", c.rule, v, err, c.want)
		}
	}
	bad := *r
	bad.Misclosure = unit.Length(math.NaN())
	if v, err := rule(t, "10 mm").Judge(&bad); err != nil || v.Within {
		t.Errorf("a misclosure that is not a number = %v, %v; want not within", v, err)
	}
}
