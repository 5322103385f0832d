package food

import (
	"fmt"
	"math"

	"glidepath/athlete"
	"glidepath/fault"
	"glidepath/phrase"
)

// Atwater's general factors, kcal/g (Merrill & Watt 1955).
const (
	ProteinKcalPerG      = 4.0
	CarbohydrateKcalPerG = 4.0
	FatKcalPerG          = 9.0
)

// EnergyStepKcal is what prescribed energy is rounded to.
const EnergyStepKcal = 25.0

// Fat as a share of energy, per cent: least and most aimed at (Helms et al.
// 2014, JISSN 11:20: 15 to 30 %).
const (
	FatShareFloorPct   = 15.0
	FatShareCeilingPct = 30.0
)

// proteinTopGPerKgFFM is the top of the range for lean lifters in a deficit
// (Helms et al. 2014, IJSNEM 24:127: 2.3 to 3.1 g/kg FFM).
const proteinTopGPerKgFFM = 3.1

// Week counts the day types of one week; they sum to 7.
type Week struct {
	Training, Rest, Refeed, DietBreak int
}

// Settings are a coach's preferences; the zero value is the recommendation.
type Settings struct {
	// ProteinGPerKgFFM is the aim, at least the limit's floor. Zero aims at the
	// floor plus up to 0.5 as the athlete nears stage leanness, because the need
	// rises with leanness (Helms et al. 2014; the slope is judgement).
	ProteinGPerKgFFM float64
	// FatSharePct is the aim for fat on days other than refeeds, per cent of the
	// mean energy of those days, 15 to 30. Zero is 25 (judgement).
	FatSharePct float64
	// CarbohydrateGPerKg is the least carbohydrate per kg body weight. Zero is 1
	// (judgement: enough to train on; not a published floor).
	CarbohydrateGPerKg float64
	// TrainingExtraPct is how much more a training day has than a rest day, per
	// cent of the weekly mean, 0 to 30. Zero is 10 (judgement).
	TrainingExtraPct float64
	// SameEveryDay gives training and rest days the same energy.
	SameEveryDay bool
}

// Need is what a week of food must meet.
type Need struct {
	MeanEnergyKcal  float64 // weekly mean, as the athlete reports food
	MaintenanceKcal float64 // on the same scale; used for refeed and diet-break days only
	WeightKg        float64
	FFMKg           float64
	Sex             athlete.Sex
	Limits          *athlete.Limits // nil is the defaults for the sex
	Week            Week
	Settings        Settings
}

// Plan is a week of food.
type Plan struct {
	Days             []athlete.DayPrescribed `json:"days"` // training, rest, refeed, diet break: those in use
	ProteinGPerKgFFM float64                 `json:"protein_g_per_kg_ffm"`
	Notes            []string                `json:"notes,omitempty"` // what had to give way, in sentences
}

// Macros plans a week. Refeeds and diet-break days are held within 100 kcal of
// maintenance and the other days carry the deficit; a week of nothing else takes
// the wanted mean. Where energy is short, training and rest days draw closer,
// fat falls to its floor, and protein comes down to its floor, in that order.
//
// Each day keeps: protein at least Limits.ProteinGPerKgFFM; fat at least
// Limits.FatGPerKg and 15 % of energy; carbohydrate at least the setting and the
// fibre in it; fibre at least Limits.FibreGPer1000.
//
// The error is Invalid for a need that makes no sense, and Refused, saying what
// binds, where energy cannot hold the floors.
func Macros(n Need) (Plan, error) {
	p, err := newProblem(n)
	if err != nil {
		return Plan{}, err
	}
	for protein := p.proteinAimG; protein >= p.proteinFloorG; protein-- {
		if ks, ok := p.split(protein); ok {
			return p.plan(ks, protein), nil
		}
	}
	return Plan{}, p.refusal()
}

// problem is a checked Need with its floors in whole grams.
type problem struct {
	need                       Need
	limits                     athlete.Limits
	meanSteps                  int // the wanted mean in steps of 25 kcal
	proteinAimG, proteinFloorG int
	fatAimG                    float64
	carbFloorG                 int
	slots                      []slot
}

