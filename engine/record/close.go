package record

// OnMark and OnBenchmark are what a close reads.
const (
	OnBenchmark = "benchmark"
	OnMark      = "mark"
)

var closeOn = []string{OnBenchmark, OnMark}

// Close is the rod read back on a hard point, or the receiver on a beam mark.
type Close struct {
	Setup ID
	On    string
	Point string // the benchmark or the mark
	ProofReading
}

// Kind is KindClose.
func (*Close) Kind() Kind { return KindClose }

// Names is the set-up.
func (c *Close) Names() []ID { return []ID{c.Setup} }

func (c *Close) walk(f *fields) {
	f.id("setup", &c.Setup)
	f.choice("on", &c.On, closeOn)
	f.name("point", &c.Point)
	c.ProofReading.walk(f)
}
