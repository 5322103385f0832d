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
	"glidepath/phrase"
	"glidepath/report"
	"glidepath/season"
)

// seasonPage is the map, and what it would be with other dates.
type seasonPage struct {
	Doc       report.Document
	Parts     map[string]template.HTML
	Track     track
	PlanOf    []option // shows to come, where there are several
	Shows     []showInput
	Events    []eventInput
	Form      form
	Open      bool // the what-if form is in use
	What      *whatIf
	CanDecide bool
}

// showInput is where the date of a show is typed.
type showInput struct {
	ID   string
	Date field
}

// eventInput is where the dates of an event are typed; Key tells which it is.
type eventInput struct {
	Key      string
	From, To field
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

func showSeason(r *request) error {
	return r.seasonPage(http.StatusOK, r.URL.Query(), nil)
}

func (r *request) seasonPage(code int, typed url.Values, wrong error) error {
	d, err := r.dossier(func(o *app.Options) { o.ShowID = typed.Get(planOf) })
	if err != nil {
		return err
	}
	doc := r.document(d)
	body := seasonPage{Doc: doc, Form: form{Values: typed}, CanDecide: r.may(access.Decide)}
	if body.Parts, err = partsOf(doc, []string{"season", "appraisal"}); err != nil {
		return err
	}
	p := page{Title: "Season of " + d.Athlete.Name, Athlete: &d.Athlete, Tab: "season", Wide: true}
	s, err := supposed(typed, d)
	if err == nil && !emptySupposition(s) {
		body.Open = true
		body.What, err = r.compare(d, s, typed)
	}
	if wrong == nil {
		wrong = err
	}
	if wrong != nil {
		if fault.KindOf(wrong) == "" {
			return wrong
		}
		body.Open = true
		body.Form.Wrong, p.Faults = wrongIn(wrong, seasonFields(typed))
		if code == http.StatusOK {
			code = status(wrong)
		}
	}
	body.dates(d)
	p.Body = body
	return r.page(code, "season", p)
}

// showCompared is the comparison alone, for the script of the timeline.
func showCompared(r *request) error {
	typed := r.URL.Query()
	d, err := r.dossier(func(o *app.Options) { o.ShowID, o.NoReview = typed.Get(planOf), true })
	if err != nil {
		return err
	}
	body := seasonPage{CanDecide: r.may(access.Decide)}
	s, err := supposed(typed, d)
	if err == nil && !emptySupposition(s) {
		body.What, err = r.compare(d, s, typed)
	}
	p, code := page{Title: "Season of " + d.Athlete.Name, Athlete: &d.Athlete, Body: body}, http.StatusOK
	if err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		p.Faults, code = troubles(err), status(err)
	}
	return r.page(code, "compared-fragment", p)
}

func emptySupposition(s *app.Supposition) bool {
	return len(s.Shows)+len(s.Moved)+len(s.Events) == 0 && s.TargetBodyFatPct == nil && s.TargetTolerancePct == nil
}

// seasonFields says which input a fault is about.
func seasonFields(typed url.Values) map[string]string {
	out := map[string]string{
		"shows.target_body_fat_pct": nameTarget, "shows.target_tolerance_pct": nameTolerance, "events": nameNewFrom,
		nameTarget: nameTarget, nameTolerance: nameTolerance, nameNewFrom: nameNewFrom, nameNewTo: nameNewTo,
	}
	for i := range typed[nameShowID] {
		out[showField(i)] = showField(i)
	}
	for i := range typed[nameEventWas] {
		out[eventField(i)] = eventField(i)
	}
	return out
}

