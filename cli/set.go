package cli

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/sheet"
)

// firstLogged is before any log.
var firstLogged = civil.Of(1900, 1, 1)

func newSet(s *session) *cobra.Command {
	return subcommands("set", "Log sets of an exercise, list them, take one out",
		"Log training set by set. Whole files come in with glidepath import sets; how the session\nfelt is logged with glidepath gym.",
		newSetAdd(s), newSetList(s), newSetDrop(s))
}

type setOptions struct{ on, weight, reps, rir, rpe, side, notes string }

func newSetAdd(s *session) *cobra.Command {
	var o setOptions
	c := &cobra.Command{
		Use:   "add ATHLETE EXERCISE",
		Short: "Log sets of an exercise",
		Long: `Log one or more sets of an exercise after those that the day has. A weight has its unit;
BW is body weight alone, "BW+10 kg" ten more. Reserve is given for all sets, or one for
each: --rir 2,2,1. RPE is taken as 10 less the repetitions in reserve.`,
		Example: `  glidepath set add aroha "overhead press" --weight 42.5kg --reps 8/8/7 --rir 2,2,1 --on 2026-03-01
  glidepath set add dmitri "back squat" --weight 315lb --reps 3x5 --rpe 8
  glidepath set add priya "split squat" --weight 14kg --reps 3x10 --side left --notes "slowly"`,
		Args:              exactly(2, `Name an athlete and an exercise, as in %s priya "back squat".`),
		ValidArgsFunction: s.completeAthlete,
		RunE:              func(cmd *cobra.Command, args []string) error { return s.runSetAdd(cmd.Context(), args[0], args[1], o) },
	}
	f := c.Flags()
	f.StringVar(&o.on, "on", "", "`date` (default the date reckoned for)")
	f.StringVar(&o.weight, "weight", "", "`weight` with its unit, or BW")
	f.StringVar(&o.reps, "reps", "", "`repetitions`: 8, 3x8 or 8/8/7")
	f.StringVar(&o.rir, "rir", "", "repetitions in `reserve`, of all sets or one for each")
	f.StringVar(&o.rpe, "rpe", "", "`RPE` of all sets or one for each, in place of reserve")
	f.StringVar(&o.side, "side", "", "which `side`, where each is done by itself")
	f.StringVar(&o.notes, "notes", "", "a `word` on them")
	return c
}

// sets are what the flags say, without date and order.
func (o *setOptions) sets(exercise string) ([]athlete.Set, error) {
	reps, err := sheet.ReadReps(o.reps)
	if err != nil {
		return nil, err
	}
	load, err := sheet.ReadLoad(o.weight)
	if err != nil {
		return nil, err
	}
	rir, rpe := strings.Split(o.rir, ","), strings.Split(o.rpe, ",")
	out := make([]athlete.Set, len(reps))
	for i, n := range reps {
		out[i] = athlete.Set{Exercise: exercise, WeightKg: load, Reps: n, Side: o.side, Notes: o.notes}
		if out[i].RIR, err = sheet.ReadReserve(nth(rir, i), nth(rpe, i)); err != nil {
			return nil, err
		}
	}
	if most := max(len(rir), len(rpe)); most > 1 && most != len(reps) {
		return nil, usage("There are %s and %d values of reserve.", count(len(reps), "set", "sets"), most)
	}
	return out, nil
}

// nth is one value for each, or the only one for all.
func nth(all []string, i int) string {
	if len(all) == 1 {
		i = 0
	}
	if i >= len(all) {
		return ""
	}
	return strings.TrimSpace(all[i])
}

type setsResult struct {
	Athlete  who            `json:"athlete"`
	Sets     []athlete.Set  `json:"sets"`
	Recorded *app.Merge     `json:"recorded,omitempty"`
	Names    []app.NameSeen `json:"names,omitempty"` // that are not sure
}

