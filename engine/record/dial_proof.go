package record

// DialProof is one of the rods on known points that prove a dial.
type DialProof struct {
	Setup ID
	Point string
	ProofReading
}

// Kind is KindDialProof.
func (*DialProof) Kind() Kind { return KindDialProof }

// Names is the set-up.
func (d *DialProof) Names() []ID { return []ID{d.Setup} }

func (d *DialProof) walk(f *fields) {
	f.id("setup", &d.Setup)
	f.name("point", &d.Point)
	d.ProofReading.walk(f)
}
