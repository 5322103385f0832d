package report_test

import (
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/numeric"
	"glidepath/report"
	"glidepath/training"
)

// The training page opens with what is so and what to do, made from the figures.
func TestTrainingLead(t *testing.T) {
	base := dossier(t, "aroha-jensen")
	lead := func(do training.Proposal, week numeric.Interval, short float64) string {
		d := *base
		d.Sets = &do
		d.Recovery.Week, d.Recovery.Short = week, short
		return report.FromDossier(&d, report.Settings{}).Training.Sentence
	}
	usual, low := numeric.Interval{Value: 0.1, Low90: -0.6, High90: 0.8}, numeric.Interval{Value: -2.4, Low90: -3.2, High90: -1.6}
	for _, c := range []struct {
		do    training.Proposal
		week  numeric.Interval
		short float64
		says  []string
	}{
		{training.Proposal{Action: training.Hold}, usual, 0.01, []string{"of the strength is kept", "recovery is as usual as far as can be told (0.1, 90", "leave the sets as they are"}},
		{training.Proposal{Action: training.FewerSets, CutPct: 12.4}, low, 0.97, []string{"recovery is short (−2.4", "take 12", "of the hard sets away"}},
		{training.Proposal{Action: training.Deload}, low, 0.6, []string{"recovery is probably short", "an easy week is due"}},
		{training.Proposal{Action: training.Swap, Exercises: []training.ExerciseChange{{Exercise: "back squat", SwapTo: "hack squat"}}}, numeric.Interval{Value: -1, Low90: -1.4, High90: -0.6}, 0.1, []string{"below what is usual, and not short", "do hack squat in place of back squat"}},
		{training.Proposal{Action: training.Defer}, numeric.Interval{Value: 1, Low90: 0.2, High90: 1.8}, 0, []string{"better than usual", "what hurts is for a clinician first"}},
	} {
		got := lead(c.do, c.week, c.short)
		for _, s := range c.says {
			if !strings.Contains(got, s) {
				t.Errorf("%s: %q does not say %q", c.do.Action, got, s)
			}
		}
	}
	d := *base
	d.Strength, d.Sets, d.Recovery.Logged = training.StrengthReport{}, nil, 2
	if got := report.FromDossier(&d, report.Settings{}).Training.Sentence; !strings.Contains(got, "No set is logged yet") || !strings.Contains(got, "hardly known") || !strings.Contains(got, "log sets, or write a programme") {
		t.Errorf("with nothing logged it says %q", got)
	}
}

// A change of training names its exercises in the review, and what waits for a
// clinician is a caution.
func TestTrainingChangesAreNamed(t *testing.T) {
	d := *dossier(t, "aroha-jensen")
	d.Sets = &training.Proposal{
		Action: training.Swap, Sentence: "Do hack squat in place of back squat.", Reasons: []string{"Do hack squat in place of back squat.", "Back squat loads the lower back."},
		Exercises: []training.ExerciseChange{{Exercise: "back squat", SetsFrom: 4, SetsTo: 4, SwapTo: "hack squat"}, {Exercise: "deadlift", SetsFrom: 3, SetsTo: 2}},
	}
	p := *d.Proposal
	p.Lever, p.To, p.Sets = "sets", p.From, nil
	d.Proposal = &p
	doc := report.FromDossier(&d, report.Settings{})
	want := []report.Change{{Lever: "Back squat", From: "4 sets a week", To: "hack squat, 4 sets a week"}, {Lever: "Deadlift", From: "3 sets a week", To: "2 sets a week"}}
	for _, got := range [][]report.Change{doc.Review.Changes, doc.Training.Exercises} {
		if len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
			t.Errorf("the changes are %+v", got)
		}
	}
	if len(doc.Training.Reasons) != 1 {
		t.Errorf("the reasons are %q: what is proposed is no reason for itself", doc.Training.Reasons)
	}
	d.Sets = &training.Proposal{Action: training.Defer, Sentence: "What loads the knee is for a clinician.", Waits: []string{"leg press"}, Cautions: []string{"Do not train through pain that is sharp."}}
	doc = report.FromDossier(&d, report.Settings{})
	if len(doc.Training.Cautions) != 1 || !strings.Contains(doc.Training.Cautions[0].Call, "physiotherapist") || doc.Training.Waits[0] != "Leg press" {
		t.Errorf("it waits for %q with %+v", doc.Training.Waits, doc.Training.Cautions)
	}
}

// A muscle's sets are those of the engine, direct and indirect apart; what is below
// what keeps it is named.
func TestSetsOfTheRoster(t *testing.T) {
	for _, d := range dossiers(t) {
		doc := report.FromDossier(d, report.Settings{})
		if len(d.Volume.Weeks) == 0 {
			if len(doc.Sets.Weeks) != 0 {
				t.Errorf("%s: sets without a log", d.Athlete.ID)
			}
			continue
		}
		if len(doc.Sets.Chart.Rows) == 0 {
			continue
		}
		if len(doc.Sets.Chart.Rows) != len(athlete.Muscles()) {
			t.Errorf("%s: %d muscles", d.Athlete.ID, len(doc.Sets.Chart.Rows))
		}
		for _, r := range doc.Sets.Chart.Rows {
			named := strings.Contains(doc.Sets.Sentence, r.Name+" (")
			under := r.Direct+r.Indirect < min(*r.Maintenance, *r.OffSeason)
			if named != under {
				t.Errorf("%s: %s has %.1f sets of %.1f, and is named: %v", d.Athlete.ID, r.Name, r.Direct+r.Indirect, *r.Maintenance, named)
			}
		}
	}
}

// What a week of the plan uses and what it leaves are what there is; what cardio
// adds is told with its interval.
func TestCardioOfTheRoster(t *testing.T) {
	for _, d := range dossiers(t) {
		doc := report.FromDossier(d, report.Settings{TradeKcal: 200})
		c := doc.Cardio
		if c.Kcal != 200 || len(c.Ways) == 0 || !strings.Contains(c.Sentence, "should add to the day") {
			t.Errorf("%s: %s", d.Athlete.ID, c.Sentence)
		}
		for i, w := range c.Ways {
			if i > 0 && w.Open && !c.Ways[i-1].Open {
				t.Errorf("%s: %s is open and stands below what is not", d.Athlete.ID, w.Name)
			}
			if !w.Open && w.Remark == "" {
				t.Errorf("%s: it is not said what speaks against %s", d.Athlete.ID, w.Name)
			}
		}
		for _, w := range c.ReserveWeeks {
			if w.UsedKcal > w.ThereKcal+1e-9 || w.StepsLeft < 0 {
				t.Errorf("%s: week of %s uses %.0f of %.0f", d.Athlete.ID, w.From, w.UsedKcal, w.ThereKcal)
			}
		}
	}
}
