package report

import (
	"fmt"
	"math"
	"strings"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/decision"
	"glidepath/reading"
	"glidepath/season"
)

// Settings are what a document takes from its reader. The zero value is the
// recommended one.
type Settings struct {
	// DateLayout overrides the long form of a date, as in time.Format.
	DateLayout string
	// Invented says that the athlete is made up.
	Invented bool
	// TradeKcal is the energy that the ways of spending it are compared by; 0 is 300.
	TradeKcal float64
}

// FromDossier makes the document of a dossier. Every section opens with a
// sentence made from its figures, in the dossier's own unit of weight. What the
// dossier lacks, since the athlete is blocked, has no show, or has logged
// nothing, is said where it would stand.
func FromDossier(d *app.Dossier, s Settings) Document {
	b := builder{Dossier: d, n: chart.Notation{Units: d.Athlete.Units, DateLayout: s.DateLayout}}
	b.name, _, _ = strings.Cut(d.Athlete.Name, " ")
	b.now = &d.Reading.Daily[len(d.Reading.Daily)-1]
	b.limits = d.Athlete.EffectiveLimits()
	out := Document{
		Name: d.Athlete.Name, AsOf: d.AsOf, LogsTo: d.Reading.Evidence.LastLog, Notation: b.n, Invented: s.Invented,
		Lead: b.lead(),
	}
	if d.Show != nil {
		out.Show = &Show{Name: d.Show.Name, Division: d.Show.Division, Date: d.Show.Date}
	}
	if d.Blocked != nil {
		out.Cautions = []Caution{{Text: sentence(d.Blocked.Message), Call: d.Blocked.Hint}}
	}
	out.Corridor = b.corridor()
	out.Review = b.review()
	out.Prescription = b.prescription()
	out.Appraisal = b.appraisal()
	out.Season = b.season()
	out.Expenditure = b.expenditure()
	out.Composition = b.composition()
	out.Strength = b.strength()
	out.Sets = b.sets()
	out.Load = b.load()
	out.Training = b.training()
	out.Activity = b.activity()
	out.Cardio = b.cardio(s.TradeKcal)
	out.Recovery = b.recovery()
	out.Chances = b.chances()
	out.CannotTell = b.cannotTell()
	return out
}

// builder writes the sections of one dossier.
type builder struct {
	*app.Dossier
	n      chart.Notation
	name   string            // the first name
	now    *reading.Estimate // of the last day
	limits athlete.Limits
}

// planned reports whether there is a season with a show to get to.
func (b *builder) planned() bool {
	return b.Season != nil && b.Show != nil && len(b.Season.Corridor.Days) > 0
}

func (b *builder) dieting() bool { return b.Phase == athlete.Prep || b.Phase == athlete.PrePrep }

// silent reports whether nothing was ever logged.
func (b *builder) silent() bool { return b.Reading.Evidence.LastLog.IsZero() }

// lead is what is so and what to do.
func (b *builder) lead() string {
	var parts []string
	switch {
	case b.Blocked != nil:
		return b.blockedLead()
	case b.planned() && b.Season.Appraisal.Verdict == season.InReach:
		parts = append(parts, fmt.Sprintf("the target of %s body fat is reached as far as can be told", percentage(b.Show.TargetBodyFatPct, 1)))
	case b.planned():
		parts = append(parts, slackWords(b.Season.Corridor.SlackWeeks))
	}
	rate := rateWords(b.now.RatePct)
	if b.dieting() && b.now.RatePct.Low90 > 0 {
		rate += fmt.Sprintf(" where at most %s is permitted", percentage(b.limits.RatePctPerWeek(b.now.BodyFatPct.Value), 2))
	}
	if b.silent() {
		rate = "nothing is logged yet"
	}
	parts = append(parts, rate)
	if do := b.whatToDo(); do != "" {
		parts = append(parts, do)
	}
	if b.planned() && b.Season.Appraisal.Verdict == season.NoTime {
		parts = append(parts, "and decide about the show or the target, for which the ways stand under “Is there enough time?”")
	}
	return sentence(strings.Join(parts, "; "))
}

func (b *builder) blockedLead() string {
	why := "until a clinician has given clearance"
	if age := b.Athlete.BirthDate.YearsUntil(b.AsOf); age < athlete.Adult {
		why = fmt.Sprintf("at %d years of age", age)
	} else if open := b.Athlete.Screening.Open(b.AsOf); len(open) > 0 {
		words := make([]string, len(open))
		for i, c := range open {
			words[i] = string(c)
		}
		why = fmt.Sprintf("until a clinician has given clearance for “%s”", list(words))
	}
	s := fmt.Sprintf("No deficit is planned for %s %s", b.name, why)
	if b.silent() {
		return s + "."
	}
	return s + fmt.Sprintf("; till then eat what holds weight, %s, and go on logging.", with(of(b.now.ExpenditureKc), 0, "kcal a day"))
}

