package cover

// Notation of dictionary.go and relax.go, after V. Chvátal, "Linear
// Programming" (1983): a dictionary writes the objective z and each basic
// variable as a constant plus a combination of the nonbasic variables,
//
//	z = z₀ + Σ d·nonbasic      xᵣ = βᵣ + Σ aᵣ·nonbasic
//
// Nonbasic variables are columns of the matrix at 0 and slacks of rows that
// bind. All d stay at or above 0, so z₀ bounds the optimum from below.
// Deviations: slacks that are basic have no line; a row is written out only
// when it is violated. A column fixed at 0 or 1 leaves the dictionary.

// dictionary is a dual feasible one.
type dictionary struct {
	z    float64
	d    []float64
	name []int32 // of each nonbasic: column j, or −1−i for the slack of row i
	a    [][]float64
	beta []float64
	base []int32 // column of each line
	at   []int32 // of each column: line r, or −2−c when nonbasic at c, or gone
}

// gone marks a column that is fixed.
const gone = -1

// tiny is the least pivot. Lines are scaled like the rows, whose entries are
// 1; errors of a few hundred pivots stay below it.
const tiny = 1e-7

// newDictionary has every column nonbasic.
func newDictionary(cost []float64) *dictionary {
	t := &dictionary{d: append([]float64(nil), cost...)}
	for j := range cost {
		t.name = append(t.name, int32(j))
		t.at = append(t.at, -2-int32(j))
	}
	return t
}

// copyFrom makes t equal to o, using t's memory.
func (t *dictionary) copyFrom(o *dictionary) {
	t.z = o.z
	t.d = append(t.d[:0], o.d...)
	t.name = append(t.name[:0], o.name...)
	t.beta = append(t.beta[:0], o.beta...)
	t.base = append(t.base[:0], o.base...)
	t.at = append(t.at[:0], o.at...)
	t.resize(len(o.a))
	for r := range o.a {
		t.a[r] = append(t.a[r][:0], o.a[r]...)
	}
}

// resize gives the dictionary n lines of any content, keeping their memory.
func (t *dictionary) resize(n int) {
	for len(t.a) < n {
		if len(t.a) < cap(t.a) {
			t.a = t.a[:len(t.a)+1]
			continue
		}
		t.a = append(t.a, nil)
	}
	t.a = t.a[:n]
}

// work of one pass over the dictionary.
func (t *dictionary) work() int64 { return int64((len(t.a)+1)*len(t.d)) + 1 }

// enter finds the nonbasic that keeps all d at or above 0 when v·nonbasic must
// rise, the ratio test; −1 if nothing can. gain is how much z rises for each
// unit.
func (t *dictionary) enter(v []float64) (c int, gain float64) {
	c = -1
	for k, x := range v {
		if x <= tiny {
			continue
		}
		if r := t.d[k] / x; c < 0 || r < gain || r == gain && x > v[c] {
			c, gain = k, r
		}
	}
	return c, gain
}

// pivot exchanges nonbasic e with the variable name = v0 + v·nonbasic, which
// leaves line from, or −1 if it had none.
func (t *dictionary) pivot(v []float64, v0 float64, e int, name int32, from int) {
	inv := 1 / v[e]
	for c := range v {
		v[c] = float64(-v[c] * inv)
	}
	v[e] = inv
	w0 := float64(-v0 * inv)
	for r, line := range t.a {
		if f := line[e]; r != from && f != 0 {
			line[e] = 0
			axpy(line, v, f)
			t.beta[r] += float64(f * w0)
		}
	}
	f := t.d[e]
	t.d[e] = 0
	axpy(t.d, v, f)
	for c := range t.d {
		t.d[c] = max(t.d[c], 0)
	}
	t.z += float64(f * w0)
	t.exchange(v, w0, e, name, from)
}

// axpy adds f·x to y.
func axpy(y, x []float64, f float64) {
	x = x[:len(y)]
	for c := range y {
		y[c] += float64(f * x[c])
	}
}

// exchange stores the line w of the entered variable and puts name at column e.
func (t *dictionary) exchange(w []float64, w0 float64, e int, name int32, from int) {
	entered := t.name[e]
	t.name[e] = name
	if name >= 0 {
		t.at[name] = -2 - int32(e)
	}
	if entered < 0 { // a slack, basic now: no line
		if from >= 0 {
			t.removeLine(from)
		}
		return
	}
	if from < 0 {
		from = len(t.a)
		t.resize(from + 1)
		t.beta = append(t.beta, 0)
		t.base = append(t.base, 0)
	}
	t.a[from] = append(t.a[from][:0], w...)
	t.beta[from] = w0
	t.base[from] = entered
	t.at[entered] = int32(from)
}

// removeLine drops line r; the last takes its place.
func (t *dictionary) removeLine(r int) {
	last := len(t.a) - 1
	t.a[r], t.a[last] = t.a[last], t.a[r]
	t.beta[r], t.base[r] = t.beta[last], t.base[last]
	if r != last {
		t.at[t.base[r]] = int32(r)
	}
	t.a, t.beta, t.base = t.a[:last], t.beta[:last], t.base[:last]
}

// forget drops nonbasic c, fixed at 0; the last takes its place.
func (t *dictionary) forget(c int) {
	last := len(t.d) - 1
	if n := t.name[c]; n >= 0 {
		t.at[n] = gone
	}
	if n := t.name[last]; n >= 0 && c != last {
		t.at[n] = -2 - int32(c)
	}
	t.d[c], t.name[c] = t.d[last], t.name[last]
	t.d, t.name = t.d[:last], t.name[:last]
	for r, line := range t.a {
		line[c] = line[last]
		t.a[r] = line[:last]
	}
}

// fix sets column j to 0 or 1 and drops it. It returns false if no value of the
// others allows that. Scratch v is as long as there are nonbasics.
func (t *dictionary) fix(j int32, one bool, v []float64) bool {
	if t.at[j] == gone {
		return true
	}
	if r := int(t.at[j]); r >= 0 {
		return t.fixBasic(r, one, v)
	}
	c := int(-2 - t.at[j])
	if one {
		t.z += t.d[c]
		for r, line := range t.a {
			t.beta[r] += line[c]
		}
	}
	t.forget(c)
	return true
}

// fixBasic fixes the column of line r: a column short of its value must rise, one
// beyond it fall. Where nothing else can move it that way, the other way is as
// good: the bound falls, but every d stays at or above 0.
func (t *dictionary) fixBasic(r int, one bool, v []float64) bool {
	off := t.beta[r]
	if one {
		off--
	}
	sign := 1.0
	if off >= 0 {
		sign = -1
	}
	return t.fixTowards(r, sign, off, v) || t.fixTowards(r, -sign, off, v)
}

// fixTowards makes sign·(column of line r − its value) nonbasic and drops it.
func (t *dictionary) fixTowards(r int, sign, off float64, v []float64) bool {
	v = v[:len(t.d)]
	for c, x := range t.a[r] {
		v[c] = float64(sign * x)
	}
	e, _ := t.enter(v)
	if e < 0 {
		return false
	}
	t.pivot(v, float64(sign*off), e, t.base[r], r)
	t.forget(e)
	return true
}
