package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/decision"
	"glidepath/phrase"
	"glidepath/season"
)

func (b *builder) review() Review {
	p := b.Proposal
	if p == nil {
		s := "No review was asked for; the season and the forecast stand as they are."
		if b.Blocked != nil {
			s = fmt.Sprintf("There is no review while no deficit may be planned for %s; what can be said is how weight and food go on, %s.", b.name, rateWords(b.now.RatePct))
		}
		return Review{Section: Section{Sentence: s}}
	}
	r := Review{
		Date: b.AsOf, Proposal: sentence(p.Sentence), Changes: b.changes(p),
		Decision: b.decided(),
	}
	for _, s := range p.Reasons {
		r.Reasons = append(r.Reasons, sentence(s))
	}
	for _, s := range p.ChangesMind {
		r.WouldChange = append(r.WouldChange, sentence(s))
	}
	for _, c := range p.Cautions {
		r.Cautions = append(r.Cautions, Caution{Text: sentence(c)})
	}
	switch w := p.WeightIn4Kg; {
	case b.Forecast != nil && b.Show != nil && b.Show.Date < b.AsOf.AddDays(28): // the stage comes first
		r.Expects = fmt.Sprintf("On the day of the show, %s, the trend should stand near %s.", b.n.Date(b.Show.Date), b.weight(b.fanEnd()))
	case isFinite(w.Value) && w.Value > 0:
		r.Expects = fmt.Sprintf("On %s the trend should stand near %s.", b.n.Date(b.AsOf.AddDays(28)), b.weight(of(w)))
	}
	r.Sentence, r.Confidence = b.reviewSentence(p)
	if p.Action == decision.Change {
		r.ConfidencePct = new(100 * math.Min(p.Sure, 0.99))
	}
	return r
}

func (b *builder) reviewSentence(p *decision.Proposal) (opening, sure string) {
	gap := with(of(p.GapKcal), 0, "kcal a day")
	waits := "it waits for the coach’s decision"
	if state := b.decided().State; state != "" {
		waits = "it was " + state
	}
	switch p.Action {
	case decision.Change:
		direction := "more deficit"
		if p.ChangeKcal < 0 {
			direction = "less deficit"
			if !b.dieting() {
				direction = "more food"
			}
		} else if !b.dieting() {
			direction = "less surplus"
		}
		if p.Lever == decision.Sets {
			return fmt.Sprintf("One change, in training alone; %s.", waits), ""
		}
		return fmt.Sprintf("One change is proposed, worth %s a day of %s: %s; %s.", kcal(math.Abs(p.ChangeKcal)), direction, b.moveWords(p), waits),
			phrase.Capital(Likelihood(p.Sure)) + " that the direction is right"
	case decision.Begin:
		return fmt.Sprintf("A new phase begins: %s at %s a day on the week’s mean; %s.", p.Phase, kcal(p.To.EnergyKcal), waits),
			fmt.Sprintf("What it costs rests on an expenditure of %s.", with(of(b.now.ExpenditureKc), 0, "kcal a day"))
	case decision.Talk:
		return fmt.Sprintf("No figure changes this week: a word with %s comes first.", b.name),
			fmt.Sprintf("Against the plan the gap is %s, but what it is made of is not known before the talk.", gap)
	}
	return fmt.Sprintf("No change this week, with the gap to the plan at %s.", gap),
		fmt.Sprintf("The gap to the plan is %s: too little, or known too poorly, to act on.", gap)
}

