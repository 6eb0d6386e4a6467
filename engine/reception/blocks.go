package reception

import "math"

// blockSide is how many cells a block has along each side.
const blockSide = 8

// blocks are cells taken together, with the highest of each block: rays that pass
// over a block leave it out whole.
type blocks struct {
	fine   lattice
	coarse lattice
	tops   []float64 // +Inf where a cell has gaps
}

// block is a block near a ray.
type block struct {
	bound     float64 // what it asks for at most
	line, row int32   // along the ray's axis, and across
}

// cells are cells of one line, first to last by step.
type cells struct{ first, last, step int }

// searched are cells of a lattice that a search looks into.
type searched interface {
	// strip offers the facets of cells that reach up to an elevation.
	strip(r *ray, c cells, limit float64, s *Scratch)
	// size bounds all elevations.
	size() float64
}

func blocksOf(l lattice) blocks {
	b := blocks{fine: l, coarse: l}
	b.coarse.dx, b.coarse.dy = blockSide*l.dx, blockSide*l.dy
	b.coarse.cols, b.coarse.rows = (l.cols+blockSide-1)/blockSide, (l.rows+blockSide-1)/blockSide
	b.tops = make([]float64, b.coarse.cols*b.coarse.rows)
	for i := range b.tops {
		b.tops[i] = math.Inf(-1)
	}
	return b
}

// raise takes the top of a cell into its block.
func (b *blocks) raise(col, row int, top float64) {
	at := &b.tops[row/blockSide*b.coarse.cols+col/blockSide]
	*at = max(*at, top)
}

// raiseNode takes a node into the blocks of the cells around it.
func (b *blocks) raiseNode(col, row int, z float64) {
	for r := max(row-1, 0); r <= min(row, b.fine.rows-1); r++ {
		for c := max(col-1, 0); c <= min(col, b.fine.cols-1); c++ {
			b.raise(c, r, z)
		}
	}
}

// gapsFrom has no block left out that has a cell not marked.
func (b *blocks) gapsFrom(full *marked) {
	for cell := range b.fine.cols * b.fine.rows {
		if !full.has(cell) {
			b.raise(cell%b.fine.cols, cell/b.fine.cols, math.Inf(1))
		}
	}
}

// search offers what lies near a ray, the block that may ask for most first, until
// no block is left that may ask for the floor or the window is shut.
func (b *blocks) search(r *ray, s *Scratch, in searched) {
	s.near = s.near[:0]
	along := b.coarse.corridor(r)
	for st, ok := along.next(); ok; st, ok = along.next() {
		beam := r.least(st.t0, st.t1)
		for k := st.first; k <= st.last; k++ {
			at := st.line*along.lineStep + k*along.cellStep
			bound := b.tops[at] - beam
			bound += s.raised + 8*u*(math.Abs(b.tops[at])+math.Abs(beam)+s.raised)
			if bound >= s.floor {
				s.enter(block{bound, int32(st.line), int32(k)})
			}
		}
	}
	fine := b.fine.corridor(r)
	first, last := fine.line, fine.last
	for _, near := range s.near {
		if s.shut || near.bound < s.floor {
			return
		}
		fine.line, fine.last = max(first, int(near.line)*blockSide), min(last, int(near.line)*blockSide+blockSide-1)
		b.look(r, fine, int(near.row)*blockSide, s, in)
	}
}

// enter puts a block in its place, the highest bound first.
func (s *Scratch) enter(n block) {
	s.near = append(s.near, n)
	i := len(s.near) - 1
	for ; i > 0 && s.near[i-1].bound < n.bound; i-- {
		s.near[i] = s.near[i-1]
	}
	s.near[i] = n
}

// look offers what lies near a ray in the lines of along, of the block that begins
// with a cell of each.
func (b *blocks) look(r *ray, along corridor, from int, s *Scratch, in searched) {
	highest := in.size()
	for st, ok := along.next(); ok; st, ok = along.next() {
		first, last := max(st.first, from), min(st.last, from+blockSide-1)
		if first > last {
			continue
		}
		base := st.line * along.lineStep
		in.strip(r, cells{base + first*along.cellStep, base + last*along.cellStep, along.cellStep},
			s.least(r, st.t0, st.t1, highest), s)
	}
}

// marked is a set of cells; the zero one has all.
type marked struct{ bits []uint64 }

func newMarked(n int) marked { return marked{make([]uint64, (n+63)/64)} }

func (m *marked) add(cell int) { m.bits[cell>>6] |= 1 << (cell & 63) }

func (m *marked) remove(cell int) { m.bits[cell>>6] &^= 1 << (cell & 63) }

func (m *marked) has(cell int) bool { return m.bits == nil || m.bits[cell>>6]>>(cell&63)&1 == 1 }
