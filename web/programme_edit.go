package web

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"glidepath/athlete"
	"glidepath/fault"
)

// edit does what a button of the editor says, such as "exercise-up 1.2", and gives
// the week that is open then. What cannot be done any more changes nothing.
func (d *draft) edit(do string, week int) (open int, err error) {
	verb, at, _ := strings.Cut(do, " ")
	what, how, _ := strings.Cut(verb, "-")
	switch what {
	case "show":
		return week, nil
	case "week":
		return d.editWeek(how, at, week)
	case "session":
		return week, d.Weeks[week].editSession(how, number(at))
	case "exercise":
		s, row, _ := strings.Cut(at, ".")
		i := number(s)
		if i < 0 || i >= len(d.Weeks[week].Sessions) {
			return week, gone()
		}
		return week, d.Weeks[week].Sessions[i].editRow(how, number(row))
	}
	return week, fault.New(fault.Invalid, "The form asks for %q, which is nothing that can be done.", do)
}

func gone() error {
	return fault.New(fault.Conflict, "what that button was for is not there any more.")
}

// number is a place counted from 1, as an index; -1 where it is none.
func number(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil {
		return -1
	}
	return n - 1
}

func (d *draft) editWeek(how, at string, week int) (open int, err error) {
	if how == "open" {
		if i := number(at); i >= 0 && i < len(d.Weeks) {
			return i, nil
		}
		return week, gone()
	}
	if how == "remove" {
		if len(d.Weeks) == 1 {
			return week, fault.New(fault.Conflict, "a programme has at least one week.")
		}
		d.Weeks = slices.Delete(d.Weeks, week, week+1)
		return min(week, len(d.Weeks)-1), nil
	}
	if how == "earlier" || how == "later" {
		return moved(d.Weeks, week, how == "earlier")
	}
	if len(d.Weeks) == athlete.MostProgrammeWeeks {
		return week, fault.New(fault.Conflict, "%d weeks are the most.", athlete.MostProgrammeWeeks)
	}
	var next draftWeek
	switch how {
	case "add":
		next.Sessions = []draftSession{newDraftSession(1)}
	case "copy":
		next = d.Weeks[week].clone()
	case "deload":
		next = d.Weeks[week].deloaded()
	default:
		return week, fault.New(fault.Invalid, "A week cannot be made to %q.", how)
	}
	d.Weeks = slices.Insert(d.Weeks, week+1, next)
	return week + 1, nil
}

// moved swaps one with its neighbour and gives where it is then.
func moved[T any](all []T, i int, up bool) (int, error) {
	j := i + 1
	if up {
		j = i - 1
	}
	if i < 0 || j < 0 || i >= len(all) || j >= len(all) {
		return i, gone()
	}
	all[i], all[j] = all[j], all[i]
	return j, nil
}

func (w *draftWeek) clone() draftWeek {
	out := draftWeek{Deload: w.Deload, Sessions: slices.Clone(w.Sessions)}
	for i := range out.Sessions {
		out.Sessions[i].Rows = slices.Clone(out.Sessions[i].Rows)
	}
	return out
}

// deloaded is an easier copy of the week. A row that cannot be read stays as it is.
func (w *draftWeek) deloaded() draftWeek {
	out := w.clone()
	out.Deload = true
	for i := range out.Sessions {
		for j := range out.Sessions[i].Rows {
			row := &out.Sessions[i].Rows[j]
			if e, faults := row.exercise(); len(faults) == 0 {
				alone := athlete.ProgrammeWeek{Deload: w.Deload, Sessions: []athlete.PlannedSession{{Exercises: []athlete.PlannedExercise{e}}}}
				*row = rowOf(alone.AsDeload().Sessions[0].Exercises[0])
			}
		}
	}
	return out
}

func (w *draftWeek) editSession(how string, i int) error {
	if how != "add" && (i < 0 || i >= len(w.Sessions)) {
		return gone()
	}
	full := len(w.Sessions) == athlete.MostWeekSessions
	switch how {
	case "up", "down":
		_, err := moved(w.Sessions, i, how == "up")
		return err
	case "remove":
		w.Sessions = slices.Delete(w.Sessions, i, i+1)
		return nil
	case "add", "copy":
		if full {
			return fault.New(fault.Conflict, "%d sessions a week are the most.", athlete.MostWeekSessions)
		}
	}
	switch how {
	case "add":
		w.Sessions = append(w.Sessions, newDraftSession(len(w.Sessions)+1))
	case "copy":
		next := w.Sessions[i]
		next.Rows, next.Day = slices.Clone(next.Rows), ""
		w.Sessions = slices.Insert(w.Sessions, i+1, next)
	default:
		return fault.New(fault.Invalid, "A session cannot be made to %q.", how)
	}
	return nil
}

func (s *draftSession) editRow(how string, i int) error {
	if how == "add" {
		if len(s.Rows) == athlete.MostSessionExercises {
			return fault.New(fault.Conflict, "%d exercises in a session are the most.", athlete.MostSessionExercises)
		}
		var next draftRow
		if n := len(s.Rows); n > 0 {
			next = s.Rows[n-1].numbers()
		}
		s.Rows = append(s.Rows, next)
		return nil
	}
	if i < 0 || i >= len(s.Rows) {
		return gone()
	}
	switch how {
	case "up", "down":
		_, err := moved(s.Rows, i, how == "up")
		return err
	case "remove":
		s.Rows = slices.Delete(s.Rows, i, i+1)
		return nil
	}
	return fault.New(fault.Invalid, "An exercise cannot be made to %q.", how)
}

// removes says what a button takes away, "" where it takes nothing away.
func (d *draft) removes(do string, week int) string {
	verb, at, _ := strings.Cut(do, " ")
	w := &d.Weeks[week]
	switch verb {
	case "week-remove":
		return d.weekTitle(week)
	case "session-remove":
		if i := number(at); i >= 0 && i < len(w.Sessions) {
			return fmt.Sprintf("“%s”", w.Sessions[i].Name)
		}
	case "exercise-remove":
		s, row, _ := strings.Cut(at, ".")
		if i := number(s); i >= 0 && i < len(w.Sessions) {
			if j := number(row); j >= 0 && j < len(w.Sessions[i].Rows) {
				return w.Sessions[i].Rows[j][rowExercise] // a blank row is no loss
			}
		}
	}
	return ""
}
