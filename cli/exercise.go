package cli

import (
	"cmp"
	"context"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/training"
)

func newExercise(s *session) *cobra.Command {
	return subcommands("exercise", "See and change the catalogue of exercises, and what names mean",
		"The catalogue says of each exercise which muscles it trains and by how much of a set, with\n"+
			"what it is done, and which joints it loads. The standard one is common practice, no source;\n"+
			"a desk adds to it and changes it, and settles what its people call an exercise.",
		newExerciseList(s), newExerciseShow(s), newExerciseAdd(s), newExerciseRemove(s), newExerciseName(s), newExerciseNames(s))
}

type exerciseListOptions struct {
	own               bool
	muscle, equipment string
}

func newExerciseList(s *session) *cobra.Command {
	var o exerciseListOptions
	c := &cobra.Command{
		Use:   "list",
		Short: "List the exercises",
		Long: `List the exercises of the catalogue with what a set of each counts for each muscle: 1
where it trains the muscle directly, less where it assists.`,
		Example: `  glidepath exercise list
  glidepath exercise list --muscle back --equipment cable
  glidepath exercise list --own --json`,
		Args: exactly(0, "%s takes no arguments."),
		RunE: func(cmd *cobra.Command, _ []string) error { return s.runExerciseList(cmd.Context(), o) },
	}
	f := c.Flags()
	f.BoolVar(&o.own, "own", false, "only those that this desk added or changed")
	f.StringVar(&o.muscle, "muscle", "", "only those that train this `muscle` directly")
	f.StringVar(&o.equipment, "equipment", "", "only those done with this `equipment`")
	return c
}

func (s *session) runExerciseList(ctx context.Context, o exerciseListOptions) error {
	if m := athlete.Muscle(o.muscle); m != "" && !slices.Contains(athlete.Muscles(), m) {
		return usage("There is no muscle %q. Known are %s.", m, list(athlete.Muscles()))
	}
	if e := athlete.Equipment(o.equipment); e != "" && !slices.Contains(athlete.AllEquipment(), e) {
		return usage("There is no equipment %q. Known are %s.", e, list(athlete.AllEquipment()))
	}
	a, err := s.open(ctx)
	if err != nil {
		return err
	}
	all, err := exercises(ctx, a, o.own)
	if err != nil {
		return err
	}
	all = slices.DeleteFunc(all, func(e athlete.Exercise) bool {
		direct := func(sh athlete.Share) bool { return string(sh.Muscle) == o.muscle && sh.Share >= training.Direct }
		return o.muscle != "" && !slices.ContainsFunc(e.Muscles, direct) || o.equipment != "" && string(e.Equipment) != o.equipment
	})
	if s.json {
		return s.emit(append([]athlete.Exercise{}, all...))
	}
	p := s.page()
	if len(all) == 0 {
		p.line("There are no such exercises.")
		return p.flush()
	}
	rows := make([][]string, 0, len(all))
	for i := range all {
		rows = append(rows, []string{all[i].Name, string(all[i].Equipment), string(all[i].Pattern), shares(all[i].Muscles)})
	}
	p.line("%s.", count(len(all), "exercise", "exercises"))
	p.gap()
	p.table([]column{{head: "Name", left: true}, {head: "With", left: true}, {head: "Pattern", left: true, wide: true}, {head: "A set counts for", flex: true}}, rows)
	return p.flush()
}

func exercises(ctx context.Context, a *app.App, own bool) ([]athlete.Exercise, error) {
	if own {
		return a.Exercises(ctx)
	}
	known, err := a.Catalogue(ctx)
	if err != nil {
		return nil, err
	}
	return known.Exercises(), nil
}

// list joins named values.
func list[T ~string](all []T) string {
	names := make([]string, len(all))
	for i, v := range all {
		names[i] = string(v)
	}
	return strings.Join(names, ", ")
}

// shares says what a set counts: "chest, triceps ½" would hide that 1 is meant.
func shares(all []athlete.Share) string {
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(a, b athlete.Share) int { return cmp.Compare(b.Share, a.Share) })
	parts := make([]string, len(all))
	for i, sh := range all {
		parts[i] = string(sh.Muscle) + nbsp + strconv.FormatFloat(sh.Share, 'g', 3, 64)
	}
	return strings.Join(parts, ", ")
}

