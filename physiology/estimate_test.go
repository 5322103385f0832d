package physiology

import (
	"math"
	"testing"

	"glidepath/athlete"
	"glidepath/fault"
)

// The two test persons of the resting and body-composition checks; they are
// invented.
var (
	man   = Body{Sex: athlete.Male, AgeYears: 30, HeightCm: 180, WeightKg: 90, FatKg: 13.5}
	woman = Body{Sex: athlete.Female, AgeYears: 28, HeightCm: 165, WeightKg: 60, FatKg: 13.2}
)

func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.6g, want %.6g within %g", name, got, want, tol)
	}
}

// must unwraps an answer that has to exist.
func must[T any](v T, err error) func(*testing.T) T {
	return func(t *testing.T) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func wantKind(t *testing.T, name string, err error, kind fault.Kind) {
	t.Helper()
	if fault.KindOf(err) != kind {
		t.Errorf("%s: error %v, want a fault of kind %q", name, err, kind)
	}
	for _, f := range fault.All(err) {
		if f.Field == "" || f.Message == "" {
			t.Errorf("%s: fault %+v names no field or has no message", name, f)
		}
	}
}

// Every function that takes a number refuses one outside its range.
func TestOutOfRangeIsInvalid(t *testing.T) {
	err1 := func(_ any, err error) error { return err }
	nan := math.NaN()
	old, heavy, nobody := man, man, man
	old.AgeYears, heavy.WeightKg, nobody.Sex = 130, 400, "other"
	for name, err := range map[string]error{
		"Mifflin, age":           err1(MifflinStJeor(old)),
		"Mifflin rounded":        err1(MifflinStJeorRounded(heavy)),
		"Mifflin, sex":           err1(MifflinStJeor(nobody)),
		"Mifflin FFM":            err1(MifflinFFM(5)),
		"Cunningham NaN":         err1(Cunningham1980(nan)),
		"Cunningham 1991":        err1(Cunningham1991(500)),
		"Nelson, fat":            err1(Nelson(60, 0)),
		"Nelson, FFM":            err1(Nelson(0, 10)),
		"ten Haaf weight":        err1(TenHaafWeight(heavy)),
		"ten Haaf FFM":           err1(TenHaafFFM(-1)),
		"Tinsley weight":         err1(TinsleyWeight(3)),
		"Tinsley FFM":            err1(TinsleyFFM(3)),
		"resting, fat error":     err1(RestingExpenditure(man, -1)),
		"resting, body":          err1(RestingExpenditure(heavy, 1)),
		"resting, fat above all": err1(RestingExpenditure(Body{athlete.Male, 30, 180, 90, 85}, 1)),
		"initial fat":            err1(InitialFatKg(old)),
		"initial fluid":          err1(InitialExtracellularL(nobody)),
		"initial activity":       err1(InitialActivityKcalPerKg(0.5, 1800, 80)),
		"Siri":                   err1(Siri(Estimate{Value: 1.2})),
		"Brozek":                 err1(Brozek(Estimate{Value: nan})),
		"seven folds":            err1(JacksonPollock7(athlete.Male, 5, 30)),
		"three folds":            err1(JacksonPollock3(athlete.Female, 300, 30)),
		"four folds":             err1(JacksonPollock4(athlete.Female, 40, 3)),
		"four folds, sex":        err1(DurninWomersley("", 40, 30)),
		"tape, neck":             err1(TapeBodyFat(athlete.Male, Girths{NeckCm: 5, AbdomenCm: 85}, 180)),
		"tape, girths equal":     err1(TapeBodyFat(athlete.Male, Girths{NeckCm: 45, AbdomenCm: 46}, 180)),
		"tape, no hip":           err1(TapeBodyFatInchForm(athlete.Female, Girths{NeckCm: 32, WaistCm: 70}, 165)),
		"FFMI":                   err1(FFMI(70, 1.80)),
		"normalised FFMI":        err1(NormalisedFFMI(7, 180)),
		"method":                 err1(MethodError("guess")),
		"walk, fast":             err1(WalkOxygen(140, 0)),
		"walk, per cent":         err1(WalkOxygen(80, 5)),
		"run, slow":              err1(RunOxygen(60, 0)),
		"cycle":                  err1(LegCycleOxygen(-1, 80)),
		"arm cycle":              err1(ArmCycleOxygen(300, 8)),
		"step, height":           err1(StepOxygen(20, 24)),
		"corrected":              err1(MET(4).Corrected(0, 80)),
		"step length":            err1(StepLengthM(athlete.Male, 1.8)),
		"steps":                  err1(StepsKm(athlete.Male, 180, -1)),
		"steps, weight":          err1(StepsNetKcal(athlete.Male, 180, 0, 100)),
		"walk steps":             err1(WalkStepsPerMile(athlete.Male, 5, 180)),
		"run steps":              err1(RunStepsPerMile(20, 180)),
		"availability":           err1(EnergyAvailability(2000, 300, 0)),
		"wrestling, FFM":         err1(WrestlingMinimumKg(Women, 0)),
		"wrestling, class":       err1(WrestlingMinimumKg("seniors", 60)),
		"1RM, reps":              err1(OneRM(Epley, 100, 13)),
		"1RM, load":              err1(OneRM(Epley, 0, 5)),
		"1RM, formula":           err1(OneRM("none", 100, 5)),
		"1RM, reserve":           err1(OneRMInReserve(Epley, 100, 5, 11)),
		"1RM, reps and reserve":  err1(OneRMInReserve(Epley, 100, 10, 4)),
		"per cent":               err1(PercentOfOneRM(0)),
		"reps":                   err1(RepsAtPercent(101)),
		"in reserve":             err1(InReserve(4)),
		"exertion":               err1(Exertion(-1)),
		"reference intakes":      err1(ReferenceIntakes(athlete.Male, 12)),
		"intakes, sex":           err1(ReferenceIntakes("", 30)),
	} {
		wantKind(t, name, err, fault.Invalid)
	}
	_, _, err := AfterWeightChange(0, 5)
	wantKind(t, "partition", err, fault.Invalid)
}