func newProblem(n Need) (*problem, error) {
	limits := athlete.DefaultLimits(n.Sex)
	if n.Limits != nil {
		limits = *n.Limits
	}
	if err := n.check(&limits); err != nil {
		return nil, err
	}
	p := &problem{need: n, limits: limits}
	p.meanSteps = int(math.Round(n.MeanEnergyKcal / EnergyStepKcal))
	p.proteinFloorG = ceil(limits.ProteinGPerKgFFM * n.FFMKg)
	p.proteinAimG = max(p.proteinFloorG, int(math.Round(p.proteinAim()*n.FFMKg)))
	carb := n.Settings.CarbohydrateGPerKg
	if carb == 0 {
		carb = 1
	}
	p.carbFloorG = ceil(carb * n.WeightKg)
	p.slots = p.layOut()
	p.fatAimG = p.fatAim()
	return p, nil
}

func (n *Need) check(limits *athlete.Limits) error {
	if n.Sex != athlete.Female && n.Sex != athlete.Male {
		return fault.New(fault.Invalid, "sex is %q; the limits need female or male.", n.Sex).WithField("sex")
	}
	if err := limits.Validate(n.Sex); err != nil {
		return err
	}
	w := n.Week
	if w.Training < 0 || w.Rest < 0 || w.Refeed < 0 || w.DietBreak < 0 ||
		w.Training+w.Rest+w.Refeed+w.DietBreak != 7 {
		return fault.New(fault.Invalid,
			"the week has %d training, %d rest, %d refeed and %d diet-break days; they must fill 7.",
			w.Training, w.Rest, w.Refeed, w.DietBreak).WithField("week")
	}
	s := n.Settings
	for _, b := range []struct {
		field     string
		v         float64
		low, high float64
		unit      string
	}{
		{"mean_energy_kcal", n.MeanEnergyKcal, 800, 10000, "kcal"},
		{"weight_kg", n.WeightKg, 35, 220, "kg"},
		{"ffm_kg", n.FFMKg, 20, n.WeightKg, "kg"},
		{"protein_g_per_kg_ffm", orElse(s.ProteinGPerKgFFM, limits.ProteinGPerKgFFM), limits.ProteinGPerKgFFM, 4, "g/kg FFM"},
		{"fat_share_pct", orElse(s.FatSharePct, FatShareFloorPct), FatShareFloorPct, FatShareCeilingPct, "%"},
		{"carbohydrate_g_per_kg", s.CarbohydrateGPerKg, 0, 12, "g/kg"},
		{"training_extra_pct", s.TrainingExtraPct, 0, 30, "%"},
	} {
		if !(b.v >= b.low && b.v <= b.high) {
			return fault.New(fault.Invalid, "%v is outside %v to %v %s.", b.v, b.low, b.high, b.unit).WithField(b.field)
		}
	}
	return n.checkMaintenance()
}

func (n *Need) checkMaintenance() error {
	fixed := n.Week.Refeed + n.Week.DietBreak
	if fixed == 0 || fixed == 7 {
		return nil
	}
	if !(n.MaintenanceKcal >= 800 && n.MaintenanceKcal <= 10000) {
		return fault.New(fault.Invalid,
			"refeed and diet-break days are eaten at maintenance, but maintenance is %v kcal.", n.MaintenanceKcal).
			WithField("maintenance_kcal")
	}
	if math.Round(n.MeanEnergyKcal/EnergyStepKcal) > math.Round(n.MaintenanceKcal/EnergyStepKcal) {
		return fault.New(fault.Invalid,
			"a mean of %s kcal is above maintenance (%s kcal), so a refeed or diet break has no deficit to interrupt.",
			phrase.Number(n.MeanEnergyKcal, 0), phrase.Number(n.MaintenanceKcal, 0)).
			WithField("week").WithHint("Count those days as training or rest days.")
	}
	return nil
}

func (p *problem) proteinAim() float64 {
	if g := p.need.Settings.ProteinGPerKgFFM; g > 0 {
		return g
	}
	bodyFatPct := 100 * (1 - p.need.FFMKg/p.need.WeightKg)
	aim := p.limits.ProteinGPerKgFFM + 0.5*p.limits.Leanness(bodyFatPct)
	return math.Max(p.limits.ProteinGPerKgFFM, math.Min(proteinTopGPerKgFFM, aim))
}

