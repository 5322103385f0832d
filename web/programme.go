package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/phrase"
)

// programmePage is what the coach wrote for the gym: one version in full, and the
// others by name.
type programmePage struct {
	Says     string
	Shown    *programmeView
	Versions []programmeLine // the latest first
	Today    *app.GymDay
	CanWrite bool
}

// programmeView is a version as it is read.
type programmeView struct {
	athlete.Programme
	When    string
	InForce bool
	Weeks   []weekView
	Sets    *weekSets
	SetsOf  string // the week that they are of
}

type weekView struct {
	Title    string
	Says     string // how much it is
	Due      bool   // this week
	Sessions []sessionView
}

type sessionView struct {
	Name, Day, Notes string
	Rows             []rowView
}

type rowView struct{ Exercise, Sets, RIR, Rest, Notes string }

type programmeLine struct {
	Version                 int
	Name, When, Says, State string
}

// ahead is how far beyond today programmes are looked for, days: those that are
// to come.
const ahead = 730

// programmes are the athlete's, with those to come unless another day is looked at.
func (r *request) programmes() ([]athlete.Programme, error) {
	to := r.asOf
	if !r.otherDay {
		to = to.AddDays(ahead)
	}
	return r.desk.app.Programmes(r.ctx(), r.id(), to)
}

func showProgramme(r *request) error {
	a, err := r.athlete()
	if err != nil {
		return err
	}
	all, err := r.programmes()
	if err != nil {
		return err
	}
	today, err := r.desk.app.GymDay(r.ctx(), a.ID, r.asOf)
	if err != nil {
		return err
	}
	n := chart.Notation{Units: a.Units}
	body := programmePage{Today: today, CanWrite: r.may(access.Decide)}
	shown, err := chosenVersion(all, r.URL.Query().Get("version"), today.Programme)
	if err != nil {
		return err
	}
	if shown != nil {
		body.Shown = programmeViewOf(shown, today, r.asOf, n)
		i := max(0, slices.IndexFunc(body.Shown.Weeks, func(w weekView) bool { return w.Due }))
		body.Shown.SetsOf = strings.ToLower(body.Shown.Weeks[i].Title)
		if body.Shown.Sets, err = r.weekSets(shown.Weeks[i]); err != nil {
			return err
		}
	}
	body.Says = programmeSays(body.Shown, len(all))
	for i := range all {
		body.Versions = append(body.Versions, programmeLineOf(&all[i], today.Programme, r.asOf, n))
	}
	slices.Reverse(body.Versions)
	return r.page(http.StatusOK, "programme", page{Title: "Programme of " + a.Name, Athlete: a, Tab: "programme", Body: body})
}

// chosenVersion is the one that is asked for, else the one in force, else the last.
func chosenVersion(all []athlete.Programme, asked string, inForce int) (*athlete.Programme, error) {
	version := inForce
	if asked != "" {
		v, err := strconv.Atoi(asked)
		if err != nil {
			return nil, fault.New(fault.Invalid, "%q is no version of a programme.", asked)
		}
		version = v
	}
	for i := range all {
		if all[i].Version == version {
			return &all[i], nil
		}
	}
	if asked != "" {
		return nil, fault.New(fault.NotFound, "There is no version %d of the programme.", version)
	}
	if len(all) > 0 {
		return &all[len(all)-1], nil
	}
	return nil, nil //nolint:nilnil // nothing is written yet, which is no error
}

func programmeSays(p *programmeView, versions int) string {
	switch {
	case p == nil:
		return "Nothing is written for the gym yet. Write the weeks here, and the athlete sees each day’s session on their own page."
	case p.InForce:
		for _, w := range p.Weeks {
			if w.Due {
				return fmt.Sprintf("“%s” is in force: %s of %d, %s.", p.Name, strings.ToLower(w.Title), len(p.Weeks), w.Says)
			}
		}
	}
	return fmt.Sprintf("“%s” is version %d of %d, from %s.", p.Name, p.Version, versions, p.When)
}

func programmeViewOf(p *athlete.Programme, today *app.GymDay, on civil.Date, n chart.Notation) *programmeView {
	out := &programmeView{Programme: *p, When: n.Date(p.From), InForce: p.Version == today.Programme}
	_, due := p.WeekOn(on)
	for i := range p.Weeks {
		w := weekViewOf(&p.Weeks[i], i)
		w.Due = out.InForce && i == due
		out.Weeks = append(out.Weeks, w)
	}
	return out
}

func weekViewOf(w *athlete.ProgrammeWeek, i int) weekView {
	out := weekView{Title: fmt.Sprintf("Week %d", i+1)}
	if w.Deload {
		out.Title += ", deload"
	}
	sets := 0
	for _, s := range w.Sessions {
		one := sessionView{Name: s.Name, Notes: s.Notes}
		if s.Day != nil {
			one.Day = phrase.Capital(s.Day.String())
		}
		for _, e := range s.Exercises {
			one.Rows = append(one.Rows, rowViewOf(e))
			sets += e.Sets
		}
		out.Sessions = append(out.Sessions, one)
	}
	out.Says = "no session"
	if n := len(w.Sessions); n > 0 {
		out.Says = fmt.Sprintf("%s and %s", counted(n, "sessions"), counted(sets, "sets"))
	}
	return out
}

func rowViewOf(e athlete.PlannedExercise) rowView {
	out := rowView{Exercise: phrase.Capital(e.Exercise), Notes: e.Notes, Sets: fmt.Sprintf("%d × %d", e.Sets, e.RepsLow)}
	if e.RepsHigh > e.RepsLow {
		out.Sets += fmt.Sprintf(" to %d", e.RepsHigh)
	}
	out.RIR = opt(e.RIR, 0)
	if e.RIR != nil {
		out.RIR = figure(*e.RIR)
	}
	switch s := e.RestSeconds; {
	case s == 0:
	case s%60 == 0:
		out.Rest = fmt.Sprintf("%d%smin", s/60, nbsp)
	default:
		out.Rest = fmt.Sprintf("%d%ss", s, nbsp)
	}
	return out
}

func programmeLineOf(p *athlete.Programme, inForce int, on civil.Date, n chart.Notation) programmeLine {
	out := programmeLine{Version: p.Version, Name: p.Name, When: n.Date(p.From)}
	out.Says = counted(len(p.Weeks), "weeks")
	if p.Phase != "" {
		out.Says += fmt.Sprintf(", for %s", p.Phase)
	}
	if p.Author != "" {
		out.Says += ", by " + p.Author
	}
	switch {
	case p.Version == inForce:
		out.State = "in force"
	case p.From > on:
		out.State = "to come"
	}
	return out
}