func newExerciseShow(s *session) *cobra.Command {
	return &cobra.Command{
		Use:   "show NAME",
		Short: "Show an exercise, by any of its names",
		Long:  "Show what the catalogue knows of an exercise, under any name that it would be found by in\na log, and whether that name is sure.",
		Example: `  glidepath exercise show "bench press"
  glidepath exercise show rdl
  glidepath exercise show "Incline DB press" --json`,
		Args: exactly(1, `Name one exercise, as in %s "bench press".`),
		RunE: func(cmd *cobra.Command, args []string) error { return s.runExerciseShow(cmd.Context(), args[0]) },
	}
}

type exerciseResult struct {
	Exercise athlete.Exercise `json:"exercise"`
	Sure     bool             `json:"sure"` // the name is the catalogue's, an alias, or settled
	Own      bool             `json:"own"`  // this desk added or changed it
}

func (s *session) runExerciseShow(ctx context.Context, name string) error {
	a, err := s.open(ctx)
	if err != nil {
		return err
	}
	known, err := a.Catalogue(ctx)
	if err != nil {
		return err
	}
	m, ok := known.Lookup(name)
	if !ok {
		return noExercise(known, name)
	}
	out := exerciseResult{Exercise: m.Exercise, Sure: m.Exact}
	own, err := a.Exercises(ctx)
	if err != nil {
		return err
	}
	out.Own = slices.ContainsFunc(own, func(e athlete.Exercise) bool { return e.Name == m.Exercise.Name })
	if s.json {
		return s.emit(out)
	}
	p := s.page()
	if !out.Sure {
		p.line("%q is not sure; the nearest is this.", name)
		p.gap()
	}
	s.showExercise(p, out)
	return p.flush()
}

func (s *session) showExercise(p *page, out exerciseResult) {
	e := &out.Exercise
	whose := "standard"
	if out.Own {
		whose = "this desk's own"
	}
	kind := ""
	switch {
	case e.BodyLoad:
		kind = "its load is mostly the body, so strength is not read from it"
	case e.Big:
		kind = "many joints and much load: it stands for strength as a whole"
	}
	p.line("%s, %s.", e.Name, whose)
	p.facts(
		fact{"Also", strings.Join(e.Aliases, ", ")},
		fact{"Pattern", string(e.Pattern)},
		fact{"With", string(e.Equipment)},
		fact{"Stability", string(e.Stability)},
		fact{"A set counts for", shares(e.Muscles)},
		fact{"Loads", list(e.Loads)},
		fact{"Strength", kind},
	)
}

type exerciseAddOptions struct {
	pattern, equipment, stability string
	muscles, loads                string
	also                          []string
	big, bodyLoad                 bool
}

func newExerciseAdd(s *session) *cobra.Command {
	var o exerciseAddOptions
	c := &cobra.Command{
		Use:   "add NAME",
		Short: "Add an exercise, or change one",
		Long: `Add an exercise to the desk's catalogue. One that is there under the same name, standard
or your own, is changed by what is given and otherwise stays; a standard one that is
changed is kept as the desk's own, and comes back with glidepath exercise remove.

Patterns:  ` + list(athlete.Patterns()) + `.
Equipment: ` + list(athlete.AllEquipment()) + `.
Stability: ` + list(athlete.Stabilities()) + `.
Muscles:   ` + list(athlete.Muscles()) + `.
Regions:   ` + list(athlete.Regions()) + `.`,
		Example: `  glidepath exercise add "yoke carry" --pattern hinge --equipment barbell --stability "free standing" --muscles "back=1, quadriceps=0.5" --loads "lower back, knee"
  glidepath exercise add "seal row" --pattern "horizontal pull" --equipment barbell --stability supported --muscles back=1,biceps=0.5
  glidepath exercise add "hip thrust" --muscles glutes=1,hamstrings=0.25`,
		Args: exactly(1, `Name one exercise, as in %s "yoke carry" --muscles back=1.`),
		RunE: func(cmd *cobra.Command, args []string) error {
			changed := func(flag string) bool { return cmd.Flags().Changed(flag) }
			return s.runExerciseAdd(cmd.Context(), args[0], o, changed)
		},
	}
	f := c.Flags()
	f.StringVar(&o.pattern, "pattern", "", "`kind` of movement")
	f.StringVar(&o.equipment, "equipment", "", "what it is done `with`")
	f.StringVar(&o.stability, "stability", "", "`how` much is held for the lifter")
	f.StringVar(&o.muscles, "muscles", "", "what a set counts, as `muscle=share` with commas; 1 is a whole set")
	f.StringVar(&o.loads, "loads", "", "`regions` that an injury there keeps from it, with commas")
	f.StringArrayVar(&o.also, "also", nil, "another `name` of it; may be repeated, and replaces those there are")
	f.BoolVar(&o.big, "big", false, "it stands for strength as a whole")
	f.BoolVar(&o.bodyLoad, "body-load", false, "its load is mostly the body itself")
	return c
}