// fatAim is the fat of every day but refeeds, so that the difference between
// training and rest days is carbohydrate.
func (p *problem) fatAim() float64 {
	share := orElse(p.need.Settings.FatSharePct, 25) / 100
	var energy float64
	var days int
	for _, s := range p.slots {
		if s.kind != athlete.RefeedDay {
			energy += float64(s.perWeek) * s.aim * EnergyStepKcal
			days += s.perWeek
		}
	}
	if days == 0 {
		return 0
	}
	return share * energy / float64(days) / FatKcalPerG
}

// portion is the fat, carbohydrate and fibre of a day.
type portion struct{ fatG, carbG, fibreG int }

// portion shares out a day's energy; ok is false where the floors do not fit.
// fatAimG is what fat should come near.
func (p *problem) portion(kind athlete.DayType, steps, proteinG int, fatAimG float64) (portion, bool) {
	energy := steps * EnergyStepKcal
	fibre := ceil(p.limits.FibreGPer1000 * float64(energy) / 1000)
	carbFloor := max(p.carbFloorG, fibre)
	floor := p.fatFloorG(energy)
	fat := floor
	if kind != athlete.RefeedDay {
		fat += max(0, 4*int(math.Round((fatAimG-float64(floor))/4)))
	}
	carb := (energy - 4*proteinG - 9*fat) / 4
	for carb < carbFloor && fat > floor {
		fat -= 4
		carb += 9
	}
	return portion{fat, carb, fibre}, carb >= carbFloor
}

// fatFloorG is the least fat that keeps both floors and leaves a multiple of
// 4 kcal for protein and carbohydrate: as 25 and 9 both leave 1 when divided by
// 4, fat in grams must leave what energy in kcal leaves.
func (p *problem) fatFloorG(energy int) int {
	fat := ceil(math.Max(p.limits.FatGPerKg*p.need.WeightKg, FatShareFloorPct/100*float64(energy)/FatKcalPerG))
	return fat + ((energy-fat)%4+4)%4
}

func (p *problem) plan(ks []int, proteinG int) Plan {
	out := Plan{ProteinGPerKgFFM: float64(proteinG) / p.need.FFMKg}
	fatAim := p.fatAimG
	byKind := map[athlete.DayType]athlete.DayPrescribed{}
	fatGaveWay := false
	for i, s := range p.slots {
		day, _ := p.portion(s.kind, ks[i], proteinG, fatAim)
		if s.kind != athlete.RefeedDay && float64(day.fatG) < fatAim-2 {
			// A richer day keeps the fat of a leaner one, so that more energy is
			// always more carbohydrate.
			fatAim, fatGaveWay = float64(day.fatG), true
		}
		byKind[s.kind] = athlete.DayPrescribed{
			Type: s.kind, PerWeek: s.perWeek,
			EnergyKcal: float64(ks[i] * EnergyStepKcal), ProteinG: float64(proteinG),
			CarbohydrateG: float64(day.carbG), FatG: float64(day.fatG), FibreG: float64(day.fibreG),
		}
	}
	for _, kind := range []athlete.DayType{athlete.TrainingDay, athlete.RestDay, athlete.RefeedDay, athlete.DietBreakDay} {
		if d, ok := byKind[kind]; ok {
			out.Days = append(out.Days, d)
		}
	}
	if fatGaveWay {
		out.Notes = append(out.Notes, fmt.Sprintf(
			"Fat is %.0f g rather than the %.0f g aimed at, to leave room for protein and carbohydrate.", fatAim, p.fatAimG))
	}
	if proteinG < p.proteinAimG {
		out.Notes = append(out.Notes, fmt.Sprintf(
			"Protein is %d g (%.2f g/kg fat-free mass) rather than the %d g aimed at, because the leanest day has no room for more.",
			proteinG, out.ProteinGPerKgFFM, p.proteinAimG))
	}
	return out
}

func ceil(x float64) int { return int(math.Ceil(x - 1e-9)) }

func orElse(v, recommended float64) float64 {
	if v == 0 {
		return recommended
	}
	return v
}
