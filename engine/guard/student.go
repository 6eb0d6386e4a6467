package guard

import "math"

// student is the two-sided 95 % factor of Student's t by degrees of freedom from 1
// (JCGM 100:2008, table G.2, to its digits); more than 30 take that of 30.
var student = [...]float64{12.71, 4.30, 3.18, 2.78, 2.57, 2.45, 2.36, 2.31, 2.26, 2.23, 2.20, 2.18, 2.16, 2.14, 2.13, 2.12, 2.11, 2.10, 2.09, 2.09,
	2.09, 2.09, 2.09, 2.09, 2.06, 2.06, 2.06, 2.06, 2.06, 2.04}

// coverage is the 95 % factor of a mean of n values, +Inf under two. Between the
// degrees that the table has, the one before holds, which is on the wide side.
func coverage(n int) float64 {
	if n < 2 {
		return math.Inf(1)
	}
	return student[min(n-1, len(student))-1]
}
