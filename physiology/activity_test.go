package physiology

import (
	"slices"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/fault"

	"pgregory.net/rapid"
)

// Recomputed from the metabolic equations of the American College of Sports
// Medicine (Bushman 2020), except where a printed value is named.
func TestMetabolicEquations(t *testing.T) {
	mph := func(v float64) float64 { return v * MPerMinPerMph }
	for _, c := range []struct {
		name string
		got  func(*testing.T) OxygenUptake
		vo2  float64
		tol  float64
		met  float64 // 0 is not checked
	}{
		{"walk 2.5 mph 3 %, printed 13.8", must(WalkOxygen(mph(2.5), 0.03)), 13.8, 0.05, 0},
		{"walk 2.5 mph 3 %", must(WalkOxygen(mph(2.5), 0.03)), 13.818, 0.0005, 0},
		{"walk 3.5 mph", must(WalkOxygen(mph(3.5), 0)), 12.88, 0.0005, 3.68},
		{"walk 3.0 mph 12 %", must(WalkOxygen(mph(3.0), 0.12)), 28.906, 0.0005, 8.26},
		{"walk 3.5 mph 10 %", must(WalkOxygen(mph(3.5), 0.10)), 29.764, 0.0005, 0},
		{"run 6 mph", must(RunOxygen(mph(6), 0)), 35.66, 0.0005, 10.19},
		{"run 6.5 mph 5 %", must(RunOxygen(mph(6.5), 0.05)), 46.179, 0.0005, 13.19},
		{"cycle 150 W at 80 kg", must(LegCycleOxygen(150*KgMPerMinPerWatt, 80)), 27.655, 0.0005, 0},
		{"cycle 150 W at 80 kg, 6 kg·m/min a watt", must(LegCycleOxygen(150*6, 80)), 27.25, 0.0005, 0},
		{"cycle 900 kg·m/min at 75 kg", must(LegCycleOxygen(900, 75)), 28.6, 0.0005, 0},
		{"arm cycle 300 kg·m/min at 75 kg, from memory", must(ArmCycleOxygen(300, 75)), 15.5, 0.0005, 0},
		{"12-inch bench 30 a minute, printed 31.4", must(StepOxygen(0.3048, 30)), 31.4, 0.05, 0},
		{"12-inch bench 30 a minute", must(StepOxygen(0.3048, 30)), 31.3907, 0.0001, 0},
		{"15-inch bench 24 a minute, printed 30.2", must(StepOxygen(0.381, 24)), 30.2, 0.05, 0},
		{"20 cm bench 24 a minute", must(StepOxygen(0.20, 24)), 19.7912, 0.0001, 0},
	} {
		v := c.got(t)
		near(t, c.name, float64(v), c.vo2, c.tol)
		if c.met > 0 {
			near(t, c.name+", MET", float64(v.MET()), c.met, 0.0051)
		}
	}
}

func TestEnergyOfOxygenAndMET(t *testing.T) {
	// A worked example in circulation: 13.8 mL/kg/min, 50 kg, 30 min, 103.5 kcal.
	near(t, "printed example", OxygenUptake(13.8).GrossKcal(50, 30), 103.5, 1e-9)
	// Recomputed: 80 kg at 3.5 mph for 45 min.
	walk := must(WalkOxygen(3.5*MPerMinPerMph, 0))(t)
	near(t, "gross", walk.GrossKcal(80, 45), 231.8, 0.05)
	near(t, "net", walk.NetKcal(80, 45), 168.8, 0.06)
	// Recomputed: 4.8 MET, 80 kg, 45 min in the two forms.
	near(t, "1 kcal/kg/h", MET(4.8).GrossKcal(80, 45), 288.0, 1e-9)
	near(t, "3.5 mL/kg/min", MET(4.8).Oxygen().GrossKcal(80, 45), 302.4, 1e-9)
	near(t, "net", MET(4.8).NetKcal(80, 45), 228.0, 1e-9)
	near(t, "net of sleep", MET(0.95).NetKcal(80, 45), 0, 0)
	// At the conventional rest of 3.5 mL/kg/min, 1.05 kcal/kg/h, nothing changes; a
	// person who rests lower works at a higher multiple (Byrne et al. 2005).
	near(t, "corrected at the convention", float64(must(MET(5).Corrected(1.05*24*80, 80))(t)), 5, 1e-9)
	near(t, "corrected at half of it", float64(must(MET(5).Corrected(1.05*12*80, 80))(t)), 10, 1e-9)
}

