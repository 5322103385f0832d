package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/phrase"
)

// writePage is the form in which a programme is written, a week at a time.
type writePage struct {
	Draft    string // the whole, packed
	Week     int    // the open one, from 1
	Weeks    []weekTab
	Head     form
	Deload   bool
	Sessions []sessionForm
	Lifts    []string
	Undo     *undo
	Full     bool // no more weeks fit
	GoesOn   string
	Sets     *weekSets
}

type weekTab struct {
	Number int
	Title  string
	Wrong  bool
}

// undo puts back what the last button took away.
type undo struct {
	Draft, Says string
	Week        int // from 1
	Session     int // that it was taken from, from 1; 0 is none
}

type sessionForm struct {
	ID, Title       string
	Number          int
	Name, Day, Note field
	Rows            []rowForm
	Undo            *undo
}

type rowForm struct {
	ID, Title string
	Session   int
	Number    int
	Fields    []rowField
}

type rowField struct {
	field
	Mode string // of the keyboard on a phone
}

// showWrite begins from a version; without any from a blank week.
func showWrite(r *request) error {
	p, goesOn, err := r.begun()
	if err != nil {
		return err
	}
	d := draft{Name: "Programme", From: nextMonday(r.asOf).String(), Weeks: []draftWeek{{Sessions: []draftSession{newDraftSession(1)}}}}
	if p != nil {
		d = draftOf(p)
		d.GoesOn = goesOn
	}
	return r.writePage(http.StatusOK, &d, 0, nil, nil, nil)
}

// begun is the version that a new one is written from, to begin on the next Monday:
// the one that is named, else the one in force or the last; nil where there is none.
// The round of the one in force goes on, which goesOn says where it is so.
func (r *request) begun() (p *athlete.Programme, goesOn string, err error) {
	all, err := r.programmes()
	if err != nil {
		return nil, "", err
	}
	today, err := r.desk.app.GymDay(r.ctx(), r.id(), r.asOf)
	if err != nil {
		return nil, "", err
	}
	was, err := chosenVersion(all, r.URL.Query().Get("version"), today.Programme)
	if was == nil || err != nil {
		return nil, "", err
	}
	next, from := *was, nextMonday(r.asOf)
	if was.Version == today.Programme {
		next = was.BegunOn(from)
		if _, due := was.WeekOn(from); due > 0 {
			goesOn = fmt.Sprintf("Week 1 here is week %d of version %d, so that the round goes on where it will be on that Monday.", due+1, was.Version)
		}
	}
	next.From = from
	return &next, goesOn, nil
}

// nextMonday is the date itself where it is a Monday.
func nextMonday(on civil.Date) civil.Date {
	for on.Weekday() != time.Monday {
		on++
	}
	return on
}

// editProgramme does what a button of the form says and shows the form again.
func editProgramme(r *request) error {
	d, week, typed, err := r.draft()
	if err != nil {
		return err
	}
	do := typed.Get("do")
	if do == "undo" {
		before, err := decodeDraft(typed.Get("undo"))
		if err != nil {
			return err
		}
		d, week = before, openWeek(typed.Get("undo_week"), &before)
		return r.writePage(http.StatusOK, &d, week, nil, nil, nil)
	}
	var back *undo
	if what := d.removes(do, week); what != "" {
		back = &undo{Draft: d.encoded(), Says: what, Week: week + 1, Session: sessionOf(do)}
	}
	open, err := d.edit(do, week)
	if err != nil {
		return r.writePage(status(err), &d, open, nil, nil, err)
	}
	return r.writePage(http.StatusOK, &d, open, nil, back, nil)
}

// keepProgramme keeps what was written as the next version.
func keepProgramme(r *request) error {
	d, week, _, err := r.draft()
	if err != nil {
		return err
	}
	p, wrong := d.programme()
	if len(wrong) > 0 {
		if !slices.ContainsFunc(wrong.places(), func(p place) bool { return p.session < 0 || p.week == week }) {
			week = wrong.places()[0].week
		}
		return r.writePage(http.StatusUnprocessableEntity, &d, week, wrong, nil, fault.New(fault.Invalid, "something in it cannot be read yet.").WithHint("What it is stands beside it."))
	}
	if _, err := r.desk.app.AddProgramme(r.ctx(), r.id(), p, r.visitor.Name); err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		return r.writePage(status(err), &d, week, nil, nil, err)
	}
	return r.done("/athletes/"+r.id()+"/programme", "programme")
}

