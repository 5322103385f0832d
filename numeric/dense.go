package numeric

import "math"

// Square matrices here are row-major slices of length n*n. They are small (a
// few hundred numbers), so plain loops beat a general library.

// Cholesky factors the symmetric positive matrix a in place into its lower
// triangle (the upper one is cleared) and reports whether it could. A pivot that
// rounding has pushed to within tiny of zero is taken as zero variance.
func Cholesky(a []float64, n int) bool {
	for j := range n {
		aj := a[j*n : j*n+n]
		d := aj[j]
		scale := math.Abs(d)
		for k := range j {
			d -= aj[k] * aj[k]
		}
		if d < -1e-8*scale || math.IsNaN(d) {
			return false
		}
		pivot := math.Sqrt(math.Max(d, 0))
		aj[j] = pivot
		for i := j + 1; i < n; i++ {
			ai := a[i*n : i*n+n]
			s := ai[j]
			for k := range j {
				s -= ai[k] * aj[k]
			}
			if pivot > 1e-12*(1+math.Sqrt(scale)) {
				ai[j] = s / pivot
			} else {
				ai[j] = 0
			}
		}
		clear(aj[j+1:])
	}
	return true
}
