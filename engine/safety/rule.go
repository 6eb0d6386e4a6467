package safety

import "spadework/engine/phrase"

// Mark says how well a rule's figure is known.
type Mark string

// The marks. Read stood in the source named; SecondHand in a page that quotes
// it; Memory is recalled and off until a job gives a source; Practice is a
// habit of the trade without a clause; Assumed is this program's own worst case
// where nothing is known; Stated is a job's override.
const (
	Read       Mark = "read"
	SecondHand Mark = "second_hand"
	Memory     Mark = "memory"
	Practice   Mark = "practice"
	Assumed    Mark = "assumed"
	Stated     Mark = "job"
)

// Breaks says how a measured value breaks a limit.
type Breaks string

// The comparisons. None is for a duty without a figure.
const (
	AtOrOver Breaks = ">="
	Over     Breaks = ">"
	Under    Breaks = "<"
	None     Breaks = ""
)

// Rule is one line of the rules.
type Rule struct {
	ID       string
	Set      string // the rule set it was written for
	Clause   string
	Title    string // of the document
	Edition  string
	Limit    Limit
	Breaks   Breaks
	Severity phrase.Severity
	Mark     Mark
	Source   string // where the figure stood
	Decides  string // key under "who."
	On       bool   // judged; a memory rule is off until the job gives a source
	Borrowed bool   // of another set than the job's, for want of its own
}

// About says what the rule is about.
func (r Rule) About() phrase.Message { return phrase.New(phrase.Key("safety.about." + r.ID)) }
