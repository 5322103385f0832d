package numeric

import "math"

// Square matrices here are row-major slices of length n*n. They are small (a
// few hundred numbers), so plain loops beat a general library.

// MulTransposed writes a * transpose(b) into dst; dst must not alias a or b.
func MulTransposed(dst, a, b []float64, n int) {
	for i := range n {
		ai := a[i*n : i*n+n]
		di := dst[i*n : i*n+n]
		for j := range n {
			bj := b[j*n : j*n+n]
			sum := 0.0
			for k, v := range ai {
				sum += v * bj[k]
			}
			di[j] = sum
		}
	}
}

// Mul writes a * b into dst; dst must not alias a or b.
func Mul(dst, a, b []float64, n int) {
	for i := range n {
		di := dst[i*n : i*n+n]
		clear(di)
		for k := range n {
			v := a[i*n+k]
			if v == 0 {
				continue
			}
			bk := b[k*n : k*n+n]
			for j := range di {
				di[j] += v * bk[j]
			}
		}
	}
}

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

// SolveCholesky solves (L transpose(L)) x = b in place, with L from Cholesky. A
// direction of zero variance gets zero.
func SolveCholesky(l, b []float64, n int) {
	for i := range n {
		s := b[i]
		li := l[i*n : i*n+n]
		for k := range i {
			s -= li[k] * b[k]
		}
		b[i] = divide(s, li[i])
	}
	for i := n - 1; i >= 0; i-- {
		s := b[i]
		for k := i + 1; k < n; k++ {
			s -= l[k*n+i] * b[k]
		}
		b[i] = divide(s, l[i*n+i])
	}
}

func divide(s, pivot float64) float64 {
	if pivot == 0 {
		return 0
	}
	return s / pivot
}

// Symmetrise averages a with its transpose in place.
func Symmetrise(a []float64, n int) {
	for i := range n {
		for j := range i {
			v := 0.5 * (a[i*n+j] + a[j*n+i])
			a[i*n+j], a[j*n+i] = v, v
		}
	}
}
