package scenario

import (
	"slices"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"

	"github.com/google/go-cmp/cmp"
)

func demoSeason(t *testing.T, id string) *Season {
	t.Helper()
	r := Demo()
	for i := range r.Seasons {
		if r.Seasons[i].Athlete.ID == id {
			return &r.Seasons[i]
		}
	}
	t.Fatalf("nobody is called %q", id)
	return nil
}

func TestDemoIsValidAndFixed(t *testing.T) {
	r := Demo()
	if d := cmp.Diff(r, Demo()); d != "" {
		t.Errorf("the demo changed between two looks:\n%s", d)
	}
	if r.AsOf.String() != "2026-03-02" || len(r.Seasons) != 12 {
		t.Fatalf("%d athletes as of %s", len(r.Seasons), r.AsOf)
	}
	var ids []string
	sexes, divisions := map[athlete.Sex]int{}, map[string]int{}
	for i := range r.Seasons {
		s := &r.Seasons[i]
		valid(t, s)
		ids = append(ids, s.Athlete.ID)
		sexes[s.Athlete.Sex]++
		divisions[s.Athlete.Shows[0].Division]++
		if last := s.Truth[len(s.Truth)-1].Date; last != r.AsOf {
			t.Errorf("%s ends on %s", s.Athlete.ID, last)
		}
		if weeks := len(s.Truth) / 7; s.Athlete.ID != "saoirse-whitlock-tan" && (weeks < 20 || weeks > 26) {
			t.Errorf("%s has %d weeks of logs", s.Athlete.ID, weeks)
		}
		if len(s.Sets) == 0 || len(s.Sessions) == 0 || len(s.Measurements) == 0 {
			t.Errorf("%s has %d sets, %d sessions, %d measurements", s.Athlete.ID, len(s.Sets), len(s.Sessions), len(s.Measurements))
		}
	}
	if !slices.IsSorted(ids) || len(slices.Compact(ids)) != 12 {
		t.Errorf("ids are not in order or not unique: %v", ids)
	}
	if sexes[athlete.Male] != 6 || len(divisions) != 7 {
		t.Errorf("%v, %v", sexes, divisions)
	}
}

// rate is the true loss over the last weeks, per cent of weight a week.
func rate(s *Season, weeks int) float64 {
	last := len(s.Truth) - 1
	a, b := s.Truth[last-7*weeks].WeightKg, s.Truth[last].WeightKg
	return 100 * (a/b - 1) / float64(weeks)
}

// needed is the loss a week that would bring the true lean mass to the next
// show at the target, per cent of weight.
func needed(s *Season) (rate, kg float64) {
	show := s.Athlete.NextShow(demoAsOf)
	t := s.Truth[len(s.Truth)-1]
	kg = t.WeightKg - t.LeanKg/(1-show.TargetBodyFatPct/100)
	return 100 * kg / t.WeightKg / (float64(show.Date.DaysSince(demoAsOf)) / 7), kg
}

// Each demo athlete is what the roster says of them, by the truth.
func TestDemoTellsItsStories(t *testing.T) {
	get := func(id string) *Season { return demoSeason(t, id) }

	priya := get("priya-raghunath")
	want, _ := needed(priya)
	within(t, "what Priya loses beyond need, %/week", rate(priya, 4)-want, 0, 0.3)

	_, kg := needed(get("marcus-oyelaran"))
	near(t, "what Marcus has to lose, lb", kg/athlete.KgPerPound, 52, 5)

	dmitri := get("dmitri-halvorsen")
	within(t, "Dmitri's rate, %/week", rate(dmitri, 4), 1.15, 1.6)
	n := len(dmitri.Truth)
	within(t, "lean that Dmitri lost in six weeks, kg", dmitri.Truth[n-43].LeanKg-dmitri.Truth[n-1].LeanKg, 1.5, 5)

	aroha := get("aroha-jensen")
	want, _ = needed(aroha)
	within(t, "what Aroha falls short by, %/week", want-rate(aroha, 4), 0.05, 0.25)

	last := get("lucia-ferrandez").Truth
	m := len(last) - 1
	within(t, "Lucía's jump on the scale in four days, kg", last[m].ScaleKg-last[m-4].ScaleKg, 1, 2.5)
	within(t, "her tissue in the same days, kg", last[m].WeightKg-last[m-4].WeightKg, -0.6, 0)

	noor := get("noor-bakhtiari")
	_, kg = needed(noor)
	within(t, "what Noor has to lose, kg", kg, 0.3, 1.2)

	thabo := get("thabo-lindqvist")
	within(t, "Thabo's gain, %/week", -rate(thabo, 8), 0.1, 0.35)
	within(t, "Thabo's weeks to the show", float64(thabo.Athlete.NextShow(demoAsOf).Date.DaysSince(demoAsOf))/7, 49, 51)

	anselm := get("anselm-okonkwo-price")
	within(t, "Anselm's weeks to the show", float64(anselm.Athlete.NextShow(demoAsOf).Date.DaysSince(demoAsOf))/7, 26, 27)

	hana := get("hana-kobayashi-reyes")
	if show := hana.Athlete.LastShow(demoAsOf); show == nil || demoAsOf.DaysSince(show.Date)/7 != 3 {
		t.Error("Hana is not three weeks after a show")
	}
	if rate(hana, 3) > -0.1 {
		t.Error("Hana does not regain")
	}
}