// dates are the inputs of every show and event to come, with what was typed in
// them, and the timeline on which they can be moved.
func (p *seasonPage) dates(d *app.Dossier) {
	n := chart.Notation{Units: d.Athlete.Units}
	typed := p.Form.Values
	for i := range d.Athlete.Shows {
		s := &d.Athlete.Shows[i]
		if s.Date <= d.AsOf {
			continue
		}
		f := field{ID: showField(len(p.Shows)), Name: nameShowDate, Kind: "date", Label: "Date of " + s.Name, Value: s.Date.String()}
		p.Form.typed(&f, f.ID, slices.Index(typed[nameShowID], s.ID), nameShowDate)
		p.Shows = append(p.Shows, showInput{s.ID, f})
		p.PlanOf = append(p.PlanOf, option{s.ID, s.Name + ", " + n.Date(s.Date)})
		p.Track.Tags = append(p.Track.Tags, tag{For: f.ID, End: "show", Label: f.Label, Plan: s.Date, First: d.AsOf.AddDays(1)})
	}
	for i := range d.Athlete.Events {
		e := &d.Athlete.Events[i]
		if e.To < d.AsOf {
			continue
		}
		id, name := eventField(len(p.Events)), fmt.Sprintf("%s of %s", phrase.Capital(e.Kind), span(n, e.From, e.To))
		from := field{ID: id + "-from", Name: nameFrom, Kind: "date", Label: name + ": first day", Value: e.From.String()}
		to := field{ID: id + "-to", Name: nameTo, Kind: "date", Label: name + ": last day", Value: e.To.String()}
		at := slices.Index(typed[nameEventWas], eventKey(e))
		p.Form.typed(&from, id, at, nameFrom)
		p.Form.typed(&to, "", at, nameTo)
		p.Events = append(p.Events, eventInput{eventKey(e), from, to})
		p.Track.addEnds(from, to, e.From, e.To, d.AsOf)
	}
	p.Track.addEnds(field{ID: nameNewFrom, Label: "The event to be added: first day"}, field{ID: nameNewTo, Label: "The event to be added: last day"}, 0, 0, d.AsOf)
	p.Track.Line = timelineOf(d, "now-", p.last(d))
	p.Track.Imperial = n.Units == athlete.Imperial
}

// typed puts what was typed into an input, and what was wrong with it. at is its
// place among those of its name.
func (f *form) typed(in *field, wrong string, at int, name string) {
	if all := f.Values[name]; at >= 0 && at < len(all) {
		in.Value = all[at]
	}
	in.Wrong = f.Wrong[wrong]
}

// roomDays is how far beyond the last date the timeline goes, so that there is
// somewhere to move it.
const roomDays = 84

// last is the day that the timeline reaches to.
func (p *seasonPage) last(d *app.Dossier) civil.Date {
	last := d.AsOf
	for i := range d.Athlete.Shows {
		last = max(last, d.Athlete.Shows[i].Date)
	}
	for i := range d.Athlete.Events {
		last = max(last, d.Athlete.Events[i].To)
	}
	for _, s := range p.Shows {
		if on, err := civil.Parse(s.Date.Value); err == nil && on < d.AsOf.AddDays(3*366) {
			last = max(last, on)
		}
	}
	return last.AddDays(roomDays)
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
func (r *request) compare(now *app.Dossier, s *app.Supposition, typed url.Values) (*whatIf, error) {
	then, err := r.desk.app.Suppose(r.ctx(), now, s, app.Options{Futures: r.s.o.Futures, Workers: r.s.o.Workers})
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
	d, err := r.dossier(func(o *app.Options) { o.ShowID, o.Futures, o.NoReview = typed.Get(planOf), -1, true })
	if err != nil {
		return err
	}
	s, err := supposed(typed, d)
	if err == nil && emptySupposition(s) {
		err = fault.New(fault.Invalid, "nothing differs from today’s plan, so nothing was changed.")
	}
	if err == nil {
		showID := ""
		if d.Show != nil {
			showID = d.Show.ID
		}
		err = r.desk.app.ChangeSeason(r.ctx(), r.id(), showID, s, r.asOf)
	}
	if err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		return r.seasonPage(status(err), typed, err)
	}
	return r.done("/athletes/"+r.id()+"/season", "plan")
}