// changes are the levers that the proposal moves.
func (b *builder) changes(p *decision.Proposal) []Change {
	var out []Change
	row := func(lever string, from, to float64, unit string) {
		if math.Round(from) != math.Round(to) {
			out = append(out, Change{lever, chart.Number(from, 0) + nbsp + unit, chart.Number(to, 0) + nbsp + unit})
		}
	}
	row("Energy, weekly mean", p.From.EnergyKcal, p.To.EnergyKcal, "kcal a day")
	row("Steps", p.From.StepsPerDay, p.To.StepsPerDay, "a day")
	row("Cardio", p.From.CardioMinutes, p.To.CardioMinutes, "min a week")
	if p.Lever != decision.Sets {
		return out
	}
	out = append(out, b.exerciseChanges()...)
	stood := map[athlete.Muscle]float64{}
	for _, s := range (*athlete.Prescription)(nil).SetsOr(b.Current) {
		stood[s.Muscle] = s.Sets
	}
	for _, s := range p.Sets {
		from := "as now"
		if v, ok := stood[s.Muscle]; ok {
			if v == s.Sets {
				continue
			}
			from = chart.Number(v, 0) + " a week"
		}
		out = append(out, Change{"Hard sets, " + string(s.Muscle), from, chart.Number(s.Sets, 0) + " a week"})
	}
	return out
}

// decided is what the coach did with the review of the day.
func (b *builder) decided() Decision {
	for i := range b.Reviews {
		if r := &b.Reviews[i]; r.Date == b.AsOf && r.Decision != "" {
			return Decision{State: string(r.Decision), Who: r.Who, Reason: r.Reason, On: civil.FromTime(r.DecidedAt)}
		}
	}
	return Decision{}
}

func (b *builder) prescription() Prescription {
	c := b.Current
	if c == nil {
		s := "Nothing is prescribed yet"
		if !b.silent() && isFinite(b.now.ExpenditureKc.Value) {
			s += fmt.Sprintf("; what would hold weight is %s, on the scale of the log", with(of(b.now.ExpenditureKc), 0, "kcal a day"))
		}
		return Prescription{Section: Section{Sentence: s + "."}}
	}
	in := instruction(c)
	s := fmt.Sprintf("%s a day on the week’s mean, %s steps a day", kcal(in.EnergyKcal), chart.Number(in.StepsPerDay, 0))
	if in.CardioMinutes > 0 {
		s += fmt.Sprintf(" and %s minutes of cardio a week", chart.Number(in.CardioMinutes, 0))
	}
	s += fmt.Sprintf(", for %s now: %s", weeks(max(1, b.AsOf.DaysSince(c.From))), b.balanceWords(in))
	if a := b.Reading.Adherence; a.Days >= 7 {
		s += fmt.Sprintf("; what is reported comes to %s of it (%s to %s)", percentage(100*a.MeanRatio, 0),
			chart.Number(100*(a.MeanRatio-1.645*a.SERatio), 0), chart.Number(100*(a.MeanRatio+1.645*a.SERatio), 0))
	}
	out := Prescription{Section: Section{Sentence: s + "."}, InForce: c}
	floor, ea := b.limits.EnergyAvailabilityFloorOn(b.AsOf), b.availability(in)
	switch {
	case ea < floor-0.05:
		out.Cautions = append(out.Cautions, Caution{
			Text: fmt.Sprintf("It leaves %s kcal per kg of fat-free mass a day, under the floor of %s.", chart.Number(ea, 0), chart.Number(floor, 0)),
			Call: "Raise food or take exercise away now. " + watch,
		})
	case b.dieting() && ea < floor+nearFloor && (b.Proposal == nil || b.Proposal.To != in): // else the review says it
		out.Cautions = append(out.Cautions, Caution{
			Text: fmt.Sprintf("It leaves %s kcal per kg of fat-free mass a day, close to the floor of %s.", chart.Number(ea, 0), chart.Number(floor, 0)),
			Call: watch,
		})
	}
	return out
}

// balanceWords says what an instruction comes to against expenditure as it is.
func (b *builder) balanceWords(in season.Instruction) string {
	x := b.now.ExpenditureKc
	low, high := in.EnergyKcal-x.High90, in.EnergyKcal-x.Low90
	switch mid := in.EnergyKcal - x.Value; {
	case high < 0:
		return fmt.Sprintf("a deficit of %s (%s to %s) against expenditure as it is now", kcal(-mid), chart.Number(-high, 0), chart.Number(-low, 0))
	case low > 0:
		return fmt.Sprintf("a surplus of %s (%s to %s) against expenditure as it is now", kcal(mid), chart.Number(low, 0), chart.Number(high, 0))
	default:
		return fmt.Sprintf("maintenance as far as can be told (balance %s, %s to %s)", kcal(mid), chart.Number(low, 0), chart.Number(high, 0))
	}
}