// change puts what the flags say into an exercise.
func (o *exerciseAddOptions) change(e *athlete.Exercise, changed func(string) bool) error {
	if changed("pattern") {
		e.Pattern = athlete.Pattern(o.pattern)
	}
	if changed("equipment") {
		e.Equipment = athlete.Equipment(o.equipment)
	}
	if changed("stability") {
		e.Stability = athlete.Stability(o.stability)
	}
	if changed("also") {
		e.Aliases = o.also
	}
	if changed("big") {
		e.Big = o.big
	}
	if changed("body-load") {
		e.BodyLoad = o.bodyLoad
	}
	if changed("loads") {
		e.Loads = nil
		for r := range strings.SplitSeq(o.loads, ",") {
			if r = strings.TrimSpace(r); r != "" {
				e.Loads = append(e.Loads, athlete.Region(r))
			}
		}
	}
	if !changed("muscles") {
		return nil
	}
	e.Muscles = nil
	for pair := range strings.SplitSeq(o.muscles, ",") {
		name, text, given := strings.Cut(pair, "=")
		share := training.Direct
		if given {
			var err error
			if share, err = strconv.ParseFloat(strings.TrimSpace(text), 64); err != nil {
				return usage("--muscles takes muscle=share, as in back=1,biceps=0.5, not %q.", strings.TrimSpace(pair))
			}
		}
		e.Muscles = append(e.Muscles, athlete.Share{Muscle: athlete.Muscle(strings.TrimSpace(name)), Share: share})
	}
	return nil
}

func (s *session) runExerciseAdd(ctx context.Context, name string, o exerciseAddOptions, changed func(string) bool) error {
	a, err := s.open(ctx)
	if err != nil {
		return err
	}
	all, err := exercises(ctx, a, false)
	if err != nil {
		return err
	}
	e := athlete.Exercise{Name: strings.TrimSpace(name)}
	if i := slices.IndexFunc(all, func(x athlete.Exercise) bool { return training.SameName(x.Name, name) }); i >= 0 {
		e = all[i]
	}
	if err := o.change(&e, changed); err != nil {
		return err
	}
	if err := a.PutExercise(ctx, e); err != nil {
		return err
	}
	out := exerciseResult{Exercise: e, Sure: true, Own: true}
	if s.json {
		return s.emit(out)
	}
	p := s.page()
	s.showExercise(p, out)
	return p.flush()
}

func newExerciseRemove(s *session) *cobra.Command {
	return &cobra.Command{
		Use:   "remove NAME",
		Short: "Remove one of the desk's own exercises",
		Long: `Remove an exercise that this desk added or changed. A standard one of the same name comes
back as it was. What was logged under the name stays in every log.`,
		Example: `  glidepath exercise remove "yoke carry"
  glidepath exercise remove "hip thrust"            # the standard one comes back`,
		Args: exactly(1, `Name one exercise, as in %s "yoke carry".`),
		RunE: func(cmd *cobra.Command, args []string) error {
			a, err := s.open(cmd.Context())
			if err != nil {
				return err
			}
			if err := a.RemoveExercise(cmd.Context(), args[0]); err != nil {
				return err
			}
			if s.json {
				return s.emit(map[string]string{"removed": args[0]})
			}
			p := s.page()
			p.line("%q is removed from this desk's own exercises.", args[0])
			return p.flush()
		},
	}
}

