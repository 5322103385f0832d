package sheet

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"glidepath/athlete"
	"glidepath/fault"
)

// 3 mph is 3 x 1.609344 km/h (International Yard and Pound Agreement, 1959).
func TestReadBoutsWithHowTheyWereDone(t *testing.T) {
	for _, tt := range []struct {
		text string
		want []athlete.CardioBout
	}{
		{"incline walking 30 min 5 km/h 8 %", []athlete.CardioBout{{Kind: athlete.InclineWalk, Minutes: 30, SpeedKmh: new(5.0), GradePct: new(8.0)}}},
		{"walk 30 min at 3 mph", []athlete.CardioBout{{Kind: athlete.Walking, Minutes: 30, SpeedKmh: new(3 * 1.609344)}}},
		{"bike 20 (150 W); 5,5 km/h walk 40", []athlete.CardioBout{
			{Kind: athlete.Cycling, Minutes: 20, Watts: new(150.0)}, {Kind: athlete.Walking, Minutes: 40, SpeedKmh: new(5.5)},
		}},
		{"30 elliptical, machine 320 kcal; 20.5 cycling", []athlete.CardioBout{
			{Kind: athlete.Elliptical, Minutes: 30, ClaimedKcal: new(320.0), ClaimedBy: athlete.ByMachine}, {Kind: athlete.Cycling, Minutes: 20.5},
		}},
		{"elliptical 30 min 210 kcal", []athlete.CardioBout{{Kind: athlete.Elliptical, Minutes: 30, ClaimedKcal: new(210.0)}}},
		{"stairs 15 min 24 steps/min 20 cm", []athlete.CardioBout{{Kind: athlete.StairClimbing, Minutes: 15, StepsPerMin: new(24.0), StepHeightCm: new(20.0)}}},
		{"other 45 min code 15675; walking 10 min", []athlete.CardioBout{
			{Kind: athlete.OtherActivity, Minutes: 45, Code: "15675"}, {Kind: athlete.Walking, Minutes: 10},
		}},
	} {
		got, err := ReadBouts(tt.text)
		if diff := cmp.Diff(tt.want, got); err != nil || diff != "" {
			t.Errorf("%q: %v %s", tt.text, err, diff)
		}
	}
	for _, bad := range []string{"other 45 min", "5 km/h", "150 W", "walking 5 km/h", "flying 20 min 300 kcal"} {
		if got, err := ReadBouts(bad); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%q gives %+v, %v; want Invalid", bad, got, err)
		}
	}
}
