package gradeline

// sweep is the highest line at the nodes: lines by these rules are closed under
// taking the higher of two at every node, so that there is one over all others.
// It is found like shortest paths, forward under the least fall and backward
// under the most.
func (w *work) sweep(low, high []float64) (z []float64, ok bool) {
	z = append(z, high...)
	for k := 1; k < len(z); k++ {
		z[k] = min(z[k], z[k-1]-float64(w.least*(w.nodes[k]-w.nodes[k-1])))
	}
	for k := len(z) - 2; k >= 0; k-- {
		z[k] = min(z[k], z[k+1]+float64(w.most*(w.nodes[k+1]-w.nodes[k])))
	}
	for k := range z {
		if !(z[k] >= low[k]) {
			return nil, false
		}
	}
	return z, true
}
