package report

import (
	"fmt"
	"strings"

	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/phrase"
	"glidepath/training"
)

// wholeWeeks are the weeks of the volume that are over.
func (b *builder) wholeWeeks() (out []training.WeekVolume) {
	for i := range b.Volume.Weeks {
		if w := b.Volume.Weeks[i]; w.Monday.AddDays(6) <= b.AsOf {
			out = append(out, w)
		}
	}
	return out
}

func (b *builder) sets() Sets {
	if len(b.Volume.Weeks) == 0 {
		return Sets{}
	}
	whole := b.wholeWeeks()
	out := Sets{Chart: chart.Muscles{Title: "Hard sets a week, of late"}}
	from, to, lately := training.Lately(whole)
	if lately {
		out.Chart.Rows = b.muscleRows(whole, from, to)
	}
	out.Sentence = b.setsSentence(out.Chart.Rows, from, to, lately)
	out.Reps = chart.Splits{Title: "Hard sets by repetitions to failure", Kinds: []string{"1 to 5", "6 to 12", "13 and more"}}
	out.Effort = chart.Splits{Title: "Hard sets by repetitions left in reserve", Kinds: []string{"0 to 1", "2 to 4", "not logged"}}
	for i := range b.Volume.Weeks {
		w := &b.Volume.Weeks[i]
		out.Reps.Weeks = append(out.Reps.Weeks, chart.SplitWeek{From: w.Monday, Sets: []float64{w.Reps.Heavy, w.Reps.Middle, w.Reps.Light}})
		out.Effort.Weeks = append(out.Effort.Weeks, chart.SplitWeek{From: w.Monday, Sets: []float64{w.Effort.Near, w.Effort.Short, w.Effort.Unknown}})
		out.Weeks = append(out.Weeks, SetsWeek{From: w.Monday, Whole: i < len(whole), HardSets: w.HardSets, TonnageKg: w.TonnageKg, Muscles: w.Muscles})
	}
	for _, u := range b.Volume.Uncounted {
		out.Uncounted = append(out.Uncounted, fmt.Sprintf("%s (%s)", u.Exercise, count(u.Sets, "set", "sets")))
	}
	return out
}

// muscleRows are the muscles' sets a week on the mean of some weeks.
func (b *builder) muscleRows(weeks []training.WeekVolume, from, to civil.Date) []chart.MuscleRow {
	var out []chart.MuscleRow
	n := 0.0
	for i := range weeks {
		if weeks[i].Monday >= from && weeks[i].Monday <= to {
			n++
		}
	}
	for k, m := range athlete.Muscles() {
		row := chart.MuscleRow{Name: string(m)}
		for i := range weeks {
			if w := &weeks[i]; w.Monday >= from && w.Monday <= to {
				row.Direct += w.ByMuscle[k].Direct / n
				row.Indirect += (w.For(m) - w.ByMuscle[k].Direct) / n
			}
		}
		if b.OffSeason != nil {
			row.OffSeason = new(b.OffSeason[k].Sets)
			row.Maintenance = new(b.maintenance(m, b.OffSeason[k].Sets))
		}
		out = append(out, row)
	}
	return out
}

// maintenance is what keeps a muscle, as the proposal reckons it where there is one.
func (b *builder) maintenance(m athlete.Muscle, offSeason float64) float64 {
	if b.Sets != nil {
		for _, d := range b.Sets.Doses {
			if d.Muscle == m {
				return d.Sets
			}
		}
	}
	return training.MaintenanceDose(m, offSeason).Sets
}

func (b *builder) setsSentence(rows []chart.MuscleRow, from, to civil.Date, lately bool) string {
	if !lately {
		return "No whole week of lifting is logged yet; with the first, its hard sets are counted here by muscle."
	}
	var now, off float64
	var under []string
	for _, r := range rows {
		total := r.Direct + r.Indirect
		now += total
		if r.OffSeason == nil {
			continue
		}
		off += *r.OffSeason
		if total < min(*r.Maintenance, *r.OffSeason) {
			under = append(under, fmt.Sprintf("%s (%s of %s)", r.Name, chart.Number(total, 1), chart.Number(*r.Maintenance, 1)))
		}
	}
	s := fmt.Sprintf("By muscle it comes to %s hard sets a week on the mean of %s to %s", chart.Number(now, 0), b.n.ShortDate(from), b.n.ShortDate(to))
	if off > 0 {
		s += fmt.Sprintf(", %s of the off-season’s", percentage(100*now/off, 0))
	}
	switch {
	case off == 0:
	case len(under) == 0:
		s += "; every muscle gets what is judged to keep it"
	default:
		s += "; under what is judged to keep them: " + list(under)
	}
	return s + "."
}

func (b *builder) load() Load {
	var out Load
	var last *training.WeekLoad
	for i := range b.Loads {
		w := &b.Loads[i]
		row := LoadWeek{From: w.From, Sessions: w.Sessions, OfUsual: w.OfUsual}
		if w.Sessions > 0 {
			row.Load, row.Monotony, row.Strain = &w.Load, &w.Monotony, &w.Strain
			last = w
		}
		out.Weeks = append(out.Weeks, row)
		out.Chart.Weeks = append(out.Chart.Weeks, chart.LoadWeek{From: w.From, Load: row.Load, Monotony: row.Monotony, Strain: row.Strain})
	}
	if last == nil {
		return Load{}
	}
	s := fmt.Sprintf("In the week from %s the load was %s", b.n.ShortDate(last.From), chart.Number(last.Load, 0))
	if last.OfUsual != nil {
		s += fmt.Sprintf(", %s times that of the four weeks before", chart.Number(*last.OfUsual, 1))
	}
	s += fmt.Sprintf("; monotony was %s and strain %s", chart.Number(last.Monotony, 1), chart.Number(last.Strain, 0))
	if last.Monotony >= training.MonotonyHigh {
		s += ", since its days were much alike: an easier day between hard ones would lower both"
	}
	out.Sentence = s + "."
	return out
}