func (s *session) runSetAdd(ctx context.Context, name, exercise string, o setOptions) error {
	if o.weight == "" || o.reps == "" {
		return usage("A set needs --weight and --reps.")
	}
	sets, err := o.sets(strings.TrimSpace(exercise))
	if err != nil {
		return err
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	on, err := loggedOn(at, o.on)
	if err != nil {
		return err
	}
	there, err := at.Sets(ctx, at.athlete.ID, on, on)
	if err != nil {
		return err
	}
	order := 0
	for i := range there {
		order = max(order, there[i].Order)
	}
	for i := range sets {
		sets[i].Date, sets[i].Order = on, order+i+1
	}
	done, err := at.Record(ctx, at.athlete.ID, app.Batch{Sets: sets}, s.source("form"))
	if err != nil {
		return err
	}
	seen, err := at.NamesSeen(ctx, sets)
	if err != nil {
		return err
	}
	out := setsResult{whoOf(at.athlete), sets, &done.Sets, slices.DeleteFunc(seen, func(n app.NameSeen) bool { return n.Sure })}
	if s.json {
		return s.emit(out)
	}
	p := s.page()
	p.line("Logged for %s on %s: %s.", at.athlete.Name, longDate(on), setsLine(s.notation(at.athlete.Units), sets))
	showNames(p, out.Names)
	return p.flush()
}

// loggedOn is the date of what is logged: the flag's, or the date reckoned for.
func loggedOn(at *opened, flag string) (civil.Date, error) {
	if flag == "" {
		return at.on, nil
	}
	on, err := dateFlag("on", flag)
	if err == nil && on > at.on {
		return 0, fault.New(fault.Invalid, "%s is after %s.", longDate(on), longDate(at.on)).WithField("on").
			WithHint("A day is logged when it has come; --as-of says which date it is.")
	}
	return on, err
}

// setsLine says sets of one exercise on a line: "60 kg × 8, 8, 7 at 2, 2, 1 RIR".
func setsLine(n chart.Notation, sets []athlete.Set) string {
	var parts []string
	for i := 0; i < len(sets); {
		j := i
		var reps, rir []string
		for ; j < len(sets) && sets[j].WeightKg == sets[i].WeightKg && sets[j].Side == sets[i].Side; j++ {
			reps = append(reps, fmt.Sprint(sets[j].Reps))
			if sets[j].RIR != nil {
				rir = append(rir, plainNumber(*sets[j].RIR))
			}
		}
		text := loadText(n, sets[i].WeightKg) + " ×" + nbsp + strings.Join(reps, ", ")
		if len(rir) == len(reps) {
			if len(slices.Compact(slices.Clone(rir))) == 1 {
				rir = rir[:1]
			}
			text += " at " + strings.Join(rir, ", ") + nbsp + "RIR"
		}
		if sets[i].Side != "" {
			text += " " + sets[i].Side
		}
		parts = append(parts, text)
		i = j
	}
	return strings.Join(parts, "; ")
}

// plainNumber writes a number without decimals that say nothing.
func plainNumber(v float64) string { return strings.TrimSuffix(chart.Number(v, 1), ".0") }

// loadText writes a load in the reader's units.
func loadText(n chart.Notation, kg float64) string {
	if kg == 0 {
		return "body weight"
	}
	return plainNumber(n.FromKg(kg)) + nbsp + n.WeightUnit()
}

func newSetList(s *session) *cobra.Command {
	var days int
	c := s.athleteArg(&cobra.Command{
		Use:   "list ATHLETE",
		Short: "List the sets of the last days",
		Long:  "List the sets that were logged in the last days, with their place within the day, which\nglidepath set drop takes.",
		Example: `  glidepath set list dmitri --as-of 2026-03-02
  glidepath set list priya --days 28 --as-of 2026-03-02
  glidepath set list priya --json`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runSetList(cmd.Context(), args[0], days) },
	})
	c.Flags().IntVar(&days, "days", 7, "the last `N` days")
	return c
}

func (s *session) runSetList(ctx context.Context, name string, days int) error {
	if days < 1 {
		return usage("--days takes a number of days.")
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	sets, err := at.Sets(ctx, at.athlete.ID, at.on.AddDays(1-days), at.on)
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(setsResult{Athlete: whoOf(at.athlete), Sets: append([]athlete.Set{}, sets...)})
	}
	p := s.page()
	if len(sets) == 0 {
		p.line("No set is logged for %s in the %s to %s.", at.athlete.Name, count(days, "day", "days"), longDate(at.on))
		return p.flush()
	}
	p.line("The sets of %s to %s.", at.athlete.Name, longDate(at.on))
	p.gap()
	s.showSets(p, s.notation(at.athlete.Units), sets)
	return p.flush()
}

func (s *session) showSets(p *page, n chart.Notation, sets []athlete.Set) {
	rows := make([][]string, 0, len(sets))
	for i := range sets {
		x := &sets[i]
		rir := "–"
		if x.RIR != nil {
			rir = plainNumber(*x.RIR)
		}
		rows = append(rows, []string{
			p.date(x.Date), fmt.Sprint(x.Order), x.Exercise, loadText(n, x.WeightKg), fmt.Sprint(x.Reps), rir,
			strings.Join(slices.DeleteFunc([]string{x.Side, x.Notes}, func(t string) bool { return t == "" }), ", "),
		})
	}
	p.table([]column{
		{head: "Day"}, {head: "No."}, {head: "Exercise", left: true}, {head: "Load"}, {head: "Reps"}, {head: "RIR"}, {head: "", flex: true},
	}, rows)
}

func newSetDrop(s *session) *cobra.Command {
	var on string
	var number int
	c := &cobra.Command{
		Use:   "drop ATHLETE EXERCISE",
		Short: "Take a set out of the log",
		Long:  "Take a set out of the log by its exercise, as it was logged, and its place within the day.\nWhat it was is kept as a correction.",
		Example: `  glidepath set drop priya "back squat" --number 3 --on 2026-03-02
  glidepath set drop dmitri "bench press" --number 1
  glidepath set list priya --days 1                  # shows the places`,
		Args:              exactly(2, `Name an athlete and an exercise, as in %s priya "back squat" --number 3.`),
		ValidArgsFunction: s.completeAthlete,
		RunE: func(cmd *cobra.Command, args []string) error {
			return s.runSetDrop(cmd.Context(), args[0], args[1], on, number)
		},
	}
	c.Flags().StringVar(&on, "on", "", "`date` (default the date reckoned for)")
	c.Flags().IntVar(&number, "number", 0, "`place` within the day")
	return c
}

func (s *session) runSetDrop(ctx context.Context, name, exercise, onText string, number int) error {
	if number < 1 {
		return usage("Say which set with --number; glidepath set list shows them.")
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	on, err := loggedOn(at, onText)
	if err != nil {
		return err
	}
	done, err := at.DropSet(ctx, at.athlete.ID, on, exercise, number, s.source("form"))
	if err != nil {
		return err
	}
	if done.Corrected == 0 {
		return fault.New(fault.NotFound, "no set %d of %q is logged on %s.", number, exercise, longDate(on)).
			WithHint("See glidepath set list %s.", at.athlete.ID)
	}
	if s.json {
		return s.emit(map[string]any{"athlete": whoOf(at.athlete), "recorded": done})
	}
	p := s.page()
	p.line("Set %d of %q on %s is taken out; what it was is kept: glidepath corrections %s.", number, exercise, longDate(on), at.athlete.ID)
	return p.flush()
}
