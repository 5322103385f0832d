package training

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"glidepath/athlete"
)

// What an exercise keeps (judgement): half of its sets, and a main lift at least three
// a week, so that its load stays on the bar.
const (
	mainKept  = 3.0
	shareKept = 0.5
)

// taking is a cut while it is made.
type taking struct {
	s      *Situation
	room   []float64 // of each muscle in Now, sets that may still go
	main   []bool    // of each exercise in Doing: the main lift of a muscle
	gone   []float64 // of each exercise
	muscle []float64 // gone of each muscle
	taken  float64   // muscle sets
}

// cut takes a share of all sets away, one set at a time, always from the muscle
// with most above its maintenance dose and never more than a third of a muscle. Of
// the exercises that train it directly the one goes that tires most for what it
// trains; it keeps half of its sets, and the main lift of a muscle at least three.
func (s *Situation) cut(p *Proposal, share float64, deep bool) {
	total := totalSets(s.Now)
	wanted := math.Round(share * total)
	if room := s.overLeast(); !deep && room < wanted {
		wanted = math.Floor(room)
		if wanted < 1 {
			p.hold("Sets are already fewer than an athlete may be expected to recover from, so it is not the sets: rest, food and sleep are the levers left.")
			return
		}
	}
	t := s.newTaking()
	for t.taken < wanted && t.one(wanted) {
	}
	if t.taken == 0 {
		s.atMaintenance(p)
		return
	}
	for i := range p.Sets {
		now := s.Now[i].Sets
		p.Sets[i].Sets = math.Min(now, math.Ceil(now-t.muscle[i]-1e-9))
	}
	p.Action, p.CutPct = FewerSets, 100*t.taken/total
	p.Exercises = t.changes()
	p.Sentence = fmt.Sprintf("Take %s weekly hard sets away%s; keep the load on the bar.", t.counts(total), listed(p.Exercises))
	p.say("They are %.0f %% of all muscle sets, from the muscles with most above maintenance: %s.", p.CutPct, t.words(p))
	if t.taken < wanted-0.5 {
		p.say("%.0f were wanted; no muscle goes under its maintenance dose or loses more than a third at once.", wanted)
	}
	p.Expects = []string{"Fatigue should ease and the state rise within two weeks. Muscle is kept on far fewer sets than built it, as long as the load stays on the bar."}
	p.ChangesMind = []string{
		"A night or two of bad sleep, or an illness, that passes by itself.",
		"No better state after two weeks: then it is not the sets, and they may come back once the diet is over.",
	}
	if len(s.OffSeason) == 0 {
		p.Cautions = append(p.Cautions, "Off-season sets are not known, so the present ones stand in for them; do not repeat such a cut without them.")
	}
}

// overLeast is how many sets stand above what an athlete may be expected to recover
// from at the least.
func (s *Situation) overLeast() float64 {
	off := totalSets(s.OffSeason)
	if s.Capacity == nil || off == 0 {
		return math.Inf(1)
	}
	return totalSets(s.Now) - s.Capacity.Share.Low50*off
}

// atMaintenance is what is left where no set may go: the same sets, steadier, of an
// exercise that stands free and is no main lift.
func (s *Situation) atMaintenance(p *Proposal) {
	main := s.newTaking().main
	free := func(i int) bool { return steadiness(&s.Doing[i].Exercise) == steadiness(&athlete.Exercise{}) }
	if !s.swap(p, s.spared(), func(i int) bool { return !main[i] && free(i) }) {
		p.hold("Sets are already at the maintenance dose, so none are taken away; rest, food and sleep are the levers left.")
		return
	}
	p.say("Sets are already at the maintenance dose, so none are taken away.")
}

func (s *Situation) newTaking() *taking {
	t := &taking{
		s: s, room: make([]float64, len(s.Now)), muscle: make([]float64, len(s.Now)),
		main: make([]bool, len(s.Doing)), gone: make([]float64, len(s.Doing)),
	}
	for i, m := range s.Now {
		t.room[i] = math.Min(m.Sets-s.dose(m).Sets, m.Sets/3)
		if at := s.mainOf(m.Muscle); at >= 0 {
			t.main[at] = true
		}
	}
	return t
}

