package web

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html/template"
	"math"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/numeric"
	"glidepath/report"
	"glidepath/season"
)

// reviewPage is the week's evidence, what is proposed, and the decision.
type reviewPage struct {
	Doc      report.Document
	Part     template.HTML // the proposal with its reasons
	Evidence []fact
	Days     []evidenceDay
	WeightIn string
	Open     bool // it waits for a decision
	CanMake  bool // and the reader may make it
	Levers   []lever
	Form     form
	Effect   *effectView
	Print    string // of the proposal that was looked at
	Draft    *athlete.Prescription
	Queries  []query
	Blocked  *fault.Error
}

// evidenceDay is a day of the log as the review looks at it.
type evidenceDay struct {
	On                                            civil.Date
	Weight, Energy, Steps, Cardio, Sleep, Fatigue string
}

// lever is one that can be edited.
type lever struct {
	ID, Name, Label, Unit string
	Now, Proposed         string
	Value                 string
	Step                  int
	Wrong                 string
}

// effectView compares what is, what is proposed and what was typed.
type effectView struct {
	Columns []string
	Rows    []effectRow
	Picture template.HTML // where weight goes by each column
	Refused []*fault.Error
	Same    bool // as proposed
}

type effectRow struct {
	Name  string
	Cells []string
}

func showReview(r *request) error {
	d, err := r.dossier(nil)
	if err != nil {
		return err
	}
	return r.reviewPage(http.StatusOK, d, r.URL.Query(), nil)
}

// reviewPage writes the page with what was typed and what was wrong with it.
func (r *request) reviewPage(code int, d *app.Dossier, typed url.Values, wrong error) error {
	body := reviewPage{Doc: r.document(d), WeightIn: d.Athlete.Units.WeightUnit(), Queries: queriesOf(d), Form: form{Values: typed}, Draft: d.Draft}
	parts, err := partsOf(body.Doc, []string{"review"})
	if err != nil {
		return err
	}
	body.Part = parts["review"]
	body.Evidence, body.Days = evidence(d)
	p := page{Title: "Review of " + d.Athlete.Name, Athlete: &d.Athlete, Tab: "review"}
	if d.Proposal != nil {
		body.Open = body.Doc.Review.Decision.State == ""
		body.CanMake = body.Open && r.may(access.Decide)
		body.Print = fingerprint(d)
		edit, err := editOf(typed, d.Proposal.To)
		if err != nil && wrong == nil {
			wrong = err
		}
		if body.Effect, err = r.effect(d, edit); err != nil {
			return err
		}
		body.Levers = leversOf(d, typed)
	}
	if wrong != nil {
		body.Form.Wrong, p.Faults = wrongIn(wrong, map[string]string{
			"energy_kcal": "energy", "steps_per_day": "steps", "cardio_minutes": "cardio", "reason": "reason",
		})
		for i := range body.Levers {
			body.Levers[i].Wrong = body.Form.Wrong[body.Levers[i].Name]
		}
	}
	p.Body = body
	return r.page(code, "review", p)
}

// fingerprint tells whether the proposal is still the one that was looked at.
func fingerprint(d *app.Dossier) string {
	text, err := json.Marshal(d.Reviewed())
	if err != nil {
		panic(err) // plain data
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:8])
}

func leversOf(d *app.Dossier, typed url.Values) []lever {
	p := d.Proposal
	one := func(name, label, unit string, step int, now, proposed float64) lever {
		return lever{
			ID: name, Name: name, Label: label, Unit: unit, Step: step, Now: chart.Number(now, 0), Proposed: chart.Number(proposed, 0),
			Value: cmp.Or(typed.Get(name), strconv.FormatFloat(math.Round(proposed), 'f', 0, 64)),
		}
	}
	return []lever{
		one("energy", "Food", "kcal a day, the week’s mean", 25, p.From.EnergyKcal, p.To.EnergyKcal),
		one("steps", "Steps", "a day", 500, p.From.StepsPerDay, p.To.StepsPerDay),
		one("cardio", "Cardio", "minutes a week", 5, p.From.CardioMinutes, p.To.CardioMinutes),
	}
}

// editOf reads what was typed; what equals the proposal is no edit.
func editOf(typed url.Values, to season.Instruction) (app.Edit, error) {
	var e app.Edit
	for _, f := range []struct {
		name, field, what string
		proposed          float64
		into              **float64
	}{
		{"energy", "energy_kcal", "Food", to.EnergyKcal, &e.EnergyKcal},
		{"steps", "steps_per_day", "Steps", to.StepsPerDay, &e.StepsPerDay},
		{"cardio", "cardio_minutes", "Cardio", to.CardioMinutes, &e.CardioMinutes},
	} {
		text := strings.ReplaceAll(typed.Get(f.name), ",", "")
		if text == "" {
			continue
		}
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || !finite(v) || v < 0 || v > 60000 {
			return app.Edit{}, fault.New(fault.Invalid, "%s takes a whole number, not %q.", f.what, typed.Get(f.name)).WithField(f.field)
		}
		if math.Round(v) != math.Round(f.proposed) {
			*f.into = &v
		}
	}
	return e, nil
}

