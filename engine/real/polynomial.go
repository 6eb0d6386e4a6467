package real

// horner is c[0] + x(c[1] + x(c[2] + …)), each product rounded.
func horner(x float64, c ...float64) float64 {
	sum := c[len(c)-1]
	for i := len(c) - 2; i >= 0; i-- {
		sum = c[i] + float64(x*sum)
	}
	return sum
}