func (b *builder) appraisal() Appraisal {
	if !b.planned() {
		return Appraisal{Section: Section{Sentence: b.notAppraised()}}
	}
	a := &b.Season.Appraisal
	out := Appraisal{
		Section: Section{Sentence: b.appraisalSentence(a)}, Verdict: sentence(string(a.Verdict)),
		SlackWeeks: ofSpan(a.SlackWeeks),
	}
	if a.Verdict != season.InReach {
		if a.LatestSensible >= b.AsOf && (b.Current == nil || b.Current.Phase != athlete.Prep) {
			out.LatestStart = a.LatestSensible // of use only to who has not begun
		}
		out.WeeksThere = new(a.FastestWeeks.Value + a.SlackWeeks.Value)
	}
	if !neverArrives(a) {
		out.WeeksNeeded = ofSpan(a.FastestWeeks)
	} else {
		out.WeeksThere, out.SlackWeeks = nil, nil
	}
	for _, s := range a.Binds {
		out.Binds = append(out.Binds, sentence(s))
	}
	for _, w := range a.Ways {
		out.Ways = append(out.Ways, sentence(w.Sentence))
	}
	for i := range a.Alternatives {
		if len(a.Alternatives) == 1 && a.Alternatives[i].ShowDate == b.Show.Date {
			break // the plan itself
		}
		out.Alternatives = append(out.Alternatives, b.alternative(&a.Alternatives[i]))
	}
	return out
}

// longestWeeks is the length from which the season package gives up on a
// descent.
const longestWeeks = 120

func neverArrives(a *season.Appraisal) bool { return a.FastestWeeks.Value >= longestWeeks }

func (b *builder) notAppraised() string {
	switch {
	case b.Show == nil && b.Blocked != nil:
		return "There is no show to come and no deficit may be planned, so there is nothing to appraise."
	case b.Show == nil:
		return fmt.Sprintf("There is no show to come, so there is nothing to appraise: body fat is %s, in %s.", with(of(b.now.BodyFatPct), 1, "%"), phaseWords(b.Phase))
	}
	return fmt.Sprintf("The way to %s on %s, %s from now, is not appraised while no deficit may be planned.",
		b.Show.Name, b.n.Date(b.Show.Date), weeks(b.Show.Date.DaysSince(b.AsOf)))
}

func (b *builder) appraisalSentence(a *season.Appraisal) string {
	target := percentage(b.Show.TargetBodyFatPct, 1)
	lose := b.weight(ofSpan(a.LoseKg))
	there := weekNumber(a.FastestWeeks.Value + a.SlackWeeks.Value)
	fastest := with(ofSpan(a.FastestWeeks), 1, "weeks")
	switch {
	case a.Verdict == season.InReach:
		return fmt.Sprintf("Body fat is %s against a target of %s: hold condition for the %s to the show.", with(of(b.now.BodyFatPct), 1, "%"), target, weeks(b.Show.Date.DaysSince(b.AsOf)))
	case neverArrives(a):
		return fmt.Sprintf("%s to lose to %s body fat, which no descent within these limits ever reaches.", lose, target)
	case a.Verdict == season.NoTime:
		return fmt.Sprintf("%s to lose to %s body fat takes %s at the fastest that the limits permit, and there are %s in which a deficit can be planned.", lose, target, fastest, there)
	case a.Verdict == season.PreDiet:
		return fmt.Sprintf("%s to lose to %s body fat makes too long a prep in one go: a pre-prep diet now and a return to maintenance shorten it to %s, from %s.",
			lose, target, weeks(b.Show.Date.DaysSince(b.Season.Map.Start)), b.n.Date(b.Season.Map.Start))
	case a.Verdict == season.Early:
		return fmt.Sprintf("%s to lose to %s body fat takes %s at the fastest and %s at a sensible pace: start the prep on %s, %s out, and no later than %s.",
			lose, target, fastest, weekNumber(a.SensibleWeeks), b.n.Date(b.Season.Map.Start), weeks(b.Show.Date.DaysSince(b.Season.Map.Start)), b.n.Date(a.LatestSensible))
	}
	enough := fmt.Sprintf("%s to lose to %s body fat takes %s at the fastest that the limits permit, and there are %s in which a deficit can be planned: %s.",
		lose, target, fastest, there, slackWords(a.SlackWeeks))
	if a.Doubtful() {
		enough += fmt.Sprintf(" That this is enough is %s, by what is not known yet of body fat, expenditure and what life takes.", Likelihood(a.Chance))
	}
	return enough
}

