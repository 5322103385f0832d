package cli

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"charm.land/huh/v2"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/fault"
	"glidepath/sheet"
	"glidepath/training"
)

// namesHelp is what the help of a kind of import says of exercises' names.
var namesHelp = map[sheet.Kind]string{
	sheet.Training: `

Names of exercises stay as you write them, and are matched with the catalogue: sets of
one lift count together under any of its names. A name that is only near to one is
shown with what it is taken for, or asked about on a terminal. --name settles it, for
the whole desk and every later file.`,
}

// nameFlags reads "name=exercise" of each flag; an empty exercise is a lift of its own.
func nameFlags(flags []string) ([]athlete.ExerciseName, error) {
	var out []athlete.ExerciseName
	for _, f := range flags {
		at := strings.LastIndexByte(f, '=')
		if at < 0 || strings.TrimSpace(f[:at]) == "" {
			return nil, usage("--name takes name=exercise, as in \"my row=cable row\", not %q.", f)
		}
		out = append(out, athlete.ExerciseName{Typed: strings.TrimSpace(f[:at]), Exercise: strings.TrimSpace(f[at+1:])})
	}
	return out, nil
}

// settleNames settles the names of a file's sets by flags and, on a terminal, by
// asking, and gives those that are not sure even then. A dry run keeps nothing.
func (s *session) settleNames(ctx context.Context, a *app.App, sets []athlete.Set, flags []string, dryRun bool) ([]app.NameSeen, error) {
	told, err := nameFlags(flags)
	if err != nil {
		return nil, err
	}
	seen, err := a.NamesSeen(ctx, sets)
	if err != nil {
		return nil, err
	}
	if err := knownNames(ctx, a, seen, told); err != nil {
		return nil, err
	}
	isTold := func(n app.NameSeen) bool {
		return slices.ContainsFunc(told, func(t athlete.ExerciseName) bool { return training.SameName(t.Typed, n.Typed) })
	}
	for _, n := range seen {
		if !s.asks() || n.Sure || isTold(n) {
			continue
		}
		answer, err := s.askName(n)
		if err != nil {
			return nil, err
		}
		told = append(told, athlete.ExerciseName{Typed: n.Typed, Exercise: answer})
	}
	for _, t := range told {
		if dryRun {
			break
		}
		if err := a.SettleName(ctx, t); err != nil {
			return nil, err
		}
	}
	return slices.DeleteFunc(seen, func(n app.NameSeen) bool { return n.Sure || isTold(n) }), nil
}

// knownNames is a fault for each flag about a name that is not in the file or an
// exercise that is not in the catalogue, before anything is kept.
func knownNames(ctx context.Context, a *app.App, seen []app.NameSeen, told []athlete.ExerciseName) error {
	known, err := a.Catalogue(ctx)
	if err != nil {
		return err
	}
	for _, t := range told {
		if !slices.ContainsFunc(seen, func(n app.NameSeen) bool { return training.SameName(t.Typed, n.Typed) }) {
			return fault.New(fault.NotFound, "no set of the file has the exercise %q.", t.Typed)
		}
		if t.Exercise != "" && !known.Has(t.Exercise) {
			return noExercise(known, t.Exercise)
		}
	}
	return nil
}

// noExercise is the fault of a name that the catalogue has not, with the nearest.
func noExercise(known *training.Catalogue, name string) error {
	f := fault.New(fault.NotFound, "there is no exercise %q in the catalogue.", name).WithHint("See glidepath exercise list.")
	const nearest = 3
	if near := known.Suggest(name, nearest); len(near) > 0 {
		names := make([]string, len(near))
		for i := range near {
			names[i] = near[i].Name
		}
		f.Hint = "Near are " + join(names) + "; see glidepath exercise list."
	}
	return f
}

// ownLift is the answer that keeps a name as it is.
const ownLift = "a lift of its own"

// askName puts the question of a name, what it is taken for first.
func (s *session) askName(n app.NameSeen) (string, error) {
	var options []huh.Option[string]
	for _, name := range append([]string{n.Exercise}, n.Nearest...) {
		if name != "" && !slices.ContainsFunc(options, func(o huh.Option[string]) bool { return o.Value == name }) {
			options = append(options, huh.NewOption(name, name))
		}
	}
	options = append(options, huh.NewOption(ownLift, ""))
	answer := n.Exercise
	err := s.form(huh.NewGroup(huh.NewSelect[string]().
		Title(fmt.Sprintf("Which exercise is %q (%s)?", n.Typed, count(n.Sets, "set", "sets"))).Options(options...).Value(&answer)))
	return answer, err
}

// showNames lists the names that are not sure and says how to settle one.
func showNames(p *page, names []app.NameSeen) {
	if len(names) == 0 {
		return
	}
	p.heading("Names of exercises that are not sure")
	p.gap()
	rows := make([][]string, 0, len(names))
	for _, n := range names {
		taken := n.Exercise
		if taken == "" {
			taken = ownLift
		}
		near := slices.DeleteFunc(slices.Clone(n.Nearest), func(name string) bool { return name == n.Exercise })
		rows = append(rows, []string{n.Typed, whole(float64(n.Sets)), taken, strings.Join(near, ", ")})
	}
	p.table([]column{{head: "Name", left: true}, {head: "Sets"}, {head: "Taken for", left: true}, {head: "Or", flex: true}}, rows)
	p.para("They count as shown, for their muscles; the strength of each stays a series of its own until it is settled:")
	p.gap()
	p.raw(fmt.Sprintf("  glidepath exercise name %q %q", names[0].Typed, nearestOf(names[0])))
}

func nearestOf(n app.NameSeen) string {
	for _, name := range append([]string{n.Exercise}, n.Nearest...) {
		if name != "" {
			return name
		}
	}
	return "bench press"
}
