package scenario

import (
	"math"
	"slices"

	"glidepath/athlete"
	"glidepath/civil"
)

// diary is how the athlete keeps the log: with gaps that come in runs.
type diary struct {
	habits                 Logging
	pounds                 bool
	weigh, intake          chain
	steps, marker, setsLog stream
	feelings               stream
	counter                float64 // counted over walked steps
	counting               stream
}

func newDiary(l Logging, a *athlete.Athlete, purpose func(string) stream) diary {
	d := diary{
		habits: l, pounds: a.Units == athlete.Imperial,
		weigh:  newChain(l.WeightShare, l.GapDays, purpose("weigh-ins")),
		intake: newChain(l.IntakeShare, l.GapDays, purpose("intake log")),
		steps:  purpose("steps log"), marker: purpose("markers"), setsLog: purpose("sets log"),
		feelings: purpose("feelings log"),
		counting: purpose("step counter"),
	}
	d.counter = d.counting.normal(1, 0.05, 0.85, 1.15)
	return d
}

// chain is a two-state chain: kept or missed, with a given share kept and a
// mean length of the gaps.
type chain struct {
	kept          bool
	gapStays, gap float64 // chances: that a gap goes on, that one opens
	noise         stream
}

func newChain(share, gapDays float64, noise stream) chain {
	share = clamp(share, 0, 1)
	c := chain{noise: noise}
	switch share {
	case 0:
		c.gapStays = 1
	case 1:
		c.kept = true
	default:
		// A rare log cannot have short gaps.
		days := math.Max(math.Max(1, gapDays), (1-share)/share)
		c.gapStays = 1 - 1/days
		c.gap = (1 - share) / share / days
		c.kept = noise.Float64() < share
	}
	return c
}

func (c *chain) next() bool {
	u := c.noise.Float64()
	if c.kept {
		c.kept = u >= c.gap
	} else {
		c.kept = u >= c.gapStays
	}
	return c.kept
}

// opened is what will be logged of a day.
type opened struct{ weight, intake, steps, markers, feelings bool }

// open decides it. The weigh-in chain runs over the mornings on which the
// athlete weighs at all.
func (d *diary) open(on civil.Date) opened {
	o := opened{
		intake:   d.intake.next(),
		steps:    d.steps.Float64() < d.habits.StepsShare,
		markers:  d.marker.Float64() < d.habits.MarkersPer,
		feelings: d.feelings.Float64() < d.habits.FeelingsPer,
	}
	if len(d.habits.WeighOn) == 0 || slices.Contains(d.habits.WeighOn, athlete.Weekday(on.Weekday())) {
		o.weight = d.weigh.next()
	}
	return o
}

// onScale rounds to the division of the athlete's scale, 0.1 kg or 0.2 lb.
func (d *diary) onScale(kg float64) float64 {
	if d.pounds {
		return roundTo(roundTo(kg/athlete.KgPerPound, 0.2)*athlete.KgPerPound, 0.001)
	}
	return roundTo(kg, 0.1)
}

// write makes the day's entry in the log.
func (p *Person) write(t *TruthDay, logs opened, o *orders, did effort, ate meal) athlete.Day {
	d := &p.diary
	miscount := d.counting.NormFloat64()
	felt := p.mood.answers(p.tissue.depleted(), p.illDays > 0)

	day := athlete.Day{Date: t.Date}
	if logs.weight {
		day.WeightKg = new(d.onScale(t.ScaleKg + p.scaleOffsetKg(t.Date)))
	}
	if logs.intake {
		d.writeFood(&day, p.report, ate)
		day.DayType = o.kind
	}
	if logs.steps {
		day.Steps = new(math.Max(0, roundTo(did.steps*d.counter*(1+0.04*miscount), 10)))
		day.Cardio = o.cardio
	}
	if logs.markers {
		day.SleepH, day.Hunger, day.Fatigue = new(felt.sleepH), new(felt.hunger), new(felt.fatigue)
		day.RestingPulse = new(felt.pulse)
	}
	p.writeFeelings(&day, logs)
	if c := &p.cycle; c.on && !d.habits.NoCycle && c.day <= mostCycleDay && !day.Empty() {
		day.CycleDay = new(c.day)
	}
	if p.illDays > 0 && !day.Empty() {
		day.Notes = "ill"
	}
	return day
}

// writeFeelings adds how the day felt to one that has something else in it.
func (p *Person) writeFeelings(day *athlete.Day, logs opened) {
	felt := p.mood.feels(p.tissue.depleted(), p.illDays > 0)
	if !logs.feelings || day.Empty() {
		return
	}
	day.Soreness, day.Motivation, day.Mood = new(felt.soreness), new(felt.motivation), new(felt.mood)
	if p.joints.hurts() {
		day.Pain, day.PainWhere = new(p.joints.pain), p.joints.where
	}
}

// scaleOffsetKg is what the scale in use on a date shows too much.
func (p *Person) scaleOffsetKg(on civil.Date) float64 {
	kg := 0.0
	for _, s := range p.spec.Scales {
		if s.From <= on {
			kg = s.OffsetKg
		}
	}
	return kg
}

// mostCycleDay is the last day of a cycle that a log takes.
const mostCycleDay = 120

// writeFood logs intake on the scale of the log.
func (d *diary) writeFood(day *athlete.Day, factor float64, ate meal) {
	day.EnergyKcal = new(math.Round(ate.kcal * factor))
	if d.habits.NoMacros {
		return
	}
	day.ProteinG = new(math.Round(ate.proteinG * factor))
	day.CarbohydrateG = new(math.Round(ate.carbG * factor))
	day.FatG = new(math.Round(ate.fatG * factor))
	day.FibreG = new(math.Round(13 * ate.kcal * factor / 1000))
	day.SodiumMg = new(roundTo(ate.sodiumMg*factor, 10))
}
