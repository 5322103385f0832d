package web

import (
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/report"
	"glidepath/season"
)

// seasonPage is the map, and what it would be with other dates.
type seasonPage struct {
	Doc       report.Document
	Parts     map[string]template.HTML
	Timeline  timeline
	Shows     []option
	Form      form
	Open      bool // the what-if form is in use
	What      *whatIf
	CanDecide bool
}

// whatIf compares today's plan with another, side by side.
type whatIf struct {
	Says     string
	Columns  [2]string
	Rows     []effectRow
	Pictures [2]template.HTML
	Lines    [2]timeline
	Values   url.Values // to accept it
}

// supposition is what is typed on the season page.
type supposition struct {
	ShowID    string
	Date      civil.Date
	Target    *float64
	Tolerance *float64
	Event     *athlete.Event
}

func (s *supposition) empty() bool {
	return s.Date.IsZero() && s.Target == nil && s.Tolerance == nil && s.Event == nil
}

// apply changes a profile as supposed.
func (s *supposition) apply(a *athlete.Athlete) {
	a.Shows, a.Events = slices.Clone(a.Shows), slices.Clone(a.Events)
	for i := range a.Shows {
		show := &a.Shows[i]
		if show.ID != s.ShowID {
			continue
		}
		if !s.Date.IsZero() {
			show.Date = s.Date
		}
		if s.Target != nil {
			show.TargetBodyFatPct = *s.Target
		}
		if s.Tolerance != nil {
			show.TargetTolerance = *s.Tolerance
		}
	}
	if s.Event != nil {
		a.Events = append(a.Events, *s.Event)
	}
}

func showSeason(r *request) error {
	return r.seasonPage(http.StatusOK, r.URL.Query(), nil)
}

func (r *request) seasonPage(code int, typed url.Values, wrong error) error {
	d, err := r.dossier(func(o *app.Options) { o.ShowID = typed.Get("show") })
	if err != nil {
		return err
	}
	doc := r.document(d)
	body := seasonPage{Doc: doc, Form: form{Values: typed}, CanDecide: r.may(access.Decide)}
	if body.Parts, err = partsOf(doc, []string{"season", "appraisal"}); err != nil {
		return err
	}
	body.Timeline = timelineOf(d, "now-", 0)
	n := chart.Notation{Units: d.Athlete.Units}
	for _, s := range d.Athlete.Shows {
		if s.Date >= d.AsOf {
			body.Shows = append(body.Shows, option{s.ID, s.Name + ", " + n.Date(s.Date)})
		}
	}
	p := page{Title: "Season of " + d.Athlete.Name, Athlete: &d.Athlete, Tab: "season", Wide: true}
	suppose, err := supposed(typed, d)
	if err == nil && !suppose.empty() {
		body.Open = true
		body.What, err = r.compare(d, suppose, typed)
	}
	if wrong == nil {
		wrong = err
	}
	if wrong != nil {
		if fault.KindOf(wrong) == "" {
			return wrong
		}
		body.Open = true
		body.Form.Wrong, p.Faults = wrongIn(wrong, map[string]string{
			"shows.date": "date", "show": "date", "shows.target_body_fat_pct": "target", "shows.target_tolerance_pct": "tolerance", "events": "event_from",
			"date": "date", "target": "target", "tolerance": "tolerance", "event_from": "event_from", "event_to": "event_to",
		})
		if code == http.StatusOK {
			code = status(wrong)
		}
	}
	p.Body = body
	return r.page(code, "season", p)
}

// supposed reads the form; what equals today's plan is no supposition.
func supposed(typed url.Values, d *app.Dossier) (supposition, error) {
	var s supposition
	var err error
	if d.Show != nil {
		s.ShowID = d.Show.ID
		if s.Date, err = dateIn(typed, "date"); err != nil {
			return s, err
		}
		if s.Target, err = numberIn(typed, "target"); err != nil {
			return s, err
		}
		if s.Tolerance, err = numberIn(typed, "tolerance"); err != nil {
			return s, err
		}
		if s.Date == d.Show.Date {
			s.Date = 0
		}
		if s.Target != nil && *s.Target == d.Show.TargetBodyFatPct {
			s.Target = nil
		}
		if s.Tolerance != nil && *s.Tolerance == d.Show.Tolerance() {
			s.Tolerance = nil
		}
		if !s.Date.IsZero() && s.Date <= d.AsOf {
			return s, fault.New(fault.Invalid, "the show must lie after %s.", d.AsOf).WithField("date")
		}
	}
	if typed.Get("event_from") != "" || typed.Get("event_to") != "" {
		e, err := eventIn(typed)
		if err != nil {
			return s, err
		}
		s.Event = &e
	}
	return s, nil
}

func eventIn(typed url.Values) (athlete.Event, error) {
	e := athlete.Event{Kind: typed.Get("event_kind"), Note: typed.Get("event_note"), Maintenance: typed.Get("event_maintenance") != ""}
	if e.Kind == "" {
		e.Kind = "travel"
	}
	var err error
	if e.From, err = dateIn(typed, "event_from"); err != nil {
		return e, err
	}
	if e.To, err = dateIn(typed, "event_to"); err != nil {
		return e, err
	}
	if e.To.IsZero() {
		e.To = e.From
	}
	return e, e.Validate()
}

