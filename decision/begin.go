package decision

import (
	"fmt"

	"glidepath/athlete"
	"glidepath/season"
)

// phase proposes the plan's own instruction where nothing is prescribed yet or
// a phase of the map begins, and lets the peak week alone.
func (r *review) phase() bool {
	stage := r.out.Phase == athlete.PeakWeek || r.out.Phase == athlete.ShowDay
	switch {
	case r.Current == nil && r.mayWait():
		r.talk("Two weeks of logs come first: weight each morning and what is eaten. Until then expenditure is what equations expect, give or take %s, and there is time to find out.",
			kcal(1.645*r.last().ExpenditureKc.SD()))
		r.out.Sure = 1
	case r.Current == nil:
		r.begin("There is no prescription yet; this is the first, from the plan", r.gently(r.rounded(r.asked(r.plan))))
	case stage && (r.Current.Phase == athlete.PeakWeek || r.Current.Phase == athlete.ShowDay):
		r.hold("The peak week changes nothing that was not rehearsed: food at maintenance, usual water and salt, training light.")
	case stage:
		r.begin("The peak week begins with food at maintenance, usual water and salt, training light, nothing that was not rehearsed", r.food(r.asked(r.plan).EnergyKcal))
	case r.Current.Phase != "" && r.Current.Phase != r.out.Phase:
		r.begin(fmt.Sprintf("The %s begins now by the plan", r.out.Phase), r.gently(r.food(r.asked(r.plan).EnergyKcal)))
	default:
		return false
	}
	return true
}

// waitSlackWeeks is the slack that leaves time for two weeks of logs before a diet
// begins.
const waitSlackWeeks = 3.0

// mayWait reports whether a first prescription can wait for logs: there are next to
// none yet, and enough time.
func (r *review) mayWait() bool {
	e := r.Reading.Evidence
	return e.Days < r.set.LeastLogDays && e.WeightsTotal < r.set.LeastWeights && r.slack() > waitSlackWeeks
}

// food is what stands with another energy: one thing changes at a time, even
// where a phase begins.
func (r *review) food(energyKcal float64) season.Instruction {
	to := r.out.From
	to.EnergyKcal = energyKcal
	return r.whole(to)
}

// gently raises the food of an instruction until the permitted rate of loss is
// kept as surely as is asked for: at the beginning expenditure is known least.
func (r *review) gently(in season.Instruction) season.Instruction {
	if !r.dieting() {
		return in
	}
	const sure, kcalPerKg, most = 0.84, 7700.0, 40 // 80 % of a normal distribution
	last := r.last()
	margin := 100 * sure * last.ExpenditureKc.SD() * 7 / kcalPerKg / last.TrendKg.Value
	for n := 0; !r.slow(in, margin) && n < most; n++ {
		in.EnergyKcal += foodStepKcal
	}
	return in
}

// begin proposes an instruction, however far from what stands.
func (r *review) begin(why string, to season.Instruction) {
	o := &r.out
	o.Action, o.Lever, o.To = Begin, Food, to
	o.ChangeKcal = r.deficit(to) - r.deficit(o.From)
	o.Sentence = fmt.Sprintf("%s: %s.", why, describe(to))
	r.reason("Expenditure is %s a day (%s), so this is %s.",
		kcal(r.last().ExpenditureKc.Value), within(r.last().ExpenditureKc), perDay(balanceWords(r.deficit(to))))
}

func perDay(balance string) string {
	if balance == "maintenance" {
		return balance
	}
	return balance + " a day"
}

// restWeek begins and ends the weeks at maintenance of a diet.
func (r *review) restWeek() bool {
	w := r.thisWeek()
	if w == nil || !r.dieting() {
		return false
	}
	stands := r.Current.For(athlete.DietBreakDay) != nil
	name := "week at maintenance"
	if w.DietBreak {
		name = "diet break"
	}
	switch {
	case resting(w) && stands:
		r.hold(fmt.Sprintf("The %s goes on.", name))
	case resting(w):
		r.begin(fmt.Sprintf("A %s begins now by the plan, for a week", name), r.food(r.asked(w.Asked).EnergyKcal))
		r.reason("There is time for it. Its evidence is comfort and adherence, not lean mass.")
	case stands:
		r.begin("The diet break is over; the diet goes on by the plan", r.food(r.asked(r.plan).EnergyKcal))
	default:
		return false
	}
	return true
}