func TestGrossIsNetPlusRest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := OxygenUptake(rapid.Float64Range(3.5, 60).Draw(t, "uptake"))
		kg, minutes := rapid.Float64Range(40, 150).Draw(t, "kg"), rapid.Float64Range(1, 180).Draw(t, "minutes")
		if d := v.GrossKcal(kg, minutes) - v.NetKcal(kg, minutes) - RestingOxygen.GrossKcal(kg, minutes); d > 1e-9 || d < -1e-9 {
			t.Fatalf("gross is not net plus rest by %g", d)
		}
	})
}

// Values that Ainsworth et al. 2011 and Herrmann et al. 2024 list, read in tables
// that transcribe them; two transcriptions of 2011 agree. 0 is not listed, or not
// seen. One circulating copy of 2024 is clipped at 9.9, so values above it matter.
func TestCompendium(t *testing.T) {
	want := []struct {
		code             string
		met2011, met2024 MET
	}{
		{"01009", 8.5, 0},
		{"01018", 3.5, 3.5},
		{"01019", 5.8, 5.8},
		{"01020", 6.8, 6.8},
		{"01030", 8.0, 8.0},
		{"01040", 10.0, 10.0},
		{"01050", 12.0, 12.0},
		{"01200", 0, 6.8},
		{"01210", 0, 3.5},
		{"01214", 0, 4.0},
		{"01216", 0, 5.0},
		{"01218", 0, 5.8},
		{"01220", 0, 6.0},
		{"01224", 0, 6.8},
		{"01228", 0, 8.0},
		{"01232", 0, 10.3},
		{"01236", 0, 10.8},
		{"01240", 0, 12.5},
		{"01270", 0, 9.0},
		{"02010", 7.0, 0},
		{"02011", 3.5, 0},
		{"02012", 6.8, 0},
		{"02013", 8.8, 0},
		{"02014", 11.0, 0},
		{"02015", 14.0, 0},
		{"02017", 4.8, 0},
		{"02019", 8.5, 0},
		{"02020", 8.0, 7.5},
		{"02022", 3.8, 3.8},
		{"02035", 4.3, 0},
		{"02040", 8.0, 0},
		{"02048", 5.0, 5.0},
		{"02049", 0, 9.0},
		{"02050", 6.0, 6.0},
		{"02052", 5.0, 5.0},
		{"02054", 3.5, 3.5},
		{"02065", 9.0, 9.3},
		{"02068", 11.0, 0},
		{"02070", 6.0, 7.3},
		{"02071", 4.8, 5.0},
		{"02072", 7.0, 7.5},
		{"02073", 8.5, 11.0},
		{"02074", 12.0, 14.0},
		{"02080", 6.8, 0},
		{"02085", 11.0, 0},
		{"02101", 2.3, 2.3},
		{"02105", 3.0, 0},
		{"02120", 5.3, 0},
		{"02150", 2.5, 0},
		{"02160", 4.0, 0},
		{"02210", 0, 7.0},
		{"02214", 0, 11.0},
		{"03010", 5.0, 5.0},
		{"03015", 7.3, 0},
		{"03016", 7.5, 0},
		{"03017", 9.5, 0},
		{"03018", 5.5, 0},
		{"03020", 5.0, 0},
		{"03021", 7.3, 0},
		{"03025", 4.5, 0},
		{"03030", 5.5, 0},
		{"03031", 7.8, 0},
		{"03040", 3.0, 0},
		{"05030", 3.3, 0},
		{"05120", 5.8, 0},
		{"07021", 1.3, 1.0},
		{"07030", 0.95, 1.0},
		{"07040", 1.3, 1.3},
		{"12020", 7.0, 7.5},
		{"12029", 6.0, 6.5},
		{"12030", 8.3, 8.5},
		{"12050", 9.8, 9.3},
		{"12060", 10.5, 10.5},
		{"12070", 11.0, 11.0},
		{"12080", 11.8, 11.8},
		{"12090", 11.8, 12.0},
		{"12100", 12.3, 12.5},
		{"12110", 12.8, 13.0},
		{"12120", 14.5, 14.8},
		{"12140", 9.0, 0},
		{"12170", 15.0, 15.0},
		{"15020", 7.0, 0},
		{"15030", 5.5, 0},
		{"15040", 8.0, 0},
		{"15050", 6.0, 0},
		{"15110", 5.5, 0},
		{"15120", 7.8, 0},
		{"15200", 6.0, 0},
		{"15230", 8.0, 0},
		{"15250", 8.0, 0},
		{"15265", 4.3, 0},
		{"15300", 3.8, 0},
		{"15425", 5.3, 0},
		{"15430", 10.3, 0},
		{"15530", 7.0, 0},
		{"15533", 8.0, 0},
		{"15537", 5.8, 0},
		{"15550", 12.3, 12.3},
		{"15551", 11.8, 11.8},
		{"15552", 8.8, 8.3},
		{"15562", 6.3, 0},
		{"15591", 7.5, 7.5},
		{"15592", 9.8, 9.8},
		{"15593", 12.3, 12.3},
		{"15605", 10.0, 0},
		{"15610", 7.0, 0},
		{"15652", 7.3, 0},
		{"15660", 4.0, 0},
		{"15675", 7.3, 0},
		{"15685", 4.5, 0},
		{"15690", 8.0, 0},
		{"15710", 4.0, 0},
		{"15725", 8.0, 0},
		{"17010", 7.0, 0},
		{"17012", 7.8, 0},
		{"17034", 0, 5.3},
		{"17035", 0, 7.0},
		{"17036", 0, 8.8},
		{"17070", 3.5, 0},
		{"17080", 6.0, 0},
		{"17082", 5.3, 0},
		{"17133", 4.0, 4.5},
		{"17134", 8.8, 9.3},
		{"17152", 2.8, 2.8},
		{"17165", 3.0, 0},
		{"17170", 3.0, 3.0},
		{"17190", 3.5, 3.8},
		{"17200", 4.3, 4.8},
		{"17210", 5.3, 0},
		{"17211", 8.0, 0},
		{"17220", 5.0, 5.5},
		{"17230", 7.0, 7.0},
		{"17231", 8.3, 8.5},
		{"17302", 4.8, 0},
		{"17310", 6.8, 0},
		{"17320", 6.0, 6.0},
		{"18050", 5.8, 0},
		{"18100", 5.0, 0},
		{"18225", 6.0, 0},
		{"18230", 9.8, 9.8},
		{"18240", 5.8, 5.8},
		{"18250", 9.5, 0},
		{"18255", 4.8, 0},
		{"18260", 10.3, 0},
		{"18265", 5.3, 0},
		{"18270", 13.8, 0},
		{"18290", 8.3, 0},
		{"18310", 6.0, 0},
		{"18355", 5.5, 0},
		{"18366", 9.8, 0},
		{"19030", 7.0, 0},
		{"19080", 6.8, 0},
		{"19090", 9.0, 0},
		{"19100", 12.5, 0},
		{"19160", 5.3, 0},
		{"19190", 5.3, 0},
	}
	if len(want) != len(Activities()) {
		t.Errorf("%d activities, want %d", len(Activities()), len(want))
	}
	for _, c := range want {
		a := must(ActivityByCode(c.code))(t)
		if a.MET2011 != c.met2011 || a.MET2024 != c.met2024 {
			t.Errorf("%+v, want %+v", a, c)
		}
		if met, ok := a.MET(Compendium2011); ok != (c.met2011 > 0) || met != c.met2011 {
			t.Errorf("%s: 2011 gives %v, %v", c.code, met, ok)
		}
		if met, ok := a.MET(Compendium2024); ok != (c.met2024 > 0) || met != c.met2024 {
			t.Errorf("%s: 2024 gives %v, %v", c.code, met, ok)
		}
	}
	_, err := ActivityByCode("00000")
	wantKind(t, "unknown code", err, fault.NotFound)
	for query, near := range map[string]string{"17195": "17190 walking, 2.8-3.4 mph", "2066": "02065 stair-treadmill", "rugby": "15562 rugby, touch", "??": "01009"} {
		if _, err := ActivityByCode(query); err == nil || !strings.Contains(err.Error(), "Near it are "+near) {
			t.Errorf("%q: %v, want %q near it", query, err, near)
		}
	}
	if met, e := must(ActivityByCode("15110"))(t).Newest(); met != 5.5 || e.String() != "2011" {
		t.Errorf("the newest of a punching bag is %v of %v", met, e)
	}
	if met, e := must(ActivityByCode("17190"))(t).Newest(); met != 3.8 || e.String() != "2024" {
		t.Errorf("the newest of walking is %v of %v", met, e)
	}
}

