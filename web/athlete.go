package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html/template"
	"math"
	"net/url"
	"strings"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/phrase"
	"glidepath/report"
)

// athletePage is the overview: what is so, the corridor, and the rest under it.
type athletePage struct {
	Doc      report.Document
	Where    string
	Parts    map[string]template.HTML
	Axes     []axis
	Window   chart.Window
	Earliest civil.Date
	Latest   civil.Date
	Days     string // address of the day-by-day values
	Day      int    // the one that they begin at
	Queries  []query
	Notes    []notedDay
	Older    []notedDay // folded
	More     int        // notes that are not listed
	Form     form
	Writing  bool // the note's form was refused, and is shown open
}

// axis tells the script where the days of a drawing lie, in shares of its width.
type axis struct {
	Class       string
	Left, Right float64
}

// query is a weight that does not fit, with what can be answered.
type query struct {
	Date    civil.Date
	Text    string
	Instead string // in the reader's unit, "" where there is none
	Unit    string
}

// parts of the overview, in the order of the page.
var overviewParts = []string{
	"corridor-head", "corridor-figure", "corridor-numbers", "prescription", "appraisal", "expenditure", "composition",
	"strength", "activity", "recovery", "chances", "cannot-tell", "glossary",
}

func (r *request) dossier(more func(*app.Options)) (*app.Dossier, error) {
	o := app.Options{Futures: r.s.o.Futures, Workers: r.s.o.Workers}
	if more != nil {
		more(&o)
	}
	return r.desk.app.Dossier(r.ctx(), r.id(), r.asOf, o)
}

func (r *request) document(d *app.Dossier) report.Document {
	return report.FromDossier(d, report.Settings{Invented: r.desk.invented})
}

// overview writes the page; typed and wrong are of a note that was refused.
func (r *request) overview(code int, typed url.Values, wrong error) error {
	d, err := r.dossier(nil)
	if err != nil {
		return err
	}
	window, err := windowOf(r)
	if err != nil {
		return err
	}
	notes, err := r.desk.app.Notes(r.ctx(), r.id(), r.asOf)
	if err != nil {
		return err
	}
	whole := r.document(d)
	// Here alone: the report, which may go to the athlete, is without them.
	whole.Corridor.Chart.Notes.Coach = datesOf(notes)
	body := athletePage{Window: window, Doc: whole, Where: where(d), Queries: queriesOf(d), Form: noteForm(typed, r.asOf), Writing: wrong != nil}
	body.Notes, body.More = notesOf(d, notes)
	if len(body.Notes) > openNotes {
		body.Notes, body.Older = body.Notes[:openNotes], body.Notes[openNotes:]
	}
	p := page{Title: d.Athlete.Name, Athlete: &d.Athlete, Tab: "overview"}
	if wrong != nil {
		body.Form.Wrong, p.Faults = wrongIn(wrong, map[string]string{"date": "note_date", "note_date": "note_date", "text": "note"})
	}
	if a, ok := whole.Corridor.Chart.DayAxis(chart.Options{}); ok {
		body.Earliest, body.Latest = a.From, a.To
	}
	shown := whole.Between(window)
	if shown.Corridor.Chart.Empty() && !window.Open() {
		body.Window, shown = chart.Window{}, whole // nothing there: rather show all
	}
	if body.Parts, err = partsOf(shown, overviewParts); err != nil {
		return err
	}
	body.axes(d, shown)
	p.Body = body
	return r.page(code, "athlete", p)
}

// axes tells the script of the day reader where the days lie.
func (p *athletePage) axes(d *app.Dossier, shown report.Document) {
	for _, o := range []struct {
		class  string
		narrow bool
	}{{"wide", false}, {"narrow", true}} {
		if a, ok := shown.Corridor.Chart.DayAxis(chart.Options{Narrow: o.narrow}); ok {
			p.Axes = append(p.Axes, axis{o.class, a.Left / a.Width, a.Right / a.Width})
			p.Day = max(0, d.AsOf.DaysSince(a.From))
			p.Days = fmt.Sprintf("/athletes/%s/days?from=%s&to=%s", d.Athlete.ID, a.From, a.To)
		}
	}
}

func partsOf(doc report.Document, ids []string) (map[string]template.HTML, error) {
	parts, out := report.PartsOf(doc), map[string]template.HTML{}
	for _, id := range ids {
		html, err := parts.HTML(id)
		if err != nil {
			return nil, err
		}
		out[strings.ReplaceAll(id, "-", "_")] = html
	}
	return out, nil
}

// windowOf are the dates that the reader zooms to.
func windowOf(r *request) (w chart.Window, err error) {
	for name, to := range map[string]*civil.Date{"from": &w.From, "to": &w.To} {
		text := r.URL.Query().Get(name)
		if text == "" {
			continue
		}
		if *to, err = civil.Parse(text); err != nil {
			return w, fault.New(fault.Invalid, "%q is not a date such as 2026-03-02.", text)
		}
	}
	if !w.From.IsZero() && !w.To.IsZero() && w.To < w.From {
		w.From, w.To = w.To, w.From
	}
	return w, nil
}