// whatToDo is the proposal in a clause.
func (b *builder) whatToDo() string {
	p := b.Proposal
	if p == nil {
		return ""
	}
	switch p.Action {
	case decision.Hold:
		return "hold"
	case decision.Change:
		return b.moveWords(p)
	case decision.Begin:
		return fmt.Sprintf("begin the %s with %s a day", p.Phase, kcal(p.To.EnergyKcal))
	case decision.Talk:
		clause, _, _ := strings.Cut(p.Sentence, ";")
		return uncapital(strings.TrimSuffix(clause, "."))
	}
	return ""
}

// moveWords says which lever a change moves, from what to what.
func (b *builder) moveWords(p *decision.Proposal) string {
	switch p.Lever {
	case decision.Steps:
		return fmt.Sprintf("steps from %s to %s a day", chart.Number(p.From.StepsPerDay, 0), chart.Number(p.To.StepsPerDay, 0))
	case decision.Cardio:
		return fmt.Sprintf("cardio from %s to %s minutes a week", chart.Number(p.From.CardioMinutes, 0), chart.Number(p.To.CardioMinutes, 0))
	case decision.Sets:
		if len(p.Sets) == 0 {
			return "training alone, with food and activity as they are"
		}
		return "fewer hard sets, with food and activity as they are"
	}
	return fmt.Sprintf("energy from %s to %s a day", chart.Number(p.From.EnergyKcal, 0), kcal(p.To.EnergyKcal))
}

// availability is energy availability under an instruction, kcal per kg of
// fat-free mass a day.
func (b *builder) availability(in season.Instruction) float64 {
	return (in.EnergyKcal - b.Levers.ExerciseKcalPerKg(in.CardioMinutes)*b.now.TrendKg.Value) / b.now.LeanKg.Value
}

// nearFloor is how close to the floor of energy availability a word is due, in
// kcal per kg of fat-free mass (judgement).
const nearFloor = 3.0

// watch is whom to call about low energy availability.
const watch = "Watch mood, sleep, resting pulse, libido and cycles; a sports physician or sports dietitian should know of it."

// instruction is a prescription as weekly means.
func instruction(p *athlete.Prescription) season.Instruction {
	return season.Instruction{EnergyKcal: p.MeanEnergyKcal(), StepsPerDay: p.Steps, CardioMinutes: p.CardioMinutes()}
}

// stage is the weight that the target's body fat comes to with the lean mass that
// is left by then; ok is false where nothing is planned.
func (b *builder) stage() (t chart.Target, ok bool) {
	if !b.planned() {
		return t, false
	}
	s := b.Season.Map.Stage
	lean := s.WeightKg * (1 - s.BodyFatPct/100)
	days := b.Season.Corridor.Days
	if end := days[len(days)-1]; !b.Season.Map.Lands && end.UpperKg.Known() {
		// The plan ends short of the target, with lean mass that is still to go.
		lean = float64(end.UpperKg) * (1 - float64(end.UpperPct)/100)
	}
	at := func(pct float64) float64 { return lean/(1-pct/100) + b.water(len(days)-1) }
	target, tolerance := b.Show.TargetBodyFatPct, b.Show.Tolerance()
	floor := athlete.BodyFatFloorPct(b.Athlete.Sex)
	t = chart.Target{WeightKg: at(target), LowKg: at(math.Max(floor, target-tolerance)), HighKg: at(target + tolerance)}
	return t, isFinite(t.WeightKg)
}

// weekOf are the days of the log in the seven days from a date, within the log's
// own range.
func (b *builder) weekOf(from civil.Date) []athlete.Day {
	var out []athlete.Day
	for i := range b.Days {
		if d := &b.Days[i]; d.Date >= from && d.Date < from.AddDays(7) && d.Date <= b.AsOf {
			out = append(out, *d)
		}
	}
	return out
}

// firstMonday is the Monday of the week in which the reading begins.
func (b *builder) firstMonday() civil.Date { return b.Reading.Daily[0].Date.Monday() }

// prescribedOn is what stood on a date, nil where nothing did.
func (b *builder) prescribedOn(on civil.Date) *athlete.Prescription {
	var found *athlete.Prescription
	for i := range b.Prescriptions {
		if b.Prescriptions[i].From <= on {
			found = &b.Prescriptions[i]
		}
	}
	return found
}