func TestCompendiumIsInOrder(t *testing.T) {
	all := Activities()
	for i, a := range all {
		if len(a.Code) != 5 || a.Name == "" || a.MET2011 == 0 && a.MET2024 == 0 || a.MET2011 > 20 || a.MET2024 > 20 {
			t.Errorf("bad line %+v", a)
		}
		if i > 0 && all[i-1].Code >= a.Code {
			t.Errorf("%s follows %s", a.Code, all[i-1].Code)
		}
		if found, err := ActivityByCode(a.Code); err != nil || found != a {
			t.Errorf("%s is not found by its code: %v", a.Code, err)
		}
	}
	all[0].Name = "changed"
	if Activities()[0].Name == "changed" {
		t.Error("the table can be changed from outside")
	}
}

func TestFindActivities(t *testing.T) {
	codes := func(as []Activity) []string {
		var out []string
		for _, a := range as {
			out = append(out, a.Code)
		}
		return out
	}
	for query, want := range map[string][]string{
		"GRADE uphill": {"17034", "17035", "17036"},
		"elliptical":   {"02048", "02049"},
		"juggling":     nil,
		"":             nil,
	} {
		if got := codes(FindActivities(query)); !slices.Equal(got, want) {
			t.Errorf("FindActivities(%q) = %v, want %v", query, got, want)
		}
	}
	if got := codes(ActivitiesWithin(Compendium2024, 10.8, 12)); !slices.Equal(got, []string{"01050", "01236", "02073", "02214", "12070", "12080", "12090", "15551"}) {
		t.Errorf("ActivitiesWithin(10.8, 12) = %v", got)
	}
}

