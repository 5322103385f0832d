package validation

import (
	"math"
	"testing"

	"glidepath/dynamics"
)

// Trexler et al. 2017, IJSNEM 27:458 (seven men, eight women): from within a week
// after the show to four to six weeks after it, weight 67.4 to 69.3 kg, fat 8.0
// to 10.0, lean 59.4 to 59.3. GainScale was set with this paper in view.
func regain() (fatEnd, reported float64) {
	fat := lead(67.4, 69.3, 8.0, 35, dynamics.Trained())
	return fat[len(fat)-1], 10.0
}

func TestRegainAfterTheShow(t *testing.T) {
	got, want := regain()
	t.Logf("fat %.2f kg (%.1f)", got, want)
	if math.Abs(got-want) > 1 {
		t.Errorf("fat five weeks after the show is %.2f kg, reported %.1f", got, want)
	}
}