func where(d *app.Dossier) string {
	text := phrase.Sentence(string(d.Phase))
	if s := d.Show; s != nil {
		n := chart.Notation{Units: d.Athlete.Units}
		text = strings.TrimSuffix(text, ".") + fmt.Sprintf(", %s to %s on %s", weeks(float64(s.Date.DaysSince(d.AsOf))/7), s.Name, n.Date(s.Date))
		if s.Division != "" {
			text += " (" + s.Division + ")"
		}
		return text + "."
	}
	return strings.TrimSuffix(text, ".") + ", no show ahead."
}

func queriesOf(d *app.Dossier) []query {
	var out []query
	u := d.Athlete.Units
	for _, q := range d.Reading.Queries {
		if d.AsOf.DaysSince(q.Date) >= 28 {
			continue
		}
		one := query{Date: q.Date, Text: phrase.Sentence(q.Reason), Unit: u.WeightUnit()}
		if q.Instead != nil {
			one.Instead = fmt.Sprintf("%.1f", u.WeightNumber(*q.Instead))
		}
		out = append(out, one)
	}
	return out
}

// dayValues is what a reader of the corridor is told of each day.
type dayValues struct {
	From civil.Date `json:"from"`
	// Days are sentences from From on, one a day.
	Days []string `json:"days"`
}

func showDays(r *request) error {
	d, err := r.dossier(nil)
	if err != nil {
		return err
	}
	window, err := windowOf(r)
	if err != nil {
		return err
	}
	notes, err := r.desk.app.Notes(r.ctx(), r.id(), r.asOf)
	if err != nil {
		return err
	}
	out := daysOf(r.document(d).Between(window), d.Days, notes)
	r.w.Header().Set("Content-Type", "application/json")
	return json.NewEncoder(r.w).Encode(out)
}

// daysOf writes every day of a corridor as a sentence, with what both sides wrote.
func daysOf(doc report.Document, log []athlete.Day, notes []athlete.Note) dayValues {
	ch, n := doc.Corridor.Chart, doc.Notation
	a, ok := ch.DayAxis(chart.Options{})
	if !ok {
		return dayValues{Days: []string{}}
	}
	said := make([][]string, a.To.DaysSince(a.From)+1)
	say := func(on civil.Date, format string, args ...any) {
		if i := on.DaysSince(a.From); i >= 0 && i < len(said) {
			said[i] = append(said[i], fmt.Sprintf(format, args...))
		}
	}
	k, unit := n.FromKg(1), nbsp+n.WeightUnit()
	for _, e := range ch.Trend {
		if finite(e.Value) {
			say(e.Date, "trend %s%s", chart.Interval(e.Value*k, e.Low*k, e.High*k, 1), unit)
		}
	}
	for _, p := range ch.Scale {
		say(p.Date, "scale %s%s", chart.Number(p.Value*k, 1), unit)
	}
	for _, p := range ch.Forecast {
		if p.Date > doc.AsOf {
			say(p.Date, "forecast %s%s", chart.Interval(p.Median*k, p.Low[2]*k, p.High[2]*k, 1), unit)
		}
	}
	for _, p := range ch.Plan {
		say(p.Date, "plan %s%s", chart.Number(p.Value*k, 1), unit)
	}
	for _, e := range ch.Edges {
		if finite(e.UpperKg) && finite(e.LowerKg) {
			say(e.Date, "corridor %s to %s%s", chart.Number(e.LowerKg*k, 1), chart.Number(e.UpperKg*k, 1), unit)
		}
	}
	for _, e := range ch.Expenditure {
		if finite(e.Value) {
			say(e.Date, "expenditure %s%skcal", chart.Interval(e.Value, e.Low, e.High, 0), nbsp)
		}
	}
	for _, m := range ch.Marks {
		say(m.Date, "prescription changed")
	}
	for i := range log {
		if text := log[i].Notes; text != "" {
			say(log[i].Date, "“%s”", text)
		}
	}
	for i := range notes {
		say(notes[i].Date, "note of %s: “%s”", notes[i].Who, notes[i].Text)
	}
	out := dayValues{From: a.From, Days: make([]string, len(said))}
	for i, parts := range said {
		on := a.From.AddDays(i)
		words := "nothing known"
		if len(parts) > 0 {
			words = strings.Join(parts, "; ")
		}
		out.Days[i] = fmt.Sprintf("%s %s: %s.", on.Weekday().String()[:3], n.Date(on), words)
	}
	return out
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// showReport gives the one-file report, to keep or to print.
func showReport(r *request) error {
	d, err := r.dossier(nil)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := report.Write(&b, r.document(d)); err != nil {
		return err
	}
	r.w.Header().Set("Content-Type", "text/html; charset=utf-8")
	r.w.Header().Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", fmt.Sprintf("%s-%s.html", d.Athlete.ID, d.AsOf)))
	_, _ = b.WriteTo(r.w) // the reader may have gone
	return nil
}