// mainOf is the main lift of a muscle: of those that train it directly the big one
// with most sets, else the one with most sets; -1 where there is none.
func (s *Situation) mainOf(m athlete.Muscle) int {
	best := -1
	for i := range s.Doing {
		d := &s.Doing[i]
		if shareOf(&d.Exercise, m) < Direct {
			continue
		}
		if best < 0 || d.Exercise.Big && !s.Doing[best].Exercise.Big ||
			d.Exercise.Big == s.Doing[best].Exercise.Big && d.Sets > s.Doing[best].Sets {
			best = i
		}
	}
	return best
}

// one takes one set away, and reports whether it could.
func (t *taking) one(wanted float64) bool {
	order := make([]int, len(t.room))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case t.room[a] > t.room[b]:
			return -1
		case t.room[a] < t.room[b]:
			return 1
		}
		return 0
	})
	for _, i := range order {
		if t.room[i] < 1 {
			return false
		}
		if len(t.s.Doing) == 0 {
			t.take(i, 1)
			return true
		}
		if e := t.exercise(t.s.Now[i].Muscle, wanted); e >= 0 {
			t.gone[e]++
			for j, m := range t.s.Now {
				t.take(j, shareOf(&t.s.Doing[e].Exercise, m.Muscle))
			}
			return true
		}
	}
	return false
}

func (t *taking) take(muscle int, sets float64) {
	t.room[muscle] -= sets
	t.muscle[muscle] += sets
	t.taken += sets
}

// exercise is the one that trains a muscle directly, may lose a set and tires most
// for what it trains; -1 where there is none.
func (t *taking) exercise(m athlete.Muscle, wanted float64) int {
	best, most := -1, 0.0
	for i := range t.s.Doing {
		d := &t.s.Doing[i]
		kept := shareKept * math.Round(d.Sets)
		if t.main[i] {
			kept = math.Max(kept, mainKept)
		}
		if shareOf(&d.Exercise, m) < Direct || math.Round(d.Sets)-t.gone[i]-1 < kept ||
			t.taken+stimulus(&d.Exercise) > wanted+0.5 || !t.leaves(&d.Exercise) {
			continue
		}
		if cost := Tiring(&d.Exercise) / stimulus(&d.Exercise); cost > most {
			best, most = i, cost
		}
	}
	return best
}

// leaves reports whether every muscle has room for a set less of an exercise.
func (t *taking) leaves(e *athlete.Exercise) bool {
	for i, m := range t.s.Now {
		if share := shareOf(e, m.Muscle); share > 0 && t.room[i] < share {
			return false
		}
	}
	return true
}

// counts says how many sets go of how many: of the exercises where they are known,
// else of the muscles.
func (t *taking) counts(total float64) string {
	gone, of := t.taken, total
	if len(t.s.Doing) > 0 {
		gone, of = 0, 0
		for i := range t.s.Doing {
			gone += t.gone[i]
			of += math.Round(t.s.Doing[i].Sets)
		}
	}
	return fmt.Sprintf("%.0f of %.0f", gone, of)
}

func (t *taking) changes() (out []ExerciseChange) {
	for i := range t.s.Doing {
		if t.gone[i] > 0 {
			n := math.Round(t.s.Doing[i].Sets)
			out = append(out, ExerciseChange{Exercise: t.s.Doing[i].Name, SetsFrom: n, SetsTo: n - t.gone[i]})
		}
	}
	return out
}

// listed names the exercises that lose sets.
func listed(all []ExerciseChange) string {
	if len(all) == 0 {
		return ""
	}
	parts := make([]string, len(all))
	for i, c := range all {
		parts[i] = fmt.Sprintf("%s %.0f to %.0f", c.Exercise, c.SetsFrom, c.SetsTo)
	}
	return " (" + strings.Join(parts, ", ") + ")"
}

// words names the muscles that lose sets.
func (t *taking) words(p *Proposal) string {
	var parts []string
	for i, m := range t.s.Now {
		if t.muscle[i] >= 1 {
			parts = append(parts, fmt.Sprintf("%s %g to %g (maintenance %g)", m.Muscle, m.Sets, m.Sets-t.muscle[i], p.Doses[i].Sets))
		}
	}
	return strings.Join(parts, ", ")
}
