package cover

import mathbits "math/bits"

// bits is a set of small integers.
type bits []uint64

// newBits has room for 0 to n−1, none in it.
func newBits(n int) bits { return make(bits, (n+63)/64) }

// fullBits holds 0 to n−1.
func fullBits(n int) bits {
	b := newBits(n)
	for i := range n {
		b.add(i)
	}
	return b
}

func (b bits) has(i int) bool { return b[i>>6]>>(i&63)&1 != 0 }
func (b bits) add(i int)      { b[i>>6] |= 1 << (i & 63) }
func (b bits) drop(i int)     { b[i>>6] &^= 1 << (i & 63) }

// count of members.
func (b bits) count() int {
	n := 0
	for _, w := range b {
		n += mathbits.OnesCount64(w)
	}
	return n
}

// within says whether every member of b that is in mask is in o.
func (b bits) within(o, mask bits) bool {
	for k, w := range b {
		if w&mask[k]&^o[k] != 0 {
			return false
		}
	}
	return true
}

// table has a row of bits for each list, n wide.
func table(lists [][]int32, n int) []bits {
	words := (n + 63) / 64
	all := make(bits, words*len(lists))
	out := make([]bits, len(lists))
	for i, list := range lists {
		out[i], all = all[:words:words], all[words:]
		for _, k := range list {
			out[i].add(int(k))
		}
	}
	return out
}
