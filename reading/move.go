package reading

// mixed is how many states the dynamics give; they are the first.
const mixed = Adaptation + 1

// move is how the state goes over a day, as a matrix M of which most is known:
// the dynamics make the first states out of the leading ones, slow fluid decays,
// and everything else stays put.
type move struct {
	mix   [mixed][moved]float64
	decay float64
}

// carry turns the covariance p into M p M', symmetric to the bit if p is.
func (m *move) carry(p []float64, n int) {
	for i := SlowFluid * n; i < SlowFluid*n+n; i++ {
		p[i] *= m.decay
	}
	for i := SlowFluid; i < n*n; i += n {
		p[i] *= m.decay
	}
	// The first states' new covariance with the others, and with the leading ones
	// as they were.
	var lead [mixed][moved]float64
	for j := range n {
		old := (*[moved]float64)(p[j*n:])
		for r := range mixed {
			sum := 0.0
			for k, v := range m.mix[r] {
				sum += v * old[k]
			}
			if j < moved {
				lead[r][j] = sum
			}
			if j >= mixed {
				p[r*n+j] = sum
			}
		}
	}
	for r := range mixed {
		for j := mixed; j < n; j++ {
			p[j*n+r] = p[r*n+j]
		}
		for s := range r + 1 {
			sum := 0.0
			for k, v := range m.mix[s] {
				sum += v * lead[r][k]
			}
			p[r*n+s], p[s*n+r] = sum, sum
		}
	}
}

// back turns v into M' v.
func (m *move) back(v []float64) {
	a, b, c := v[Fat], v[FatFree], v[Adaptation]
	for k := range moved {
		sum := m.mix[Fat][k]*a + m.mix[FatFree][k]*b + m.mix[Adaptation][k]*c
		if k < mixed {
			v[k] = sum
		} else {
			v[k] += sum
		}
	}
	v[SlowFluid] *= m.decay
}

// backBoth turns the symmetric matrix a into M' a M.
func (m *move) backBoth(a []float64, n int) {
	for i := range n {
		m.back(a[i*n : i*n+n])
	}
	first, second, third := a[Fat*n:Fat*n+n], a[FatFree*n:FatFree*n+n], a[Adaptation*n:Adaptation*n+n]
	for j := range n {
		x, y, z := first[j], second[j], third[j]
		for k := range moved {
			sum := m.mix[Fat][k]*x + m.mix[FatFree][k]*y + m.mix[Adaptation][k]*z
			if k < mixed {
				a[k*n+j] = sum
			} else {
				a[k*n+j] += sum
			}
		}
	}
	for j := SlowFluid * n; j < SlowFluid*n+n; j++ {
		a[j] *= m.decay
	}
}