// draft is what the form has: the draft that came with it, with what was typed over
// its open week.
func (r *request) draft() (d draft, week int, typed url.Values, err error) {
	if typed, err = r.form(); err != nil {
		return d, 0, nil, err
	}
	if d, err = decodeDraft(typed.Get("draft")); err != nil {
		return d, 0, nil, err
	}
	week = openWeek(typed.Get("week"), &d)
	d.take(typed, week)
	return d, week, typed, nil
}

func openWeek(text string, d *draft) int { return min(max(0, number(text)), len(d.Weeks)-1) }

// writePage writes the form with what is wrong in it.
func (r *request) writePage(code int, d *draft, week int, wrong mistakes, back *undo, refused error) error {
	a, err := r.athlete()
	if err != nil {
		return err
	}
	known, err := r.desk.app.Catalogue(r.ctx())
	if err != nil {
		return err
	}
	body := writePage{
		Draft: d.encoded(), Week: week + 1, Deload: d.Weeks[week].Deload, Undo: back, Full: len(d.Weeks) == athlete.MostProgrammeWeeks, GoesOn: d.GoesOn,
		Head: form{Values: url.Values{"name": {d.Name}, "phase": {d.Phase}, "from": {d.From}, "notes": {d.Notes}}},
	}
	if body.Sets, err = r.weekSets(d.Weeks[week].readable()); err != nil {
		return err
	}
	for _, e := range known.Exercises() {
		body.Lifts = append(body.Lifts, e.Name)
	}
	p := page{Title: "Write a programme for " + a.Name, Athlete: a, Tab: "programme", Wide: true}
	if refused != nil {
		p.Faults = troubles(refused)
	}
	in := map[string]string{}
	weeks := map[int]bool{}
	for _, at := range wrong.places() {
		weeks[at.week] = weeks[at.week] || at.session >= 0
		if at.week == week || at.session < 0 {
			in[at.name()] = wrong[at]
		}
	}
	body.Head.Wrong = in
	for i := range d.Weeks {
		body.Weeks = append(body.Weeks, weekTab{i + 1, d.weekTitle(i), weeks[i]})
	}
	for i := range d.Weeks[week].Sessions {
		s := sessionFormOf(&d.Weeks[week].Sessions[i], i, in)
		if back != nil && back.Session == i+1 {
			s.Undo, body.Undo = back, nil
		}
		body.Sessions = append(body.Sessions, s)
	}
	p.Body = body
	return r.page(code, "programme-write", p)
}

func sessionFormOf(s *draftSession, i int, wrong map[string]string) sessionForm {
	id := sessionID(i)
	one := func(name, label, value string) field {
		name = id + "-" + name
		return field{ID: name, Name: name, Label: label, Value: value, Wrong: wrong[name], Kind: "text"}
	}
	out := sessionForm{ID: id, Number: i + 1, Title: s.Name, Name: one("name", "Session", s.Name), Day: one("day", "Day", s.Day), Note: one("notes", "Notes", s.Notes)}
	if out.Title == "" {
		out.Title = "Session " + strconv.Itoa(i+1)
	}
	out.Day.Kind = "select"
	out.Day.Options = []option{{"", "any, in order"}}
	for _, day := range weekdays {
		out.Day.Options = append(out.Day.Options, option{day, phrase.Capital(day)})
	}
	for j := range s.Rows {
		out.Rows = append(out.Rows, rowFormOf(&s.Rows[j], i, j, wrong))
	}
	return out
}

// rowLabels are the labels of a row's inputs, and the keyboards that they want.
var rowLabels = [rowFieldCount][2]string{{"Exercise", "text"}, {"Sets", "numeric"}, {"Reps", "numeric"}, {"to", "numeric"}, {"RIR", "decimal"}, {"Rest, s", "numeric"}, {"Note", "text"}}

func rowFormOf(row *draftRow, session, i int, wrong map[string]string) rowForm {
	out := rowForm{ID: rowID(session, i), Session: session + 1, Number: i + 1, Title: row[rowExercise]}
	if out.Title == "" {
		out.Title = "exercise " + chart.Number(float64(i+1), 0)
	}
	for k, f := range rowFields {
		name := out.ID + "-" + f.name
		out.Fields = append(out.Fields, rowField{field{ID: name, Name: name, Label: rowLabels[k][0], Value: row[k], Wrong: wrong[name], Kind: f.name}, rowLabels[k][1]})
	}
	return out
}

// sessionOf is the session that a button about an exercise names, from 1; else 0.
func sessionOf(do string) int {
	verb, at, _ := strings.Cut(do, " ")
	if !strings.HasPrefix(verb, "exercise-") {
		return 0
	}
	s, _, _ := strings.Cut(at, ".")
	return number(s) + 1
}
