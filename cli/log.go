package cli

import (
	"context"
	"strings"

	"github.com/spf13/cobra"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/sheet"
)

// dayFlags are the quantities of a day: the flag, the field, where it goes.
var dayFlags = []struct {
	flag, help string
	field      sheet.Field
	to         func(*athlete.Day) **float64
}{
	{"weight", "morning `weight` with its unit, as in 181.4lb", sheet.FieldWeight, func(d *athlete.Day) **float64 { return &d.WeightKg }},
	{"energy", "`energy` eaten, in kcal or as in 9800kJ", sheet.FieldEnergy, func(d *athlete.Day) **float64 { return &d.EnergyKcal }},
	{"protein", "`grams` of protein", sheet.FieldProtein, func(d *athlete.Day) **float64 { return &d.ProteinG }},
	{"carbohydrate", "`grams` of carbohydrate", sheet.FieldCarbohydrate, func(d *athlete.Day) **float64 { return &d.CarbohydrateG }},
	{"fat", "`grams` of fat", sheet.FieldFat, func(d *athlete.Day) **float64 { return &d.FatG }},
	{"fibre", "`grams` of fibre", sheet.FieldFibre, func(d *athlete.Day) **float64 { return &d.FibreG }},
	{"sodium", "`milligrams` of sodium", sheet.FieldSodium, func(d *athlete.Day) **float64 { return &d.SodiumMg }},
	{"steps", "`steps` walked", sheet.FieldSteps, func(d *athlete.Day) **float64 { return &d.Steps }},
	{"sleep", "`hours` of sleep, or as in 7:30", sheet.FieldSleep, func(d *athlete.Day) **float64 { return &d.SleepH }},
	{"hunger", "hunger, a `number` from 1 (none) to 10", sheet.FieldHunger, func(d *athlete.Day) **float64 { return &d.Hunger }},
	{"fatigue", "fatigue, a `number` from 1 (none) to 10", sheet.FieldFatigue, func(d *athlete.Day) **float64 { return &d.Fatigue }},
	{"soreness", "muscle soreness, a `number` from 1 (none) to 10", sheet.FieldSoreness, func(d *athlete.Day) **float64 { return &d.Soreness }},
	{"motivation", "motivation to train, a `number` from 1 (none) to 10", sheet.FieldMotivation, func(d *athlete.Day) **float64 { return &d.Motivation }},
	{"mood", "mood, a `number` from 1 (low) to 10 (good)", sheet.FieldMood, func(d *athlete.Day) **float64 { return &d.Mood }},
	{"pain", "pain that is no soreness, a `number` from 0 (none) to 10", sheet.FieldPain, func(d *athlete.Day) **float64 { return &d.Pain }},
	{"pulse", "resting pulse, `beats` a minute", sheet.FieldRestingPulse, func(d *athlete.Day) **float64 { return &d.RestingPulse }},
}

type logOptions struct {
	on, dayType, notes, cardio, painWhere string
	values                                map[string]*string
	cycleDay, days                        int
}

func newLog(s *session) *cobra.Command {
	o := logOptions{values: map[string]*string{}}
	c := s.athleteArg(&cobra.Command{
		Use:   "log ATHLETE",
		Short: "Log a day, or show the last days",
		Long: `Log one day by flags; what is not given stays as it was. A different value takes the
place of the older one, which is kept as a correction. Without values it shows the
last days of the log. A weight always has its unit.`,
		Example: `  glidepath log priya --on 2026-03-02 --weight 57.2kg --energy 1640 --protein 136 --steps 10800
  glidepath log marcus --on 2026-03-02 --weight "257.9 lb" --cardio "incline walking 30 min" --sleep 7:30
  glidepath log priya --as-of 2026-03-02 --days 7`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runLog(cmd.Context(), args[0], o) },
	})
	f := c.Flags()
	f.StringVar(&o.on, "on", "", "`date` of the day (default the date reckoned for)")
	for _, q := range dayFlags {
		o.values[q.flag] = f.String(q.flag, "", q.help)
	}
	f.StringVar(&o.cardio, "cardio", "", "`bouts` of cardio, as in \"walking 30 min 5.5 km/h; cycling 20 min 120 W, machine 190 kcal\"")
	f.StringVar(&o.painWhere, "pain-where", "", "`where` it hurts, as in \"left knee\"")
	f.IntVar(&o.cycleDay, "cycle-day", 0, "`day` of the menstrual cycle; 1 is the first of bleeding")
	f.StringVar(&o.dayType, "day-type", "", "`type` of day: training, rest, refeed or \"diet break\"")
	f.StringVar(&o.notes, "notes", "", "a `word` on the day")
	f.IntVar(&o.days, "days", 14, "show the last `N` days")
	return c
}