func (r *request) effect(d *app.Dossier, edit app.Edit) (*effectView, error) {
	try, err := r.desk.app.TryOut(r.ctx(), d, edit)
	if err != nil {
		return nil, err
	}
	out := &effectView{Same: edit == app.Edit{}, Columns: []string{"As now", "As proposed"}}
	effects := []*app.Effect{&try.Now, &try.Proposed}
	if !out.Same {
		out.Columns = append(out.Columns, "As you typed")
		effects = append(effects, &try.Edited)
		if try.Refused != nil {
			out.Refused = troubles(try.Refused)
		}
	}
	n := chart.Notation{Units: d.Athlete.Units}
	row := func(name string, cell func(*app.Effect) string) {
		one := effectRow{Name: name}
		for _, e := range effects {
			one.Cells = append(one.Cells, cell(e))
		}
		out.Rows = append(out.Rows, one)
	}
	row("Balance as eaten, kcal a day", func(e *app.Effect) string {
		return chart.Interval(e.BalanceKcal.Value, e.BalanceKcal.Low90, e.BalanceKcal.High90, 0)
	})
	row("Body weight, % a week", func(e *app.Effect) string {
		return chart.Interval(-e.RatePct.Value, -e.RatePct.High90, -e.RatePct.Low90, 2)
	})
	row("Energy availability, kcal per kg of fat-free mass", func(e *app.Effect) string { return chart.Number(e.Available, 1) })
	k := n.FromKg(1)
	row(fmt.Sprintf("Weight on %s, %s", n.ShortDate(try.Now.On), n.WeightUnit()), func(e *app.Effect) string {
		return chart.Interval(e.WeightKg.Value*k, e.WeightKg.Low90*k, e.WeightKg.High90*k, 1)
	})
	row(fmt.Sprintf("Body fat on %s, %%", n.ShortDate(try.Now.On)), func(e *app.Effect) string {
		return chart.Interval(e.BodyFatPct.Value, e.BodyFatPct.Low90, e.BodyFatPct.High90, 1)
	})
	if d.Show != nil {
		row("On target at the show, if it stood till then", func(e *app.Effect) string { return report.Percent(float64(e.OnTarget)) })
	}
	out.Picture = courses(d, n, out.Columns, effects)
	return out, nil
}

// courses draws where weight goes by each effect, one over another.
func courses(d *app.Dossier, n chart.Notation, names []string, effects []*app.Effect) template.HTML {
	var ch chart.Courses
	if d.Show != nil {
		ch.Show = d.Show.Date
	}
	for i, e := range effects {
		c := chart.Course{Name: strings.ToLower(names[i])}
		for _, f := range e.Fan {
			c.Weight = append(c.Weight, chart.Estimate{Date: f.Date, Value: f.Weight.P50, Low: f.Weight.P05, High: f.Weight.P95})
		}
		ch.Of = append(ch.Of, c)
	}
	return template.HTML(ch.SVG(chart.Options{ID: "courses-", Narrow: true, Notation: n})) //nolint:gosec // chart escapes all its text
}

// showEffect answers a script with the table of effects for what was typed.
func showEffect(r *request) error {
	d, err := r.dossier(func(o *app.Options) { o.Futures = -1 })
	if err != nil {
		return err
	}
	if d.Proposal == nil {
		return fault.New(fault.NotFound, "There is no proposal on %s.", d.AsOf)
	}
	edit, err := editOf(r.URL.Query(), d.Proposal.To)
	if err != nil {
		return err
	}
	view, err := r.effect(d, edit)
	if err != nil {
		return err
	}
	return r.page(http.StatusOK, "effect-fragment", page{Body: view})
}

