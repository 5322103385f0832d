package phrase

import (
	"math"
	"strconv"
	"strings"
)

// Number writes a number with a comma for thousands and a true minus sign, to
// so many decimals; what is not finite is a dash.
func Number(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "–"
	}
	s := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	whole, fraction, hasFraction := strings.Cut(s, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if hasFraction {
		whole += "." + fraction
	}
	if v < 0 && strings.Trim(s, "0.") != "" {
		whole = "\u2212" + whole
	}
	return whole
}
