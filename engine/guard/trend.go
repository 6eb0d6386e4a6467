package guard

import (
	"cmp"
	"math"
	"slices"

	"spadework/engine/plan"
	"spadework/engine/real"
	"spadework/engine/record"
	"spadework/engine/unit"
	"spadework/engine/watch"
)

// Trend is how a machine and its operator leave bottoms, by the first check shot at
// every point: what the bucket did, before anybody dug on or trimmed. It is told
// against the budget of its numbers; nothing is corrected by it.
type Trend struct {
	Machine  string
	Operator string // of the tie for sensors, else who shot
	Sensors  bool   // the machine's own sensors knew the depth
	Shots    []TrendShot
	Level    // of all of them
	Stands   []Stand

	Budget  unit.Length // standard deviation that the budget gives one shot, the charts' unit
	Ewma    watch.Ewma  // as they stand after the last shot
	Cusum   watch.Cusum
	Signal  int         // last shot at which a chart signalled, −1 none
	High    bool        // there: bottoms are left higher than the budget says
	Cutting unit.Length // bound in [practice], a part of Budget
	Leaves  unit.Length // what the job already says that it leaves, which the shots are told over
}

// Level is bias and spread of some shots.
type Level struct {
	Count  int
	Bias   unit.Length // mean over the height worked to, + high; NaN of none
	Within unit.Length // 95 % of the bias, ±; +Inf under two shots
	Spread unit.Length // standard deviation; NaN under two shots
}

// Stand is the shots of one place of the machine, counted by its moves from 1.
type Stand struct {
	Number int
	Level
}

// TrendShot is a first shot.
type TrendShot struct {
	Record     record.ID
	Excavation string
	Part       string
	Point      string
	Station    *unit.Station
	Stand      int
	Off        unit.Length // over the height worked to, and over what the job says is left
	Z          float64     // in standard deviations of the budget
	Ewma       unit.Length // the chart's mean, in metres
	Signals    bool        // a chart signals here; it starts anew after it
}

// The charts: weight and limit of the moving average, allowance and limit of the
// sums, in standard deviations, such as the books give them for a shift of one
// (D. C. Montgomery, Statistical Quality Control, ch. 9, from memory). RunLengths
// tells what they do.
var (
	trendEwma  = watch.Ewma{Lambda: 0.2, C: 2.86}
	trendCusum = watch.Cusum{K: 0.5, H: 5}
)

// RunLength is what a chart does: shots until it signals, on the average.
type RunLength struct{ Quiet, Shifted float64 } // with nothing wrong; off by one standard deviation

// RunLengths are those of the moving average and of the sums.
func RunLengths() (ewma, cusum RunLength) {
	return RunLength{trendEwma.RunLength(0), trendEwma.RunLength(1)}, RunLength{trendCusum.RunLength(0), trendCusum.RunLength(1)}
}

// Limits are those of the moving average, in metres.
func (t Trend) Limits() []unit.Length {
	l := unit.Length(trendEwma.Limit()) * t.Budget
	return []unit.Length{-l, l}
}

// Trends are those of every machine and operator, by their names.
func Trends(p *plan.Plan, st *record.State) []Trend {
	g := &gatherer{p: p, t: newTimeline(st), seen: map[spot]bool{}, moves: map[string]int{}}
	for i := range st.Log {
		g.take(&st.Log[i])
	}
	slices.SortStableFunc(g.out, func(a, b *Trend) int {
		return cmp.Or(cmp.Compare(a.Machine, b.Machine), cmp.Compare(a.Operator, b.Operator))
	})
	var out []Trend
	for _, t := range g.out {
		t.Cutting = p.Job.Practice.Cutting
		t.chart()
		out = append(out, *t)
	}
	return out
}

// gatherer walks the log.
type gatherer struct {
	p     *plan.Plan
	t     *timeline
	seen  map[spot]bool
	moves map[string]int
	out   []*Trend
}

func (g *gatherer) take(l *record.Line) {
	switch r := l.Payload.(type) {
	case *record.MachineEvent:
		if r.What == record.KindMoved {
			g.moves[r.Machine]++
		}
	case *record.CheckShot:
		if where := spotOf(r); !g.seen[where] && !l.Corrected {
			g.seen[where] = true
			g.shot(l, r)
		}
	}
}

// shot adds a first shot to its trend.
func (g *gatherer) shot(l *record.Line, s *record.CheckShot) {
	machine, operator, tag, sensors := g.dugBy(l, s)
	if machine == "" {
		return
	}
	i := slices.IndexFunc(g.out, func(t *Trend) bool { return t.Machine == machine && t.Operator == operator && t.Sensors == sensors })
	if i < 0 {
		g.out = append(g.out, &Trend{Machine: machine, Operator: operator, Sensors: sensors, Signal: -1, Leaves: g.leaves(machine, sensors)})
		i = len(g.out) - 1
	}
	t := g.out[i]
	aim, sigma := g.expected(s, tag)
	one := TrendShot{Record: l.ID, Excavation: s.Excavation, Part: s.Part, Point: s.Point, Station: s.Station, Stand: g.moves[machine] + 1, Off: s.Deviation() - aim - t.Leaves}
	one.Z = float64(one.Off / sigma)
	t.Shots = append(t.Shots, one)
	t.Budget += sigma * sigma
}

