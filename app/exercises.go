package app

import (
	"context"
	"encoding/json"
	"slices"

	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/fault"
	"glidepath/training"
)

// Catalogue is the exercises known to the desk: the standard ones, its own, and
// what its people call them.
func (a *App) Catalogue(ctx context.Context) (*training.Catalogue, error) {
	return read(ctx, a, catalogue)
}

func catalogue(tx Tx) (*training.Catalogue, error) {
	own, err := tx.Exercises()
	if err != nil {
		return nil, err
	}
	names, err := tx.ExerciseNames()
	if err != nil {
		return nil, err
	}
	if len(own) == 0 && len(names) == 0 {
		return training.Standard(), nil // spares the index, once an athlete
	}
	return training.NewCatalogue(own, names), nil
}

// Exercises lists the desk's own exercises, by name.
func (a *App) Exercises(ctx context.Context) ([]athlete.Exercise, error) {
	return read(ctx, a, Tx.Exercises)
}

// ExerciseNames lists what was settled of names, by what was typed.
func (a *App) ExerciseNames(ctx context.Context) ([]athlete.ExerciseName, error) {
	return read(ctx, a, Tx.ExerciseNames)
}

// PutExercise keeps one of the desk's own, in the place of the one with the same
// name: a standard one that is changed is kept as the desk's own. It is a Conflict
// where one of its names is another exercise's already.
func (a *App) PutExercise(ctx context.Context, e athlete.Exercise) error {
	return a.RenameExercise(ctx, e.Name, e)
}

// RenameExercise is PutExercise for one that had another name: its older entry
// goes, if it was the desk's own.
func (a *App) RenameExercise(ctx context.Context, was string, e athlete.Exercise) error {
	return a.Store.Write(ctx, func(tx Tx) error {
		own, err := tx.Exercises()
		if err != nil {
			return err
		}
		others := slices.DeleteFunc(own, func(o athlete.Exercise) bool { return o.Name == e.Name || o.Name == was })
		if err := clash(training.NewCatalogue(others, nil), &e); err != nil {
			return err
		}
		if len(others) < len(own) && was != e.Name {
			if err := tx.RemoveExercise(was); err != nil && fault.KindOf(err) != fault.NotFound {
				return err
			}
		}
		return tx.PutExercise(&e)
	})
}

// clash says which name of an exercise is another's already.
func clash(others *training.Catalogue, e *athlete.Exercise) error {
	for i, name := range append([]string{e.Name}, e.Aliases...) {
		m, ok := others.Lookup(name)
		if !ok || !m.Exact || m.Exercise.Name == e.Name {
			continue
		}
		field := "aliases"
		if i == 0 {
			field = "name"
		}
		return fault.New(fault.Conflict, "%q is a name of %q already.", name, m.Exercise.Name).WithField(field).
			WithHint("Change that one, or leave the name out here.")
	}
	return nil
}

// RemoveExercise removes one of the desk's own; a standard one of the same name
// comes back. What was logged under the name stays.
func (a *App) RemoveExercise(ctx context.Context, name string) error {
	return a.Store.Write(ctx, func(tx Tx) error { return tx.RemoveExercise(name) })
}

// SettleName remembers what a name means on this desk: an exercise of the
// catalogue, or, where that is empty, a lift of its own.
func (a *App) SettleName(ctx context.Context, n athlete.ExerciseName) error {
	return a.Store.Write(ctx, func(tx Tx) error { return settleName(tx, n) })
}

func settleName(tx Tx, n athlete.ExerciseName) error {
	known, err := catalogue(tx)
	if err != nil {
		return err
	}
	if n.Exercise != "" && !known.Has(n.Exercise) {
		return fault.New(fault.NotFound, "there is no exercise %q in the catalogue.", n.Exercise).WithField("exercise").
			WithHint("Add it to the catalogue first, or leave it empty to keep %q as a lift of its own.", n.Typed)
	}
	settled, err := tx.ExerciseNames()
	if err != nil {
		return err
	}
	for _, old := range settled {
		if training.SameName(old.Typed, n.Typed) {
			n.Typed = old.Typed // another spelling of the same
		}
	}
	return tx.PutExerciseName(n)
}

// NameSeen is an exercise's name in a log or a file, and what is known of it.
type NameSeen struct {
	Typed    string `json:"typed"`
	Sets     int    `json:"sets"`
	Exercise string `json:"exercise,omitempty"` // what it is taken for; empty is a lift of its own
	// Sure: the name is the catalogue's or an alias, or was settled.
	Sure    bool     `json:"sure"`
	Nearest []string `json:"nearest,omitempty"` // other exercises that it might be
}

// NamesSeen lists the exercises of some sets in order of first appearance, each
// spelling once.
func (a *App) NamesSeen(ctx context.Context, sets []athlete.Set) ([]NameSeen, error) {
	return read(ctx, a, func(tx Tx) ([]NameSeen, error) {
		known, err := catalogue(tx)
		if err != nil {
			return nil, err
		}
		settled, err := tx.ExerciseNames()
		if err != nil {
			return nil, err
		}
		return namesSeen(known, settled, sets), nil
	})
}

func namesSeen(known *training.Catalogue, settled []athlete.ExerciseName, sets []athlete.Set) (out []NameSeen) {
	const nearest = 5
	at := map[string]int{}
	for i := range sets {
		typed := sets[i].Exercise
		if k, ok := at[typed]; ok {
			out[k].Sets++
			continue
		}
		at[typed] = len(out)
		n := NameSeen{Typed: typed, Sets: 1}
		if m, ok := known.Lookup(typed); ok {
			n.Exercise, n.Sure = m.Exercise.Name, m.Exact
		}
		for _, s := range settled {
			n.Sure = n.Sure || training.SameName(s.Typed, typed)
		}
		if !n.Sure {
			for _, e := range known.Suggest(typed, nearest) {
				n.Nearest = append(n.Nearest, e.Name)
			}
		}
		out = append(out, n)
	}
	return out
}

// fatigueSetting is the name under which the desk's fatigue table is kept.
const fatigueSetting = "cardio fatigue"

// FatigueTable is what cardio costs in fatigue on this desk: as the coach set it,
// or the default.
func (a *App) FatigueTable(ctx context.Context) (cardio.FatigueTable, error) {
	return read(ctx, a, fatigueTable)
}

func fatigueTable(tx Tx) (cardio.FatigueTable, error) {
	body, ok, err := tx.Setting(fatigueSetting)
	if err != nil || !ok {
		return cardio.DefaultFatigue(), err
	}
	var out cardio.FatigueTable
	if json.Unmarshal(body, &out) != nil {
		out = cardio.DefaultFatigue() // of an older form: it must not stop the desk
	}
	return out, nil
}

// PutFatigueTable keeps the desk's fatigue table.
func (a *App) PutFatigueTable(ctx context.Context, t cardio.FatigueTable) error {
	if err := t.Validate(); err != nil {
		return err
	}
	body, err := json.Marshal(t)
	if err != nil {
		return err
	}
	return a.Store.Write(ctx, func(tx Tx) error { return tx.PutSetting(fatigueSetting, body) })
}
