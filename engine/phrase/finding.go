package phrase

// Severity sorts findings.
type Severity string

// The severities: something to know, something to be careful of, something
// that stops work until the person named decides.
const (
	Note    Severity = "note"
	Caution Severity = "caution"
	Stop    Severity = "stop"
)

// Where says what a finding is about. Zero parts are left out.
type Where struct {
	Excavation string
	Part       string
	Stand      string
	Heap       string
	Setup      string
	At         *[2]float64 // job coordinates, metres east and north
}

// Finding is a judgement of the plan or the record: what is so, where, by which
// rule, what to do and who decides. A finding never changes a plan.
type Finding struct {
	Rule     string // stable id: "no_tolerance", "protection_depth"
	Severity Severity
	Where    Where
	What     Message
	Measured any    // a unit quantity or int, nil where there is none
	Limit    any    // likewise
	Clause   string // of the rule's source, "" where there is none
	Remedy   Message
	Decides  Message // who decides: foreman, competent person, engineer …
}
