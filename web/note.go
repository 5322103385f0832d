package web

import (
	"cmp"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/fault"
)

// notedDay is a note in the list: the coach's, or what the athlete wrote on a day.
type notedDay struct {
	On        civil.Date
	When, Who string
	Text      string
	Number    int // of the coach's
}

// mostNotes is how many notes the page has, and openNotes how many are seen at once;
// all are in the export.
const (
	mostNotes = 40
	openNotes = 4
)

// notesOf lists both sides' notes, the latest first.
func notesOf(d *app.Dossier, coach []athlete.Note) (out []notedDay, more int) {
	n := chart.Notation{Units: d.Athlete.Units}
	for i := range coach {
		c := &coach[i]
		out = append(out, notedDay{c.Date, n.Date(c.Date), c.Who, c.Text, c.Number})
	}
	for i := range d.Days {
		if day := &d.Days[i]; day.Notes != "" {
			out = append(out, notedDay{day.Date, n.Date(day.Date), d.Athlete.Name, day.Notes, 0})
		}
	}
	slices.SortStableFunc(out, func(x, y notedDay) int { return cmp.Or(int(y.On-x.On), y.Number-x.Number) })
	if len(out) > mostNotes {
		out, more = out[:mostNotes], len(out)-mostNotes
	}
	return out, more
}

// datesOf are the dates that notes are about.
func datesOf(notes []athlete.Note) []civil.Date {
	var out []civil.Date
	for i := range notes {
		out = append(out, notes[i].Date)
	}
	return out
}

func addNote(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	n := athlete.Note{Text: strings.ReplaceAll(typed.Get("note"), "\r\n", "\n"), Who: r.visitor.Name}
	if n.Date, err = dateIn(typed, "note_date"); err == nil && n.Date > r.asOf {
		err = fault.New(fault.Invalid, "%s is still to come.", n.Date).WithField("note_date").WithHint("Put the note on a day that has been.")
	}
	if err == nil {
		_, err = r.desk.app.AddNote(r.ctx(), r.id(), n)
	}
	if err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		return r.overview(status(err), typed, err)
	}
	return r.done("/athletes/"+r.id()+"#notes", "noted")
}

func removeNote(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	number, err := strconv.Atoi(typed.Get("number"))
	if err == nil {
		err = r.desk.app.RemoveNote(r.ctx(), r.id(), number)
	} else {
		err = fault.New(fault.NotFound, "there is no such note.")
	}
	if err != nil {
		return err
	}
	return r.done("/athletes/"+r.id()+"#notes", "note-removed")
}

// noteForm is the form of a note, of today until another day is typed.
func noteForm(typed url.Values, on civil.Date) form {
	if typed == nil {
		typed = url.Values{"note_date": {on.String()}}
	}
	return form{Values: typed}
}

// showAthlete is the overview as it is asked for.
func showAthlete(r *request) error { return r.overview(http.StatusOK, nil, nil) }
