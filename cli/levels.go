package cli

import (
	"os"
	"slices"
	"strings"

	"spadework/engine/job"
	"spadework/engine/level"
	"spadework/engine/phrase"
	"spadework/engine/unit"
	"spadework/exchange"
	"spadework/sheet"
)

// levelsCommand reduces level notes or adjusts a network of differences.
type levelsCommand struct {
	Notes string   `arg:"" help:"${help_notes}"`
	Units string   `help:"${help_units}" enum:"ft,m" default:"m"`
	Rule  string   `help:"${help_rule}" placeholder:"RULE"`
	By    string   `help:"${help_by}" enum:"setup,distance" default:"setup"`
	Fix   []string `help:"${help_fix}" placeholder:"POINT=HEIGHT"`
	Alpha float64  `help:"${help_alpha}" default:"0.001"`
}

// Run prints the reduced book or the adjusted network. The status is 1 where a
// run or a loop breaks the rule or a difference is flagged.
func (c *levelsCommand) Run(a *app) error {
	data, err := os.ReadFile(c.Notes)
	if err != nil {
		return fileFault(c.Notes, err)
	}
	rows, fault := exchange.ReadTable(c.Notes, data)
	if fault != nil {
		return fault
	}
	bare, v := standAlone(a, c.Units)
	if exchange.IsNetwork(rows) {
		return c.network(a, v, rows, bare)
	}
	return c.book(a, v, rows, bare)
}

// book reduces, adjusts and judges one run.
func (c *levelsCommand) book(a *app, v sheet.View, rows *job.Rows, bare unit.Scale) error {
	run, fault := exchange.ReadLevelRun(rows, bare)
	if fault == nil && len(c.Fix) > 0 {
		fault = phrase.NewFault(phrase.New("cli.fix_book"), phrase.New("cli.fix_book.remedy"))
	}
	if fault != nil {
		return styled{fault, v.Language, v.Style}
	}
	r, err := level.Reduce(run)
	if err != nil {
		return styled{err, v.Language, v.Style}
	}
	if r.Closes {
		method := level.BySetup
		if c.By == "distance" {
			method = level.ByDistance
		}
		if r, err = r.Adjust(method); err != nil {
			return styled{err, v.Language, v.Style}
		}
	}
	verdict, err := c.judge(r)
	if err != nil {
		return styled{err, v.Language, v.Style}
	}
	a.print(sheet.LevelBook(v, run, r, verdict))
	if verdict != nil && !verdict.Within {
		return errOut
	}
	return nil
}

// judge holds a run to the rule asked for, nil for none.
func (c *levelsCommand) judge(r *level.Reduction) (*level.Verdict, error) {
	if c.Rule == "" {
		return nil, nil
	}
	rule, err := level.ParseRule(c.Rule)
	if err != nil {
		return nil, err
	}
	verdict, err := rule.Judge(r)
	if err != nil {
		return nil, err
	}
	return &verdict, nil
}

// network adjusts differences by least squares.
func (c *levelsCommand) network(a *app, v sheet.View, rows *job.Rows, bare unit.Scale) error {
	differences, fault := exchange.ReadDifferences(rows, bare)
	if fault != nil {
		return styled{fault, v.Language, v.Style}
	}
	n := level.Network{Differences: differences, Alpha: c.Alpha}
	for _, text := range c.Fix {
		mark, err := fixedPoint(text, bare)
		if err != nil {
			return styled{err, v.Language, v.Style}
		}
		n.Fixed = append(n.Fixed, mark)
	}
	adjusted, err := n.Adjust()
	if err != nil {
		return styled{err, v.Language, v.Style}
	}
	loops, err := c.judgeLoops(n)
	if err != nil {
		return styled{err, v.Language, v.Style}
	}
	a.print(sheet.LevelNetwork(v, n, adjusted, loops))
	if slices.ContainsFunc(adjusted.Residuals, func(r level.Residual) bool { return r.Blunder }) ||
		slices.ContainsFunc(loops, func(l sheet.JudgedLoop) bool { return !l.Verdict.Within }) {
		return errOut
	}
	return nil
}

// judgeLoops holds every loop of a network, and every way between two known
// points, to the rule asked for; none without a rule.
func (c *levelsCommand) judgeLoops(n level.Network) ([]sheet.JudgedLoop, error) {
	if c.Rule == "" {
		return nil, nil
	}
	rule, err := level.ParseRule(c.Rule)
	if err != nil {
		return nil, err
	}
	loops, err := n.Loops()
	if err != nil {
		return nil, err
	}
	var out []sheet.JudgedLoop
	for _, l := range loops {
		verdict, err := rule.JudgeLoop(l)
		if err != nil {
			return nil, err
		}
		out = append(out, sheet.JudgedLoop{Loop: l, Verdict: verdict})
	}
	return out, nil
}

// fixedPoint reads POINT=HEIGHT.
func fixedPoint(text string, bare unit.Scale) (level.Mark, error) {
	point, height, ok := strings.Cut(text, "=")
	if !ok || point == "" {
		return level.Mark{}, phrase.NewFault(phrase.New("cli.fix", phrase.With("value", text)), phrase.New("cli.fix.remedy"))
	}
	z, err := unit.ParseLength(height, bare)
	if err != nil {
		return level.Mark{}, flagFault("--fix", err)
	}
	return level.Mark{Point: point, Elevation: unit.Elevation(z)}, nil
}
