package safety

import (
	"slices"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Findings judges the facts by the rules: digs, footings, services, overhead
// lines, heaps, stands, crossings and lasers in the order given, then the site.
// What is not known is a finding of its own, "missing_…", and is taken at its
// worst: where a rule cannot be judged for want of a figure, the missing figure
// has that rule's severity and clause. A book of NoSet gives one finding, that
// nothing was judged.
func Findings(b Book, f Facts) []phrase.Finding {
	if b.Set() == NoSet {
		return []phrase.Finding{{
			Rule: "no_rules", Severity: phrase.Stop, What: phrase.New("safety.no_rules"),
			Remedy: phrase.New("safety.no_rules.remedy"), Decides: phrase.New("who.competent_person"),
		}}
	}
	j := &judge{book: b, facts: f, out: slices.Grow([]phrase.Finding(nil), len(f.Digs))} // most want something
	for _, d := range f.Digs {
		j.dig(d)
	}
	for _, x := range f.Footings {
		j.footing(x)
	}
	for _, s := range f.Services {
		j.service(s)
	}
	for _, o := range f.Overheads {
		j.overhead(o)
	}
	j.edges()
	for _, c := range f.Crossings {
		j.crossing(c)
	}
	for _, l := range f.Lasers {
		j.laser(l)
	}
	j.site()
	j.rules()
	return j.out
}

// judge gathers findings.
type judge struct {
	book  Book
	facts Facts
	out   []phrase.Finding
}

// args are the arguments of a text.
type args = []phrase.Arg

// verdict is a finding before its rule fills in the rest.
type verdict struct {
	rule     string
	key      string // of the text, "" that of the rule
	where    phrase.Where
	severity phrase.Severity // "" that of the rule
	measured any
	limit    any // nil the rule's own
	args     args
}

// breach adds the finding of a rule; of one that is off, a note that says so.
func (j *judge) breach(v verdict) {
	r := j.book.rule(v.rule)
	if !r.On {
		about := args{phrase.With("rule", r.ID), phrase.With("about", r.About())}
		j.out = append(j.out, phrase.Finding{
			Rule: r.ID, Severity: phrase.Note, Where: v.where, Clause: r.Clause, Measured: v.measured,
			What: phrase.New("safety.off", about...), Remedy: phrase.New("safety.off.remedy", about...), Decides: r.decides(),
		})
		return
	}
	f := v.finding(r, orElse(v.key, v.rule))
	f.Rule, f.Measured, f.Limit = r.ID, v.measured, v.limit
	if f.Limit == nil {
		f.Limit = r.Limit.Quantity()
	}
	j.out = append(j.out, f)
}

// missing adds the finding that something is not known. The rule whose clause
// and severity it takes may be "".
func (j *judge) missing(kind string, v verdict) {
	r := Rule{Severity: phrase.Caution, Decides: "foreman"}
	if v.rule != "" {
		r = j.book.rule(v.rule)
		if !r.On {
			return
		}
	}
	f := v.finding(r, "missing."+kind)
	f.Rule = "missing_" + kind
	j.out = append(j.out, f)
}

// finding is what breach and missing have in common.
func (v verdict) finding(r Rule, key string) phrase.Finding {
	k := phrase.Key("safety." + key)
	return phrase.Finding{
		Severity: phrase.Severity(orElse(string(v.severity), string(r.Severity))), Where: v.where,
		What: r.doubted(phrase.New(k, v.args...)), Clause: r.Clause,
		Remedy: phrase.New(k+".remedy", v.args...), Decides: r.decides(),
	}
}

// doubted is a text with how well its rule is known, nothing for a rule that
// was read.
func (r Rule) doubted(what phrase.Message) phrase.Message {
	switch {
	case r.ID == "" || r.Mark == Read && !r.Borrowed:
		return what
	case r.Mark == Read:
		return phrase.New("safety.borrowed_rule", phrase.With("what", what))
	case r.Mark == Stated:
		return phrase.New("safety.by_job", phrase.With("what", what), phrase.With("source", r.Source))
	}
	return phrase.New("safety.unchecked", phrase.With("what", what), phrase.With("mark", r.Mark.Words()))
}

// duty judges a duty without a figure: kept, not kept, or not known.
func (j *judge) duty(rule string, kept Answer, v verdict) {
	v.rule = rule
	switch kept {
	case Yes:
	case No:
		j.breach(v)
	default:
		j.missing(rule, v)
	}
}

// site judges what belongs to no one dig.
func (j *judge) site() {
	if len(j.facts.Digs) == 0 {
		return
	}
	if j.facts.Competent == "" {
		j.missing("competent_person", verdict{rule: "inspection", severity: phrase.Stop})
	}
	if _, ok := readDate(j.facts.Today); !ok {
		j.missing("today", verdict{})
	}
	j.unseen("inspection", func(d Dig) bool { return d.entered() })
	j.unseen("cave_in_look", j.looked)
	j.locate()
	note := verdict{severity: phrase.Note}
	for _, d := range []struct {
		rule string
		kept Answer
	}{
		{"encumbrances", j.facts.Duties.Encumbrances}, {"vests", j.facts.Duties.Vests},
		{"nobody_under", j.facts.Duties.NobodyUnder},
	} {
		if d.kept == No {
			j.duty(d.rule, d.kept, verdict{})
			continue
		}
		j.duty(d.rule, d.kept, note)
	}
}

// unseen tells the digs of a kind that the named competent person has not
// looked at today, in one finding.
func (j *judge) unseen(rule string, kind func(Dig) bool) {
	var digs []string
	for _, d := range j.facts.Digs {
		if kind(d) && !j.inspected(d.ID) {
			digs = append(digs, d.ID)
		}
	}
	if len(digs) == 0 {
		return
	}
	v := verdict{rule: rule, args: args{phrase.With("digs", digs), phrase.With("count", len(digs)),
		phrase.With("depth", j.book.rule("protection_depth").Limit.Length())}}
	if len(digs) == 1 {
		v.where.Excavation = digs[0]
	}
	j.breach(v)
}

// inspected says that the named competent person entered today's inspection.
func (j *judge) inspected(dig string) bool {
	w := Watchman{Competent: j.facts.Competent, Today: j.facts.Today, Rain: j.facts.Rain}
	return slices.ContainsFunc(j.facts.Entries, func(e Entry) bool { return e.inspects(dig) && w.refuses(e).IsZero() })
}

// rules tells what the rules themselves leave open.
func (j *judge) rules() {
	borrowed := 0
	var off []string
	own := compose(j.book.set)
	for _, r := range j.book.rules {
		switch {
		case !r.On:
			off = append(off, r.ID)
		case r.Borrowed:
			borrowed++
		}
		if was := own.rule(r.ID); r.Mark == Stated && r.Weaker(was) {
			j.weaker(r, was)
		}
	}
	if len(off) > 0 {
		j.note("rules_off", phrase.Note, phrase.With("rules", off), phrase.With("count", len(off)))
	}
	if borrowed > 0 {
		j.note("borrowed", phrase.Caution, phrase.With("set", j.book.set), phrase.With("count", borrowed))
	}
}

// note adds a finding about the rules as a whole.
func (j *judge) note(rule string, s phrase.Severity, a ...phrase.Arg) {
	k := phrase.Key("safety." + rule)
	j.out = append(j.out, phrase.Finding{
		Rule: rule, Severity: s, What: phrase.New(k, a...), Remedy: phrase.New(k + ".remedy"), Decides: phrase.New("who.competent_person"),
	})
}

// weaker tells that a job lets more pass than the rule it overrides.
func (j *judge) weaker(r, was Rule) {
	about := args{phrase.With("rule", r.ID), phrase.With("about", r.About()), phrase.With("source", r.Source)}
	j.out = append(j.out, phrase.Finding{
		Rule: r.ID, Severity: phrase.Caution, Clause: r.Clause, Measured: r.Limit.Quantity(), Limit: was.Limit.Quantity(),
		What: phrase.New("safety.weaker", about...), Remedy: phrase.New("safety.weaker.remedy", about...), Decides: r.decides(),
	})
}

// orElse is s, or other where s is empty.
func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// length is an argument of a text that may not be known.
func length(name string, l *unit.Length) phrase.Arg { return phrase.With(name, told(l)) }