// day is what the flags say.
func (o *logOptions) day() (athlete.Day, error) {
	d := athlete.Day{DayType: athlete.DayType(o.dayType), Notes: o.notes}
	for _, q := range dayFlags {
		text := *o.values[q.flag]
		if text == "" {
			continue
		}
		v, err := sheet.ReadQuantity(sheet.Days, q.field, text, "")
		if err != nil {
			return d, err
		}
		*q.to(&d) = &v
	}
	if o.cycleDay != 0 {
		d.CycleDay = &o.cycleDay
	}
	if o.painWhere != "" {
		region, err := sheet.ReadRegion(o.painWhere)
		if err != nil {
			return d, err
		}
		d.PainWhere = region
	}
	if o.cardio != "" {
		bouts, err := sheet.ReadBouts(o.cardio)
		if err != nil {
			return d, err
		}
		d.Cardio = bouts
	}
	return d, nil
}

type logResult struct {
	Athlete  who           `json:"athlete"`
	Days     []athlete.Day `json:"days"`
	Recorded *app.Recorded `json:"recorded,omitempty"`
}

func (s *session) runLog(ctx context.Context, name string, o logOptions) error {
	d, err := o.day()
	if err != nil {
		return err
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	if d.Empty() {
		return s.showLog(ctx, at, o.days)
	}
	s.deed = &deed{access.Log, "logged a day", true}
	if d.Date, err = loggedOn(at, o.on); err != nil {
		return err
	}
	s.deed.words += ", " + d.Date.String()
	done, err := at.Record(ctx, at.athlete.ID, app.Batch{Days: []athlete.Day{d}}, s.source("form"))
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(logResult{whoOf(at.athlete), []athlete.Day{d}, &done})
	}
	p := s.page()
	p.line("%s for %s: %s added, %s as they were, %s corrected.", longDate(d.Date), at.athlete.Name,
		count(done.Days.Added, "value", "values"), whole(float64(done.Days.Same)), whole(float64(done.Days.Corrected)))
	if d.WeightKg != nil {
		s.askAbout(ctx, p, at)
	}
	return p.flush()
}

func (s *session) showLog(ctx context.Context, at *opened, n int) error {
	if n < 1 {
		return usage("--days takes a number of days.")
	}
	days, err := at.Days(ctx, at.athlete.ID, at.on.AddDays(1-n), at.on)
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(logResult{Athlete: whoOf(at.athlete), Days: append([]athlete.Day{}, days...)})
	}
	p := s.page()
	if len(days) == 0 {
		p.line("Nothing is logged for %s in the %s to %s.", at.athlete.Name, count(n, "day", "days"), longDate(at.on))
		return p.flush()
	}
	nt := s.notation(at.athlete.Units)
	rows := make([][]string, 0, len(days))
	for i := range days {
		d := &days[i]
		weight := "–"
		if d.WeightKg != nil {
			weight = chart.Number(nt.FromKg(*d.WeightKg), 1)
		}
		if ws := d.WeightStands; ws != nil && !ws.Use {
			weight += " left out"
		}
		cardio := "–"
		if m := d.CardioMinutes(); m > 0 {
			cardio = whole(m)
		}
		rows = append(rows, []string{
			strings.ReplaceAll(d.Date.Format("Mon 2 Jan"), " ", nbsp), weight, optional(d.EnergyKcal, 0), optional(d.ProteinG, 0),
			optional(d.CarbohydrateG, 0), optional(d.FatG, 0), optional(d.Steps, 0), cardio, optional(d.SleepH, 1), remarks(d),
		})
	}
	p.line("The log of %s to %s.", at.athlete.Name, longDate(at.on))
	p.gap()
	p.table([]column{
		{head: "Day"},
		{head: "Weight\n" + nt.WeightUnit()},
		{head: "Energy\nkcal"},
		{head: "Protein\ng"},
		{head: "Carb.\ng", wide: true},
		{head: "Fat\ng", wide: true},
		{head: "Steps"},
		{head: "Cardio\nmin"},
		{head: "Sleep\nh"},
		{head: "", flex: true},
	}, rows)
	return p.flush()
}

// remarks are what is said of a day in words, pain first.
func remarks(d *athlete.Day) string {
	var parts []string
	if d.Pain != nil && *d.Pain > 0 {
		parts = append(parts, strings.TrimSuffix("pain "+plainNumber(*d.Pain)+" of 10, "+string(d.PainWhere), ", "))
	} else if d.PainWhere != "" {
		parts = append(parts, "pain "+string(d.PainWhere))
	}
	if d.Notes != "" {
		parts = append(parts, d.Notes)
	}
	return strings.Join(parts, "; ")
}