func TestSteps(t *testing.T) {
	// Recomputed from 0.415 and 0.413 of height and 0.5 kcal/kg/km.
	near(t, "km, man", must(StepsKm(athlete.Male, 180, 10000))(t), 7.47, 0.0001)
	near(t, "kcal, man", must(StepsNetKcal(athlete.Male, 180, 80, 10000))(t), 299, 0.5)
	near(t, "km, woman", must(StepsKm(athlete.Female, 165, 10000))(t), 6.81, 0.005)
	near(t, "kcal, woman", must(StepsNetKcal(athlete.Female, 165, 60, 10000))(t), 204, 0.5)
	// The net cost of a km is the metabolic equation's over rest, at any speed.
	net := must(WalkOxygen(80, 0))(t).NetKcal(1, 1000.0/80)
	near(t, "kcal per kg and km", net, WalkNetKcalPerKgKm, 1e-12)
	net = must(RunOxygen(160, 0))(t).NetKcal(1, 1000.0/160)
	near(t, "running", net, RunNetKcalPerKgKm, 1e-12)

	// Recomputed from Hoeger et al. 2008, coefficients from memory.
	near(t, "woman of 64 in at 15 min", must(WalkStepsPerMile(athlete.Female, 15, 64*athlete.CmPerInch))(t), 1997.6, 0.01)
	near(t, "man of 70 in at 20 min", must(WalkStepsPerMile(athlete.Male, 20, 70*athlete.CmPerInch))(t), 2197, 0.01)
	// The same paper's means over both sexes: 2252 steps at 20 min a mile, 1935 at 15
	// and 1951 jogging at 12; heights of 64 and 70 in are a judgement, so the answer
	// is only near.
	mean := func(f func(h float64) float64) float64 {
		return (f(64*athlete.CmPerInch) + f(70*athlete.CmPerInch)) / 2
	}
	for pace, want := range map[float64]float64{20: 2252, 15: 1935} {
		got := mean(func(h float64) float64 {
			m, w := must(WalkStepsPerMile(athlete.Male, pace, h))(t), must(WalkStepsPerMile(athlete.Female, pace, h))(t)
			return (m + w) / 2
		})
		near(t, "published mean", got, want, 0.02*want)
	}
	got := mean(func(h float64) float64 { return must(RunStepsPerMile(12, h))(t) })
	near(t, "published mean, jogging", got, 1951, 0.05*1951)
}