// leaves is what the job says that a machine's sensors leave.
func (g *gatherer) leaves(machine string, sensors bool) unit.Length {
	for _, m := range g.p.Job.Machines {
		if m.ID == machine && sensors {
			return m.Leaves
		}
	}
	return 0
}

// dugBy is the machine that left a bottom, who drove it, and under which tag: of a
// tie its own; else the one that the set-up serves, or the job's only one.
func (g *gatherer) dugBy(l *record.Line, s *record.CheckShot) (machine, operator, tag string, sensors bool) {
	setup := s.Setup
	if at := g.t.line[s.Tie]; at != nil {
		if tie, ok := at.Payload.(*record.Tie); ok {
			machine, operator, setup, sensors = tie.Machine, at.Person, tie.Setup, true
		}
	}
	if at := g.t.line[setup]; at != nil {
		if made, ok := at.Payload.(*record.SetupMade); ok {
			tag = made.Tag
			if machine == "" {
				machine = made.Machine
			}
		}
	}
	if machine == "" && len(g.p.Job.Machines) == 1 {
		machine = g.p.Job.Machines[0].ID
	}
	if operator == "" {
		operator = l.Person
	}
	return machine, operator, tag, sensors
}

// expected is the height over the bottom that the crew worked to, and the standard
// deviation that the budget gives the first pass and the shot apart from the beam,
// which both share.
func (g *gatherer) expected(s *record.CheckShot, tag string) (aim, sigma unit.Length) {
	pr := g.p.Job.Practice
	v := float64(pr.Cutting*pr.Cutting) / 3
	for _, n := range g.p.Numbers {
		if n.Excavation != s.Excavation || n.Setup != tag || !n.Trust.Known {
			continue
		}
		aim = g.p.WorkedTo(n)
		if first := float64(n.Trust.First*n.Trust.First) - float64(n.Trust.Beam*n.Trust.Beam); first > 0 {
			v = first
		}
		break
	}
	return aim, unit.Length(math.Sqrt(v + leastSigma*leastSigma))
}

// chart works out the levels and runs both charts over the shots, in the log's
// order; after a signal both start anew.
func (t *Trend) chart() {
	t.Budget = unit.Length(math.Sqrt(float64(t.Budget) / float64(len(t.Shots))))
	t.Ewma, t.Cusum = trendEwma, trendCusum
	for i := range t.Shots {
		s := &t.Shots[i]
		t.Ewma, t.Cusum = t.Ewma.Add(s.Z), t.Cusum.Add(s.Z)
		s.Ewma = unit.Length(t.Ewma.Mean) * t.Budget
		if s.Signals = t.Ewma.Signals() || t.Cusum.Signals(); s.Signals {
			t.Signal, t.High = i, t.Cusum.Upper > t.Cusum.Lower
			t.Ewma, t.Cusum = trendEwma, trendCusum
		}
	}
	t.Level = levelOf(t.Shots)
	for from := 0; from < len(t.Shots); {
		to := from
		for to < len(t.Shots) && t.Shots[to].Stand == t.Shots[from].Stand {
			to++
		}
		t.Stands = append(t.Stands, Stand{t.Shots[from].Stand, levelOf(t.Shots[from:to])})
		from = to
	}
}

// levelOf is bias and spread of shots.
func levelOf(shots []TrendShot) Level {
	n := float64(len(shots))
	out := Level{Count: len(shots)}
	for _, s := range shots {
		out.Bias += s.Off / unit.Length(n)
	}
	if len(shots) == 0 {
		out.Bias = unit.Length(math.NaN())
	}
	squares := 0.0
	for _, s := range shots {
		squares += float64((s.Off - out.Bias) * (s.Off - out.Bias))
	}
	out.Spread, out.Within = unit.Length(math.NaN()), unit.Length(math.Inf(1))
	if len(shots) > 1 {
		out.Spread = unit.Length(math.Sqrt(squares / (n - 1)))
		out.Within = unit.Length(coverage(len(shots))*float64(out.Spread)) / unit.Length(math.Sqrt(n))
	}
	return out
}

// fewestShots is from how many shots a bias or spread is offered as a correction:
// under five the 95 % of a mean are wider than its spread (table G.2).
const fewestShots = 5

// Biased says that the bias is told from nothing by its shots.
func (l Level) Biased() bool {
	return l.Count >= fewestShots && max(l.Bias, -l.Bias) > l.Within
}

// Spreads says that the spread is told from the budget's by its shots: more, or
// less, by the 95 % limits of a variance (chi-square).
func (t Trend) Spreads() (more, less bool) {
	if t.Count < fewestShots {
		return false, false
	}
	dof := t.Count - 1
	q := float64(dof) * float64(t.Spread*t.Spread) / float64(t.Budget*t.Budget)
	return q > real.ChiSquareLimit(0.025, dof), q < real.ChiSquareLimit(0.975, dof)
}