func newExerciseName(s *session) *cobra.Command {
	var own bool
	c := &cobra.Command{
		Use:   "name NAME [EXERCISE]",
		Short: "Settle what a name in logs and programmes means",
		Long: `Settle what your people call an exercise, for the whole desk: in every log, file and
programme the name then stands for that exercise of the catalogue. With --own-lift it
stands for itself. It can be settled anew at any time; no log is changed by it.`,
		Example: `  glidepath exercise name "my row" "cable row"
  glidepath exercise name "box squat" "back squat"
  glidepath exercise name "yoke carry" --own-lift`,
		Args: cobra.RangeArgs(1, 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			if (len(args) == 1) != own {
				return usage("Say which exercise it is, or that it is one of its own with --own-lift.")
			}
			return s.runExerciseName(cmd.Context(), args[0], strings.Join(args[1:], ""))
		},
	}
	c.Flags().BoolVar(&own, "own-lift", false, "the name is a lift of its own")
	return c
}

func (s *session) runExerciseName(ctx context.Context, typed, exercise string) error {
	a, err := s.open(ctx)
	if err != nil {
		return err
	}
	known, err := a.Catalogue(ctx)
	if err != nil {
		return err
	}
	if exercise != "" && !known.Has(exercise) {
		return noExercise(known, exercise)
	}
	n := athlete.ExerciseName{Typed: typed, Exercise: exercise}
	if err := a.SettleName(ctx, n); err != nil {
		return err
	}
	if s.json {
		return s.emit(n)
	}
	p := s.page()
	p.line("%q is %s from now on, in every log.", typed, cmp.Or(exercise, ownLift))
	return p.flush()
}

func newExerciseNames(s *session) *cobra.Command {
	var who string
	c := &cobra.Command{
		Use:   "names",
		Short: "List what was settled of names, or the names of an athlete's log",
		Long: `List the names that were settled on this desk. With --athlete, list the names of that
athlete's log that are not sure, with what they are taken for.`,
		Example: `  glidepath exercise names
  glidepath exercise names --athlete dmitri
  glidepath exercise names --json`,
		Args: exactly(0, "%s takes no arguments."),
		RunE: func(cmd *cobra.Command, _ []string) error { return s.runExerciseNames(cmd.Context(), who) },
	}
	c.Flags().StringVar(&who, "athlete", "", "`ID` of an athlete")
	return c
}

func (s *session) runExerciseNames(ctx context.Context, who string) error {
	if who != "" {
		return s.unsureNames(ctx, who)
	}
	a, err := s.open(ctx)
	if err != nil {
		return err
	}
	all, err := a.ExerciseNames(ctx)
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(append([]athlete.ExerciseName{}, all...))
	}
	p := s.page()
	if len(all) == 0 {
		p.line("No name was settled yet: they are matched with the catalogue as they are.")
		return p.flush()
	}
	rows := make([][]string, 0, len(all))
	for _, n := range all {
		rows = append(rows, []string{n.Typed, cmp.Or(n.Exercise, ownLift)})
	}
	p.table([]column{{head: "Name", left: true}, {head: "Means", flex: true}}, rows)
	return p.flush()
}

func (s *session) unsureNames(ctx context.Context, name string) error {
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	sets, err := at.Sets(ctx, at.athlete.ID, firstLogged, at.on)
	if err != nil {
		return err
	}
	seen, err := at.NamesSeen(ctx, sets)
	if err != nil {
		return err
	}
	unsure := slices.DeleteFunc(seen, func(n app.NameSeen) bool { return n.Sure })
	if s.json {
		return s.emit(append([]app.NameSeen{}, unsure...))
	}
	p := s.page()
	if len(unsure) == 0 {
		p.line("Every name in the log of %s is sure.", at.athlete.Name)
		return p.flush()
	}
	showNames(p, unsure)
	return p.flush()
}
