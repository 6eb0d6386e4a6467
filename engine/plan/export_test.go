package plan

// Measure works the quantities and heaps of a plan out anew, for the benchmark.
func (p *Plan) Measure() {
	p.excavate()
	p.placeHeaps()
}