func (b *builder) alternative(a *season.Alternative) Alternative {
	out := Alternative{
		Name: phrase.Capital(a.What), Start: a.Start, Show: a.ShowDate,
		DietWeeks: &Estimate{Value: a.Weeks}, SlackWeeks: &Estimate{Value: a.SlackWeeks},
		LeanChangeKg: &Estimate{Value: -a.LeanLostKg}, LowestKcal: new(a.LowestEnergyKcal),
		Note: fmt.Sprintf("%s a week on average", percentage(a.RatePct, 2)),
	}
	if !a.Feasible {
		out.Note = "does not arrive within the limits; " + out.Note
	}
	if a.Start == b.AsOf && a.ShowDate == b.Show.Date {
		out.SlackWeeks = ofSpan(b.Season.Corridor.SlackWeeks)
	}
	return out
}

func (b *builder) season() Season {
	if b.Season == nil {
		return Season{Section: Section{Sentence: b.notMapped()}}
	}
	m := &b.Season.Map
	out := Season{Section: Section{Sentence: b.seasonSentence()}}
	for _, p := range m.Phases {
		out.Phases = append(out.Phases, Phase{Phase: p, Note: b.phaseNote(p)})
	}
	for i := range m.Weeks {
		out.Weeks = append(out.Weeks, b.week(i))
	}
	for _, r := range m.Rests {
		out.Rests = append(out.Rests, sentence(r.Sentence))
		if !slices.Contains(out.Evidence, r.Evidence) {
			out.Evidence = append(out.Evidence, r.Evidence)
		}
	}
	for _, s := range b.Season.Frontier {
		out.Starts.Of = append(out.Starts.Of, chart.Start{
			Date: s.Date, LowestKcal: s.LowestEnergyKcal, LeanLostKg: s.LeanLostKg, Lands: s.Lands, Dominated: s.Dominated, Chosen: s.Chosen,
		})
	}
	near, dieting := 0, 0
	for i := range m.Weeks {
		w := &m.Weeks[i]
		if w.Phase != athlete.Prep && w.Phase != athlete.PrePrep {
			continue
		}
		dieting++
		if w.Available < b.limits.EnergyAvailabilityFloorOn(w.From)+1 {
			near++
		}
	}
	if near > 0 {
		which := fmt.Sprintf("In %d of the %d weeks of diet", near, dieting)
		if near == dieting {
			which = "In every week of diet"
		}
		out.Cautions = append(out.Cautions, Caution{
			Text: fmt.Sprintf("%s the plan stands within 1 kcal per kg of fat-free mass of the floor of energy availability, %s.", which, chart.Number(b.limits.EnergyAvailabilityFloor, 0)),
			Call: watch,
		})
	}
	return out
}

// phaseWords is a phase as one is in it.
func phaseWords(k athlete.PhaseKind) string {
	switch k {
	case athlete.OffSeason, athlete.PeakWeek:
		return "the " + string(k)
	}
	return string(k)
}