func TestDemoLogs(t *testing.T) {
	logged := func(s *Season, pick func(*athlete.Day) *float64, from int) (mean, share float64) {
		n := 0.0
		for i := range s.Days {
			if v := pick(&s.Days[i]); v != nil && s.Days[i].Date >= demoAsOf.AddDays(-from) {
				mean += *v
				n++
			}
		}
		return mean / n, n / float64(min(from, len(s.Truth)-1))
	}
	weight := func(d *athlete.Day) *float64 { return d.WeightKg }
	energy := func(d *athlete.Day) *float64 { return d.EnergyKcal }

	keoni := demoSeason(t, "keoni-blackwood")
	_, share := logged(keoni, weight, 150)
	within(t, "share of Keoni's mornings with a weight", share, 0.05, 0.3)
	_, share = logged(keoni, energy, 150)
	within(t, "share of Keoni's days with intake", share, 0.02, 0.2)

	callum := demoSeason(t, "callum-devereaux-singh")
	mean, _ := logged(callum, energy, 35)
	plan := callum.Prescriptions[len(callum.Prescriptions)-1]
	within(t, "Callum's logged intake over the prescribed", mean/plan.MeanEnergyKcal(), 1.12, 1.3)

	saoirse := demoSeason(t, "saoirse-whitlock-tan")
	inPounds := 0
	for _, d := range saoirse.Days {
		if d.WeightKg != nil && *d.WeightKg > 1.8*saoirse.Athlete.WeightKg {
			inPounds++
		}
	}
	if inPounds != 1 || len(saoirse.Athlete.Screening.Open(demoAsOf)) != 1 || len(saoirse.Truth) != 11 {
		t.Errorf("Saoirse has %d weights in pounds and %d days", inPounds, len(saoirse.Truth))
	}

	lucia := demoSeason(t, "lucia-ferrandez")
	if d := lucia.Days[len(lucia.Days)-1]; d.CycleDay == nil || *d.CycleDay > 4 {
		t.Error("Lucía's log does not show that bleeding has begun")
	}
}

// Every set that is logged was written in the programme of its date, and as many.
func TestDemoLogsWhatWasProgrammed(t *testing.T) {
	deloads, blocks := 0, 0
	for _, s := range Demo().Seasons {
		if len(s.Programmes) == 0 {
			t.Errorf("%s has no programme", s.Athlete.ID)
			continue
		}
		done := map[civil.Date]map[string]int{}
		for _, x := range s.Sets {
			if done[x.Date] == nil {
				done[x.Date] = map[string]int{}
			}
			done[x.Date][x.Exercise]++
		}
		for on, lifts := range done {
			for name, sets := range planned(&s, on) {
				if got := lifts[name]; got != sets {
					t.Errorf("%s on %s: %d sets of %s, %d planned", s.Athlete.ID, on, got, name, sets)
				}
				delete(lifts, name)
			}
			for name := range lifts {
				t.Errorf("%s on %s: %s is in no programme", s.Athlete.ID, on, name)
			}
		}
		now := athlete.ProgrammeOn(s.Programmes, demoAsOf, phaseOn(&s, demoAsOf))
		if week, _ := now.WeekOn(demoAsOf); week.Deload {
			deloads++
		}
		if len(now.Weeks) == 4 {
			blocks++
		}
	}
	if deloads < 2 || deloads > 6 || blocks < 8 {
		t.Errorf("%d athletes are in a deload, %d in a block of four weeks", deloads, blocks)
	}
}

func phaseOn(s *Season, on civil.Date) athlete.PhaseKind {
	if p := inForce(s.Prescriptions, on); p != nil {
		return p.Phase
	}
	return athlete.OffSeason
}

// planned are the sets of each exercise of a date.
func planned(s *Season, on civil.Date) map[string]int {
	out := map[string]int{}
	if p := athlete.ProgrammeOn(s.Programmes, on, phaseOn(s, on)); p != nil {
		for _, session := range p.SessionsOn(on, s.Athlete.TrainingDays) {
			for _, e := range session.Exercises {
				out[e.Exercise] += e.Sets
			}
		}
	}
	return out
}

// A part of the days has how they felt; pain is rare, and has a place.
func TestDemoFeels(t *testing.T) {
	days, felt, hurt := 0, 0, 0
	for _, s := range Demo().Seasons {
		for _, d := range s.Days {
			days++
			if d.Soreness != nil {
				felt++
			}
			if (d.Soreness == nil) != (d.Mood == nil) || (d.Soreness == nil) != (d.Motivation == nil) || (d.Pain == nil) != (d.PainWhere == "") {
				t.Fatalf("%s on %s: %+v", s.Athlete.ID, d.Date, d)
			}
			if d.Pain != nil {
				hurt++
			}
		}
	}
	within(t, "share of days with feelings", float64(felt)/float64(days), 0.15, 0.6)
	within(t, "share of those with pain", float64(hurt)/float64(felt), 0.002, 0.05)
}
