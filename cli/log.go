package cli

import (
	"crypto/rand"
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"spadework/engine/phrase"
	"spadework/engine/plan"
	"spadework/engine/record"
	"spadework/engine/safety"
	"spadework/sheet"
)

// logCommand lists, adds to or verifies the log of a job.
type logCommand struct {
	jobArgument
	Action string   `arg:"" optional:"" help:"${help_log_action}"`
	Kind   string   `arg:"" optional:"" help:"${help_log_kind}"`
	Words  []string `arg:"" optional:"" help:"${help_log_words}"`

	JSON    bool     `name:"json" help:"${help_log_json}"`
	Device  string   `help:"${help_device}" default:"command line"`
	Person  string   `help:"${help_person}"`
	At      string   `help:"${help_log_at}" placeholder:"TIME"`
	Foreman []string `help:"${help_foreman}"`
}

// Run lists the records, or adds one, or walks the chains. The status of verify
// is 1 where a chain has a break.
func (c *logCommand) Run(a *app) error {
	switch c.Action {
	case "", "list":
		return c.list(a)
	case "add":
		return c.add(a)
	case "verify":
		return c.verify(a)
	}
	return phrase.NewFault(phrase.New("cli.log_action", phrase.With("value", c.Action)), phrase.New("cli.log_action.remedy"))
}

// loadLog plans a job and replays its log; a torn end is told.
func (a *app) loadLog(j jobArgument, foremen []string) (*plan.Plan, sheet.View, *record.State, error) {
	p, v, err := a.loadPlan(j)
	if err != nil {
		return nil, v, nil, err
	}
	log, err := readLog(logPath(j.path()))
	if err != nil {
		return nil, v, nil, styled{err, v.Language, v.Style}
	}
	a.tellTorn(v, log)
	return p, v, record.Replay(record.Input{Records: log.records, Foremen: foremen}), nil
}

func (a *app) tellTorn(v sheet.View, log *logFile) {
	if len(log.torn) > 0 {
		f := tornFault(log.path, log.torn)
		fmt.Fprintf(a.Err, "spadework: %s\n%s: %s\n", v.Say(f.What), v.Text("cli.hint"), v.Say(f.Remedy))
	}
}

func (c *logCommand) list(a *app) error {
	p, v, st, err := a.loadLog(c.jobArgument, c.Foreman)
	if err != nil {
		return err
	}
	if c.JSON {
		out, err := json.Marshal(st)
		if err != nil {
			return err
		}
		a.println(string(out))
		return nil
	}
	a.print(sheet.Log(p, v, st))
	return nil
}

func (c *logCommand) verify(a *app) error {
	_, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	log, err := readLog(logPath(c.path()))
	if err != nil {
		return styled{err, v.Language, v.Style}
	}
	a.tellTorn(v, log)
	chains := record.Verify(log.records)
	a.print(sheet.Chains(v, chains))
	for _, chain := range chains {
		if len(chain.Breaks) > 0 {
			return errOut
		}
	}
	return nil
}

// add makes one record from what was said and writes it at the end.
func (c *logCommand) add(a *app) error {
	p, v, err := a.loadPlan(c.jobArgument)
	if err != nil {
		return err
	}
	r, err := c.addTo(a, p, v)
	if err != nil {
		return styled{err, v.Language, v.Style}
	}
	a.println(v.Text("cli.log_added", phrase.With("kind", phrase.New(phrase.Key("sheet.kind_"+string(r.Kind())))),
		phrase.With("id", r.ID.String()), phrase.With("count", int(r.Seq)), phrase.With("device", r.Device)))
	return nil
}

func (c *logCommand) addTo(a *app, p *plan.Plan, v sheet.View) (record.Record, error) {
	now, err := c.time()
	if err != nil {
		return record.Record{}, err
	}
	if c.Person == "" {
		return record.Record{}, phrase.NewFault(phrase.New("cli.log_person"), phrase.New("cli.log_person.remedy"))
	}
	log, file, err := openLog(logPath(c.path()))
	if err != nil {
		return record.Record{}, err
	}
	defer file.Close()
	a.tellTorn(v, log)
	st := record.Replay(record.Input{Records: log.records, Foremen: c.Foreman})
	payload, err := c.payload(p, st, stampOf(now))
	if err != nil {
		return record.Record{}, err
	}
	d := record.Draft{Job: c.jobID(log), Device: c.Device, Person: c.Person, Revision: p.Job.Revision, Time: stampOf(now), Payload: payload}
	var head record.Head
	head, d.Seen = record.Heads(log.records, c.Device)
	var random [10]byte
	rand.Read(random[:]) // never fails (crypto/rand)
	r, _, f := head.Next(d, now.UnixMilli(), random)
	if f != nil {
		return record.Record{}, f
	}
	return r, appendRecord(file, log.path, r)
}

// payload composes what was said; a shot from inside a hole waits for the
// competent person's entry of the day.
func (c *logCommand) payload(p *plan.Plan, st *record.State, now record.Stamp) (record.Payload, error) {
	var words []record.Word
	for _, w := range c.Words {
		key, text, ok := strings.Cut(w, "=")
		if !ok {
			return nil, phrase.NewFault(phrase.New("cli.log_word", phrase.With("value", w)), phrase.New("cli.log_word.remedy"))
		}
		words = append(words, record.Word{Key: key, Text: text})
	}
	if record.Members(record.Kind(c.Kind)) == nil {
		return nil, phrase.NewFault(phrase.New("cli.log_no_kind", phrase.With("value", c.Kind)), phrase.New("cli.log_no_kind.remedy", phrase.With("kinds", record.Kinds())))
	}
	payload, f := record.Composer{Plan: p, State: st, Now: now, Comma: p.Job.Style.Comma}.Compose(record.Kind(c.Kind), words)
	if f != nil {
		return nil, f
	}
	if shot, ok := payload.(*record.CheckShot); ok && shot.From == record.FromHole {
		if ok, why := holeAllowed(p, st, shot.Excavation, now.Date()); !ok {
			return nil, phrase.NewFault(why, phrase.New("cli.log_hole.remedy"))
		}
	}
	return payload, nil
}

// holeAllowed asks the safety rules for a shot from inside a hole.
func holeAllowed(p *plan.Plan, st *record.State, dig, today string) (bool, phrase.Message) {
	return safety.InHoleShotAllowed(safety.InHole{
		Dig: dig, Findings: p.Findings, Entries: st.StandingEntries(),
		Watchman: safety.Watchman{Competent: p.Job.Rules.CompetentPerson, Today: today},
	})
}

// time is the clock, or what --at says it was.
func (c *logCommand) time() (time.Time, error) {
	if c.At == "" {
		return time.Now(), nil
	}
	t, err := time.Parse(time.RFC3339, c.At)
	if err != nil {
		return t, phrase.NewFault(phrase.New("cli.log_at", phrase.With("value", c.At)), phrase.New("cli.log_at.remedy"))
	}
	return t, nil
}

func stampOf(t time.Time) record.Stamp {
	_, seconds := t.Zone()
	return record.Stamp{Millis: t.UnixMilli(), Offset: seconds / 60}
}

// jobID names the job in its log: as the log does already, else the folder of a
// job.toml or the file's name.
func (c *logCommand) jobID(log *logFile) string {
	if len(log.records) > 0 {
		return log.records[0].Job
	}
	path, err := filepath.Abs(c.path())
	if err != nil {
		path = c.path()
	}
	name := strings.TrimSuffix(filepath.Base(path), ".toml")
	if filepath.Base(path) == jobName {
		name = filepath.Base(filepath.Dir(path))
	}
	return name
}
