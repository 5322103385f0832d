package web

import (
	"fmt"
	"net/url"
	"slices"
	"strings"

	"glidepath/app"
	"glidepath/athlete"
)

// liftAsk is a name in a training log that is not sure to mean what it looks like.
type liftAsk struct {
	Typed   string
	Sets    int
	Name    string // of the input
	Value   string
	Options []option
}

// liftPrefix begins the names of the inputs, which end in what was typed. ownLift
// is the answer that it is no exercise of the catalogue.
const (
	liftPrefix = "lift:"
	ownLift    = "own"
)

// liftsToAsk are the names of some sets that are not the catalogue's and were
// never settled.
func (r *request) liftsToAsk(sets []athlete.Set, typed url.Values) ([]liftAsk, error) {
	if len(sets) == 0 {
		return nil, nil
	}
	names, err := r.desk.app.NamesSeen(r.ctx(), sets)
	if err != nil {
		return nil, err
	}
	var out []liftAsk
	for i := range names {
		if !names[i].Sure {
			out = append(out, liftAskOf(&names[i], typed))
		}
	}
	return out, nil
}

func liftAskOf(n *app.NameSeen, typed url.Values) liftAsk {
	out := liftAsk{Typed: n.Typed, Sets: n.Sets, Name: liftPrefix + n.Typed}
	open := "leave it open: it counts for no muscle"
	if n.Exercise != "" {
		open = fmt.Sprintf("leave it open: it counts as %s, its strength apart", n.Exercise)
		out.Options = append(out.Options, option{n.Exercise, n.Exercise})
	}
	for _, near := range n.Nearest {
		if near != n.Exercise {
			out.Options = append(out.Options, option{near, near})
		}
	}
	out.Options = append(out.Options, option{ownLift, "none of these: a lift of its own"})
	out.Options = slices.Insert(out.Options, 0, option{"", open})
	out.Value = typed.Get(out.Name)
	return out
}

// settleLifts remembers what was answered about the names of some sets.
func (r *request) settleLifts(sets []athlete.Set, typed url.Values) error {
	done := map[string]bool{}
	for i := range sets {
		name := sets[i].Exercise
		answer := strings.TrimSpace(typed.Get(liftPrefix + name))
		if done[name] || answer == "" {
			continue
		}
		done[name] = true
		if answer == ownLift {
			answer = ""
		}
		if err := r.desk.app.SettleName(r.ctx(), athlete.ExerciseName{Typed: name, Exercise: answer}); err != nil {
			return err
		}
	}
	return nil
}