// dateIn reads a date that may be missing.
func dateIn(typed url.Values, name string) (civil.Date, error) {
	text := typed.Get(name)
	if text == "" {
		return 0, nil
	}
	d, err := civil.Parse(text)
	if err != nil {
		return 0, fault.New(fault.Invalid, "%q is not a date such as 2026-03-02.", text).WithField(name)
	}
	return d, nil
}

// numberIn reads a number that may be missing.
func numberIn(typed url.Values, name string) (*float64, error) {
	text := strings.ReplaceAll(typed.Get(name), ",", ".")
	if text == "" {
		return nil, nil //nolint:nilnil // an optional number that is not there
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !finite(v) {
		return nil, fault.New(fault.Invalid, "%q is not a number.", typed.Get(name)).WithField(name)
	}
	return &v, nil
}

// compare reckons the season as it is supposed, and puts it beside today's plan.
func (r *request) compare(now *app.Dossier, s supposition, typed url.Values) (*whatIf, error) {
	then, err := r.dossier(func(o *app.Options) { o.Suppose, o.ShowID, o.NoReview = s.apply, s.ShowID, true })
	if err != nil {
		return nil, err
	}
	doc := r.document(then)
	w := &whatIf{Columns: [2]string{"Today’s plan", "What if"}, Values: typed}
	until := max(timelineOf(now, "", 0).To, timelineOf(then, "", 0).To)
	w.Lines = [2]timeline{timelineOf(now, "before-", until), timelineOf(then, "after-", until)}
	w.Says = doc.Appraisal.Sentence
	for i, d := range []report.Document{r.document(now), doc} {
		svg := d.Corridor.Chart.SVG(chart.Options{ID: fmt.Sprintf("if%d-", i), Narrow: true, Notation: d.Notation})
		w.Pictures[i] = template.HTML(svg) //nolint:gosec // chart escapes all its text
	}
	n := chart.Notation{Units: now.Athlete.Units}
	row := func(name string, cell func(*app.Dossier) string) {
		w.Rows = append(w.Rows, effectRow{name, []string{cell(now), cell(then)}})
	}
	row("Show", func(d *app.Dossier) string {
		if d.Show == nil {
			return "none"
		}
		return n.Date(d.Show.Date)
	})
	row("Verdict", verdict)
	planned := func(cell func(*app.Dossier) string) func(*app.Dossier) string {
		return func(d *app.Dossier) string {
			if d.Season == nil || d.Show == nil {
				return "–"
			}
			return cell(d)
		}
	}
	row("Slack, weeks", planned(func(d *app.Dossier) string {
		s := d.Season.Corridor.SlackWeeks
		return chart.Interval(s.Value, s.Low, s.High, 1)
	}))
	row("Prep starts", planned(func(d *app.Dossier) string {
		if d.Season.Map.Start <= d.AsOf {
			return "is under way"
		}
		return n.Date(d.Season.Map.Start)
	}))
	row("Lowest week, kcal a day", planned(func(d *app.Dossier) string { return chart.Number(d.Season.Map.Stage.LowestEnergyKcal, 0) }))
	row("Lowest energy availability, kcal per kg of fat-free mass", planned(func(d *app.Dossier) string { return chart.Number(d.Season.Map.Stage.LowestAvailable, 1) }))
	row("Most cardio, minutes a week", planned(func(d *app.Dossier) string { return chart.Number(d.Season.Map.Stage.MostCardio, 0) }))
	row("Lean mass lost, "+n.WeightUnit(), planned(func(d *app.Dossier) string { return chart.Number(n.FromKg(d.Season.Map.Stage.LeanLostKg), 1) }))
	row("Body fat on the day, %", func(d *app.Dossier) string {
		if d.Forecast == nil || d.Show == nil {
			return "–"
		}
		f := d.Forecast.BodyFat
		return chart.Interval(f.Value, f.Low90, f.High90, 1)
	})
	row("On target", func(d *app.Dossier) string {
		if d.Forecast == nil || !d.Forecast.Chances.OnTarget.Known() {
			return "–"
		}
		return report.Percent(float64(d.Forecast.Chances.OnTarget))
	})
	return w, nil
}

func verdict(d *app.Dossier) string {
	switch {
	case d.Blocked != nil:
		return "no deficit may be planned"
	case d.Season == nil || d.Show == nil:
		return "no show to come"
	case d.Season.Appraisal.Verdict == season.Early && d.Season.Map.Start <= d.AsOf:
		return string(season.Enough)
	}
	return string(d.Season.Appraisal.Verdict)
}

// acceptSeason keeps what was supposed, as one change of the profile.
func acceptSeason(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	d, err := r.dossier(func(o *app.Options) { o.ShowID, o.Futures, o.NoReview = typed.Get("show"), -1, true })
	if err != nil {
		return err
	}
	s, err := supposed(typed, d)
	if err == nil && s.empty() {
		err = fault.New(fault.Invalid, "nothing differs from today’s plan, so nothing was changed.")
	}
	if err == nil {
		changed := d.Athlete
		if s.apply(&changed); r.desk.app.Units != "" {
			changed.Units = d.Athlete.Units
		}
		err = r.desk.app.EditAthlete(r.ctx(), changed, r.asOf)
	}
	if err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		return r.seasonPage(status(err), typed, err)
	}
	return r.done("/athletes/"+r.id()+"/season", "plan")
}
