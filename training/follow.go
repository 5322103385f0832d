package training

import (
	"math"

	"glidepath/athlete"
	"glidepath/civil"
)

// Follow writes a proposal into a programme that is in force on a date: the
// versions that come after it, none where nothing changes. Fewer sets and another
// exercise stand in every week from the date on, and the round goes on with the week
// that is due. A deload is a version of easy weeks for as long as it lasts, and then
// one that is as it was. No set is added.
func (c *Catalogue) Follow(p *athlete.Programme, on civil.Date, change *Proposal) []athlete.Programme {
	switch change.Action {
	case FewerSets, Swap:
		next := p.BegunOn(on)
		changed := false
		for i := range next.Weeks {
			changed = c.adjust(&next.Weeks[i], change.Exercises) || changed
		}
		if !changed {
			return nil
		}
		return []athlete.Programme{next}
	case Deload:
		easy := p.BegunOn(on)
		for i := range easy.Weeks {
			easy.Weeks[i] = easy.Weeks[i].AsDeload()
		}
		return []athlete.Programme{easy, p.BegunOn(on.AddDays(change.Days))}
	}
	return nil
}

// adjust makes the changes in a week and reports whether there were any. A session
// that has nothing left goes, but the last.
func (c *Catalogue) adjust(w *athlete.ProgrammeWeek, changes []ExerciseChange) (changed bool) {
	for _, change := range changes {
		places := c.places(w, change.Exercise)
		for _, at := range places {
			if change.SwapTo != "" {
				at.Exercise, changed = change.SwapTo, true
			}
		}
		for range int(math.Round(change.SetsFrom - change.SetsTo)) {
			changed = takeOne(places, change.SetsTo) || changed
		}
	}
	kept := w.Sessions[:0]
	for i := range w.Sessions {
		s := w.Sessions[i]
		left := s.Exercises[:0]
		for _, e := range s.Exercises {
			if e.Sets > 0 {
				left = append(left, e)
			}
		}
		if s.Exercises = left; len(left) > 0 {
			kept = append(kept, s)
		}
	}
	w.Sessions = kept
	return changed
}

// places are where a week has a lift, in order.
func (c *Catalogue) places(w *athlete.ProgrammeWeek, lift string) (out []*athlete.PlannedExercise) {
	for i := range w.Sessions {
		for j := range w.Sessions[i].Exercises {
			if e := &w.Sessions[i].Exercises[j]; c.SameLift(e.Exercise, lift) {
				out = append(out, e)
			}
		}
	}
	return out
}

// takeOne takes a set from where there are most, of equals from the last. One set
// of the lift stays in the week unless none is to.
func takeOne(places []*athlete.PlannedExercise, setsTo float64) bool {
	most, total := -1, 0
	for i, e := range places {
		total += e.Sets
		if e.Sets > 0 && (most < 0 || e.Sets >= places[most].Sets) {
			most = i
		}
	}
	if most < 0 || total == 1 && setsTo >= 0.5 {
		return false
	}
	places[most].Sets--
	return true
}