// evidence is what the last two weeks brought.
func evidence(d *app.Dossier) ([]fact, []evidenceDay) {
	n, e := chart.Notation{Units: d.Athlete.Units}, d.Reading.Evidence
	last := d.Reading.Daily[len(d.Reading.Daily)-1]
	k := n.FromKg(1)
	facts := []fact{
		{"Trend weight", with(last.TrendKg.Scale(k), 1, n.WeightUnit())},
		{"Change", with(last.RatePct.Scale(-1), 2, "% a week")},
		{"Expenditure", with(last.ExpenditureKc, 0, "kcal a day")},
		{"Weights in 14 days", fmt.Sprint(e.Weights14)},
		{"Days of food in 14", fmt.Sprint(e.Intake14)},
	}
	if a := d.Reading.Adherence; a.Days >= 7 {
		facts = append(facts, fact{"Reported of what was asked", with(numeric.Normal{Mean: 100 * a.MeanRatio, SD: 100 * a.SERatio}.Interval(), 0, "%")})
	}
	var days []evidenceDay
	for i := len(d.Days) - 1; i >= 0 && d.AsOf.DaysSince(d.Days[i].Date) < 14; i-- {
		day := &d.Days[i]
		minutes := day.CardioMinutes()
		one := evidenceDay{
			On: day.Date, Weight: opt(scaled(day.WeightKg, k), 1), Energy: opt(day.EnergyKcal, 0), Steps: opt(day.Steps, 0),
			Sleep: opt(day.SleepH, 1), Fatigue: opt(day.Fatigue, 0),
		}
		if minutes > 0 {
			one.Cardio = chart.Number(minutes, 0)
		}
		days = append(days, one)
	}
	return facts, days
}

// with writes a value with its unit, then its interval.
func with(v numeric.Interval, decimals int, unit string) string {
	if !finite(v.Value) {
		return "not known"
	}
	return fmt.Sprintf("%s%s%s (%s to %s)", chart.Number(v.Value, decimals), nbsp, unit, chart.Number(v.Low90, decimals), chart.Number(v.High90, decimals))
}

func scaled(v *float64, k float64) *float64 {
	if v == nil {
		return nil
	}
	return new(*v * k)
}

// opt writes a number that may be missing.
func opt(v *float64, decimals int) string {
	if v == nil {
		return ""
	}
	return chart.Number(*v, decimals)
}

// decide keeps what the coach does with the proposal that they looked at.
func decide(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	d, err := r.dossier(nil)
	if err != nil {
		return err
	}
	if d.Blocked != nil {
		return r.reviewPage(http.StatusUnprocessableEntity, d, typed, d.Blocked)
	}
	if d.Proposal == nil {
		return fault.New(fault.NotFound, "There is nothing to decide on for %s on %s.", d.Athlete.Name, d.AsOf)
	}
	if typed.Get("print") != fingerprint(d) {
		return r.reviewPage(http.StatusConflict, d, typed, fault.New(fault.Conflict, "the figures changed since you looked, so nothing was decided.").
			WithHint("This is the proposal as it is now."))
	}
	what := map[string]app.Decision{"accept": app.Accepted, "edit": app.Edited, "decline": app.Declined}[typed.Get("do")]
	edit, err := editOf(typed, d.Proposal.To)
	switch {
	case err != nil:
		return r.reviewPage(http.StatusUnprocessableEntity, d, typed, err)
	case what == app.Undecided:
		return fault.New(fault.Invalid, "The form says neither accept nor edit nor decline.")
	case what == app.Edited && edit == app.Edit{}:
		return r.reviewPage(http.StatusUnprocessableEntity, d, typed,
			fault.New(fault.Invalid, "what you typed is what is proposed.").WithHint("Accept it, or change a number."))
	case what == app.Edited && typed.Get("reason") == "":
		return r.reviewPage(http.StatusUnprocessableEntity, d, typed,
			fault.New(fault.Invalid, "your own version needs a reason; it is kept with the prescription.").WithField("reason"))
	}
	if what != app.Edited {
		edit = app.Edit{}
	}
	if _, err := r.desk.app.Review(r.ctx(), r.id(), r.asOf, app.Options{Futures: -1}); err != nil {
		return err
	}
	if _, err := r.desk.app.Decide(r.ctx(), r.id(), r.asOf, what, edit, typed.Get("reason"), r.visitor.Name); err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		return r.reviewPage(status(err), d, typed, err)
	}
	if what == app.Declined {
		return r.done("/athletes/"+r.id()+"/review", "declined")
	}
	return r.done("/athletes/"+r.id()+"/message", string(what))
}

// answerWeight keeps a person's word on a weight that was asked about.
func answerWeight(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	on, err := civil.Parse(typed.Get("date"))
	if err != nil {
		return fault.New(fault.Invalid, "%q is not a date such as 2026-03-02.", typed.Get("date"))
	}
	var instead *float64
	a, err := r.athlete()
	if err != nil {
		return err
	}
	if typed.Get("answer") == "instead" {
		v, err := strconv.ParseFloat(typed.Get("instead"), 64)
		if err != nil {
			return fault.New(fault.Invalid, "%q is not a weight.", typed.Get("instead"))
		}
		if a.Units == athlete.Imperial {
			v *= athlete.KgPerPound
		}
		instead = &v
	}
	if err := r.desk.app.AnswerWeight(r.ctx(), r.id(), on, typed.Get("answer") == "use", instead, r.visitor.Name); err != nil {
		return err
	}
	return r.done("/athletes/"+r.id()+"/review", "answered")
}