// state is what the markers come to as one.
func (b *builder) state(out *Recovery) {
	r := &b.Recovery
	if len(r.Weeks) == 0 || b.silent() {
		return
	}
	any := false
	out.State.Short = training.ShortRecovery
	for _, w := range r.Weeks {
		out.State.Weeks = append(out.State.Weeks, chart.Estimate{Date: w.To, Value: w.State.Value, Low: w.State.Low90, High: w.State.High90})
		any = any || w.Logged > 0
	}
	if !any {
		out.State = chart.State{}
		return
	}
	for _, m := range r.Markers {
		out.Signs = append(out.Signs, Sign{Name: phrase.Capital(m.Marker), Lately: m.Lately, Usual: m.Usual, Effect: m.Effect})
	}
	for _, c := range r.Cannot {
		out.Cannot = append(out.Cannot, sentence(c))
	}
	out.Sentence = strings.TrimSpace(sentence(r.Sentence) + " " + out.Sentence)
	if c := &b.Capacity; b.OffSeason != nil {
		out.Capacity = &Capacity{SharePct: of(c.Share.Scale(100)), Sentence: sentence(c.Sentence), Evidence: sentence(c.Evidence)}
	}
}

// stateWords says the state of recovery in a clause.
func (b *builder) stateWords() string {
	r := &b.Recovery
	if !r.Told() {
		return "how well " + b.name + " recovers is hardly known"
	}
	figures := fmt.Sprintf(" (%s, 90%s%% between %s and %s, where 0 is usual)", chart.Number(r.Week.Value, 1), nbsp, chart.Number(r.Week.Low90, 1), chart.Number(r.Week.High90, 1))
	switch {
	case r.Short >= 0.8:
		return "recovery is short" + figures
	case r.Short >= 0.5:
		return "recovery is probably short" + figures
	case r.Week.High90 < 0:
		return "recovery is below what is usual, and not short" + figures
	case r.Week.Low90 > 0:
		return "recovery is better than usual" + figures
	}
	return "recovery is as usual as far as can be told" + figures
}

// trainingLead is what is so of the training and what to do.
func (b *builder) trainingLead() string {
	var parts []string
	switch o := b.Strength.Overall; {
	case len(b.Strength.Lifts) == 0:
		parts = append(parts, "no set is logged yet")
	case o == nil:
		parts = append(parts, "how much strength is kept cannot be told yet")
	default:
		parts = append(parts, with(of(o.Pct), 0, "%")+" of the strength is kept")
	}
	if !b.silent() {
		parts = append(parts, b.stateWords())
	}
	return sentence(strings.Join(append(parts, b.trainingDo()), "; "))
}

// trainingDo is what to do about the sets in a clause.
func (b *builder) trainingDo() string {
	p := b.Sets
	if p == nil {
		return "log sets, or write a programme, to be told what to do"
	}
	switch p.Action {
	case training.Defer:
		return "what hurts is for a clinician first"
	case training.Deload:
		return "an easy week is due"
	case training.Swap:
		if len(p.Exercises) > 0 {
			return fmt.Sprintf("do %s in place of %s", p.Exercises[0].SwapTo, p.Exercises[0].Exercise)
		}
	case training.FewerSets:
		return fmt.Sprintf("take %s of the hard sets away", percentage(p.CutPct, 0))
	}
	return "leave the sets as they are"
}

// training is what is so of the training as a whole, and what is proposed for it.
func (b *builder) training() Training {
	out := Training{Section: Section{Sentence: b.trainingLead()}}
	p := b.Sets
	if p == nil {
		return out
	}
	out.Advice = sentence(p.Sentence)
	out.Exercises = b.exerciseChanges()
	out.Expects, out.WouldChange = sentences(p.Expects), sentences(p.ChangesMind)
	for _, why := range sentences(p.Reasons) {
		if why != out.Advice {
			out.Reasons = append(out.Reasons, why)
		}
	}
	for _, w := range p.Waits {
		out.Waits = append(out.Waits, phrase.Capital(w))
	}
	for i, c := range p.Cautions {
		one := Caution{Text: sentence(c)}
		if p.Action == training.Defer && i == 0 {
			one.Call = "What is to be trained, and how, is for a doctor or physiotherapist to say."
		}
		out.Cautions = append(out.Cautions, one)
	}
	return out
}

func sentences(all []string) []string {
	out := make([]string, len(all))
	for i, s := range all {
		out[i] = sentence(s)
	}
	return out
}

// exerciseChanges are the exercises that the proposal for training changes.
func (b *builder) exerciseChanges() []Change {
	if b.Sets == nil {
		return nil
	}
	var out []Change
	for _, e := range b.Sets.Exercises {
		from, to := chart.Number(e.SetsFrom, 0)+" sets a week", chart.Number(e.SetsTo, 0)+" sets a week"
		if e.SwapTo != "" {
			to = e.SwapTo + ", " + to
		}
		out = append(out, Change{phrase.Capital(e.Exercise), from, to})
	}
	return out
}