func (b *builder) notMapped() string {
	if b.Show == nil {
		return "No season is mapped while no deficit may be planned and no show is set."
	}
	return fmt.Sprintf("No season is mapped to %s on %s while no deficit may be planned.", b.Show.Name, b.n.Date(b.Show.Date))
}

func (b *builder) seasonSentence() string {
	m := &b.Season.Map
	var parts []string
	for _, p := range m.Phases {
		if b.Show != nil && p.From > b.Show.Date || p.Kind == athlete.ShowDay {
			continue
		}
		parts = append(parts, fmt.Sprintf("%s of %s", weeks(p.To.DaysSince(p.From)+1), p.Kind))
	}
	s := "Ahead lie " + list(parts)
	if !b.planned() {
		w := &m.Weeks[0]
		return s + fmt.Sprintf(", with %s a day in the first week.", kcal(w.Asked.EnergyKcal))
	}
	s += fmt.Sprintf(", then the show on %s", b.n.Date(b.Show.Date))
	if b.Forecast != nil {
		s += fmt.Sprintf("; the plan leads to %s body fat and the forecast says %s", percentage(m.Stage.BodyFatPct, 1), with(of(b.Forecast.BodyFat), 1, "%"))
	} else {
		s += fmt.Sprintf("; the plan leads to %s body fat", percentage(m.Stage.BodyFatPct, 1))
	}
	return s + fmt.Sprintf(", with %s a day in its lowest week.", kcal(m.Stage.LowestEnergyKcal))
}

// phaseNote says what a phase does to weight and what it asks of food.
func (b *builder) phaseNote(p athlete.Phase) string {
	var low, high, first, last float64
	n := 0
	weeks := b.Season.Map.Weeks
	for i := range weeks {
		w := &weeks[i]
		if w.From < p.From || w.From > p.To {
			continue
		}
		if n == 0 {
			low, high, first = w.Asked.EnergyKcal, w.Asked.EnergyKcal, w.WeightKg
		}
		low, high = math.Min(low, w.Asked.EnergyKcal), math.Max(high, w.Asked.EnergyKcal)
		last = w.WeightKg
		if i+1 < len(weeks) {
			last = weeks[i+1].WeightKg
		}
		n++
	}
	if n == 0 {
		return ""
	}
	unit := b.n.WeightUnit()
	from, to := chart.Number(b.n.FromKg(first), 1), chart.Number(b.n.FromKg(last), 1)
	energy := kcal(low)
	if math.Round(low/10) != math.Round(high/10) {
		energy = chart.Number(low, 0) + " to " + kcal(high)
	}
	if from == to {
		return fmt.Sprintf("planned at %s%s%s, on %s a day", from, nbsp, unit, energy)
	}
	return fmt.Sprintf("planned from %s to %s%s%s, on %s a day", from, to, nbsp, unit, energy)
}

func (b *builder) week(i int) Week {
	w := &b.Season.Map.Weeks[i]
	out := Week{
		From: w.From, Phase: w.Phase, EnergyKcal: new(w.Asked.EnergyKcal), Steps: new(w.Asked.StepsPerDay),
		CardioMinutes: new(w.Asked.CardioMinutes),
	}
	if f := b.Forecast; f != nil {
		if at := w.From.AddDays(w.Days).DaysSince(b.AsOf); at >= 0 && at < len(f.Fan) {
			q := &f.Fan[at].Weight
			out.WeightKg = &Estimate{q.P50, q.P05, q.P95}
		}
	}
	var notes []string
	if w.DietBreak {
		notes = append(notes, "diet break")
	}
	if w.Refeeds > 0 {
		notes = append(notes, count(w.Refeeds, "refeed day", "refeed days"))
	}
	for _, e := range b.Athlete.Events {
		if e.From < w.From.AddDays(w.Days) && e.To >= w.From {
			notes = append(notes, e.Kind)
		}
	}
	out.Note = strings.Join(notes, ", ")
	return out
}
