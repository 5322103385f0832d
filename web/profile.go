package web

import (
	"cmp"
	"encoding/json"
	"fmt"
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
	"glidepath/sheet"
)

// profilePage is who the athlete is, and what binds the plan.
type profilePage struct {
	Forms        map[string]form // what was typed, by form
	Facts        []fact
	Shows        []showLine
	Events       []eventLine
	Limits       []limitLine
	LimitNames   []option
	Changes      []athlete.LimitChange
	Leave        string
	LeaveOpen    bool
	Cautions     []cautionLine
	Clearances   []athlete.Clearance
	Answered     civil.Date
	Blocked      *fault.Error
	Measured     []measuredLine
	Methods      []option
	Folds        []string
	Girths       []string
	Unit         string
	OpenForm     string // the form that was refused, to be shown open
	CanDecide    bool
	CanLog       bool
	CautionsList []option
	Injuries     []injuryLine
	Hurt         []athlete.Region // of injuries that are open
	Regions      []option
	HurtRegions  []option
}

// injuryLine is an injury in a sentence.
type injuryLine struct {
	Says string
	Open bool
}

type showLine struct {
	athlete.Show
	When, Target, Limit string
	Past                bool
}

type eventLine struct {
	athlete.Event
	When string
}

type limitLine struct{ Name, Words, Value, Usual string }

type cautionLine struct {
	Caution athlete.Caution
	Checked bool
	Open    bool
}

type measuredLine struct {
	When, Method, By, BodyFat, Weight, Sites, Note string
}

// limitWords are the limits for people.
var limitWords = map[string]string{
	"rate_far_pct_per_week":     "Loss when far from lean, at most, % of body weight a week",
	"rate_lean_pct_per_week":    "Loss near stage leanness, at most, % of body weight a week",
	"far_body_fat_pct":          "Far from lean begins at, % body fat",
	"lean_body_fat_pct":         "Near stage leanness begins at, % body fat",
	"fat_supply_kcal_per_kg":    "Energy that fat can supply, kcal a day per kg of fat",
	"energy_availability_floor": "Energy availability, at least, kcal a day per kg of fat-free mass",
	"protein_g_per_kg_ffm":      "Protein, at least, g per kg of fat-free mass",
	"fat_g_per_kg":              "Fat, at least, g per kg of body weight",
	"fibre_g_per_1000_kcal":     "Fibre, at least, g per 1,000 kcal",
}

func showProfile(r *request) error { return r.profilePage(http.StatusOK, "", nil, nil) }

// profilePage writes the page; which names the form that was refused, with what
// was typed in it.
func (r *request) profilePage(code int, which string, typed url.Values, wrong error) error {
	a, err := r.athlete()
	if err != nil {
		return err
	}
	ms, err := r.desk.app.Measurements(r.ctx(), a.ID, r.asOf)
	if err != nil {
		return err
	}
	n := chart.Notation{Units: a.Units}
	body := profilePage{
		Forms: map[string]form{"profile": {Values: valuesOf(a)}}, OpenForm: which, Unit: n.WeightUnit(),
		CanDecide: r.may(access.Decide), CanLog: r.may(access.Log), Folds: athlete.FoldSites(), Girths: athlete.GirthSites(),
		Blocked: a.DeficitBlock(r.asOf), Answered: a.Screening.AnsweredOn, Clearances: a.Screening.Clearances,
	}
	p := page{Title: "Profile of " + a.Name, Athlete: a, Tab: "profile"}
	if which != "" {
		f := form{Values: typed}
		f.Wrong, p.Faults = wrongIn(wrong, formFields)
		body.Forms[which] = f
	}
	body.Facts = factsOf(a, n)
	body.dates(a, n, r.asOf)
	body.injuries(a, n, r.asOf)
	body.limits(a, n, r.asOf)
	for _, c := range athlete.Cautions() {
		has := slices.Contains(a.Screening.Cautions, c)
		body.Cautions = append(body.Cautions, cautionLine{c, has, has && slices.Contains(a.Screening.Open(r.asOf), c)})
		body.CautionsList = append(body.CautionsList, option{string(c), string(c)})
	}
	for _, m := range athlete.Methods() {
		body.Methods = append(body.Methods, option{string(m), methodWords[m]})
	}
	for _, m := range slices.Concat(a.BodyFat, ms) {
		body.Measured = append(body.Measured, measuredOf(m, n))
	}
	slices.Reverse(body.Measured)
	p.Body = body
	return r.page(code, "profile", p)
}

var methodWords = map[athlete.Method]string{
	athlete.Calipers3: "calipers, 3 sites", athlete.Calipers4: "calipers, 4 sites", athlete.Calipers7: "calipers, 7 sites",
	athlete.Tape: "tape", athlete.Scan: "scan (dual-energy X-ray)", athlete.Pod: "air displacement",
	athlete.Scale: "bioimpedance", athlete.Eye: "the coach’s eye",
}

// formFields says which input of a form a fault is about.
var formFields = map[string]string{
	"id": "id", "name": "name", "sex": "sex", "birth_date": "birth_date", "height_cm": "height", "height": "height", "weight_kg": "weight", "weight": "weight",
	"training_years": "training_years", "steps_per_day": "steps_per_day", "steps_per_day_max": "steps_per_day_max", "training_days": "training_days",
	"cardio": "cardio", "cardio_minutes_per_week": "cardio_minutes_per_week", "cardio_minutes_max": "cardio_minutes_max",
	"shows.date": "show_date", "shows.target_body_fat_pct": "show_target", "shows.target_tolerance_pct": "show_tolerance",
	"show_date": "show_date", "show_target": "show_target", "show_tolerance": "show_tolerance", "show_limit": "show_limit",
	"events": "event_from", "event_from": "event_from", "event_to": "event_to",
	"value": "value", "why": "why", "field": "field", "weeks": "weeks", "from": "from",
	"screening.clearances": "clinician", "clinician": "clinician", "date": "date", "until": "until",
	"method": "method", "body_fat_pct": "body_fat", "body_fat": "body_fat",
	"cardio_session_max": "cardio_session_max",
	"injuries.from":      "injury_from", "injury_from": "injury_from", "injuries.where": "injury_where", "injuries.what": "injury_what",
	"injuries.until": "injury_until", "injury_until": "injury_until", "injuries.clinician": "injury_clinician",
}

// valuesOf is a profile as its form shows it.
func valuesOf(a *athlete.Athlete) url.Values {
	v := url.Values{}
	set := func(name, text string) { v.Set(name, text) }
	set("name", a.Name)
	set("sex", string(a.Sex))
	set("birth_date", a.BirthDate.String())
	set("units", string(a.Units))
	set("height", figure(a.HeightCm)+" cm")
	set("training_years", figure(a.TrainingYears))
	set("steps_per_day", strconv.FormatFloat(a.StepsPerDay, 'f', 0, 64))
	if a.StepsPerDayMax > 0 {
		set("steps_per_day_max", strconv.FormatFloat(a.StepsPerDayMax, 'f', 0, 64))
	}
	set("cardio_minutes_per_week", strconv.FormatFloat(a.CardioMinutesPerWeek, 'f', 0, 64))
	set("cardio_minutes_max", strconv.FormatFloat(a.CardioMinutesMax, 'f', 0, 64))
	if a.CardioSessionMax > 0 {
		set("cardio_session_max", strconv.Itoa(a.CardioSessionMax))
	}
	for _, d := range a.TrainingDays {
		v.Add("training_days", d.String())
	}
	for _, e := range a.Equipment {
		v.Add("equipment", string(e))
	}
	for _, where := range a.SpareRegions {
		v.Add("spare_regions", string(where))
	}
	for _, k := range a.Cardio {
		v.Add("cardio", string(k))
	}
	if a.MenstrualCycle {
		set("menstrual_cycle", "yes")
	}
	return v
}

func factsOf(a *athlete.Athlete, n chart.Notation) []fact {
	var days []string
	for _, d := range a.TrainingDays {
		days = append(days, phrase.Capital(d.String()))
	}
	session := cmp.Or(a.CardioSessionMax, usualSessionMax)
	out := []fact{
		{"Id", a.ID},
		{"Sex", string(a.Sex)},
		{"Born", n.Date(a.BirthDate)},
		{"Height", figure(a.HeightCm) + nbsp + "cm"},
		{"Weight at the start", n.Weight(a.WeightKg) + " on " + n.Date(a.WeighedOn)},
		{"Years of training", figure(a.TrainingYears)},
		{"Steps", fmt.Sprintf("%s a day as a habit, %s at most", chart.Number(a.StepsPerDay, 0), chart.Number(a.StepsMax(), 0))},
		{"Lifting days", strings.Join(days, ", ")},
		{"Cardio", fmt.Sprintf("%s; %s minutes a week as a habit, %s at most, %d in one session", cmp.Or(named(a.Cardio), "no kind named"), chart.Number(a.CardioMinutesPerWeek, 0), chart.Number(a.CardioMinutesMax, 0), session)},
		{"Trains with", cmp.Or(named(a.Equipment), "everything")},
		{"Go easy on", phrase.Capital(named(a.SpareRegions))},
	}
	return slices.DeleteFunc(out, func(f fact) bool { return f.Is == "" })
}

// usualSessionMax is the longest session of cardio where none is given, minutes.
const usualSessionMax = 60

// named lists values by their names.
func named[T ~string](values []T) string {
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = string(v)
	}
	return strings.Join(out, ", ")
}

func (p *profilePage) injuries(a *athlete.Athlete, n chart.Notation, on civil.Date) {
	p.Regions, p.Hurt = optionsOf("choose", athlete.Regions()), a.Hurt(on)
	for _, where := range p.Hurt {
		p.HurtRegions = append(p.HurtRegions, option{string(where), string(where)})
	}
	for i := range a.Injuries {
		in := &a.Injuries[i]
		says := fmt.Sprintf("%s, since %s", in.Where, n.Date(in.From))
		if in.What != "" {
			says += ": " + in.What
		}
		if !in.Until.IsZero() {
			says += fmt.Sprintf("; over after %s, says %s", n.Date(in.Until), in.Clinician)
		}
		p.Injuries = append(p.Injuries, injuryLine{says, in.OpenOn(on)})
	}
}

func (p *profilePage) dates(a *athlete.Athlete, n chart.Notation, on civil.Date) {
	for _, s := range a.Shows {
		one := showLine{Show: s, When: n.Date(s.Date), Past: s.Date < on}
		one.Target = fmt.Sprintf("%s%s%% body fat, %s either way", figure(s.TargetBodyFatPct), nbsp, figure(s.Tolerance()))
		if kg, ok := s.ClassLimit.LimitKg(a.HeightCm); ok {
			one.Limit = n.Weight(kg)
		}
		p.Shows = append(p.Shows, one)
	}
	slices.SortStableFunc(p.Shows, func(x, y showLine) int { return int(x.Date - y.Date) })
	for _, e := range a.Events {
		p.Events = append(p.Events, eventLine{e, span(n, e.From, e.To)})
	}
}

func (p *profilePage) limits(a *athlete.Athlete, n chart.Notation, on civil.Date) {
	l, usual := a.EffectiveLimits(), athlete.DefaultLimits(a.Sex)
	for _, name := range athlete.LimitFields() {
		one := limitLine{Name: name, Words: limitWords[name], Value: figure(*l.Field(name))}
		if v := *usual.Field(name); v != *l.Field(name) {
			one.Usual = figure(v)
		}
		p.Limits = append(p.Limits, one)
		p.LimitNames = append(p.LimitNames, option{name, limitWords[name]})
	}
	p.Changes = l.Changes
	if la := l.LowAvailability; la != nil {
		end := la.From.AddDays(7*la.Weeks - 1)
		p.LeaveOpen = on >= la.From && on <= end
		p.Leave = fmt.Sprintf("Leave to go %s lower from %s to %s, by %s: %s", figure(athlete.LowAvailabilityStep), n.Date(la.From), n.Date(end), la.Who, la.Why)
	}
}

func measuredOf(m athlete.Measurement, n chart.Notation) measuredLine {
	out := measuredLine{When: n.Date(m.Date), Method: methodWords[m.Method], By: m.By, Note: m.Note, BodyFat: opt(m.BodyFatPct, 1), Weight: opt(scaled(m.WeightKg, n.FromKg(1)), 1)}
	var sites []string
	for _, s := range athlete.FoldSites() {
		if v, ok := m.FoldsMm[s]; ok {
			sites = append(sites, fmt.Sprintf("%s %s%smm", s, figure(v), nbsp))
		}
	}
	for _, s := range athlete.GirthSites() {
		if v, ok := m.GirthsCm[s]; ok {
			sites = append(sites, fmt.Sprintf("%s %s%scm", s, figure(v), nbsp))
		}
	}
	out.Sites = strings.Join(sites, ", ")
	return out
}

// change runs a form's use case and shows the page again where it is refused.
func (r *request) change(which string, do func(url.Values) error) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	if err := do(typed); err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		return r.profilePage(status(err), which, typed, err)
	}
	return r.done("/athletes/"+r.id()+"/profile#"+which, "changed")
}

// overlay puts what was typed over a profile as plain data, and reads it as a
// profile file is read, so that units and errors are those of a file.
func overlay(profile map[string]any, typed url.Values) (athlete.Athlete, error) {
	for _, name := range []string{"id", "name", "sex", "birth_date", "units", "weighed_on"} {
		if typed.Has(name) {
			profile[name] = typed.Get(name)
		}
	}
	for name, field := range map[string]string{"height": "height_cm", "weight": "weight_kg"} {
		if text := typed.Get(name); text != "" {
			delete(profile, field)
			profile[name] = withUnit(text, name, athlete.Units(typed.Get("units")))
		}
	}
	for _, name := range []string{"training_years", "steps_per_day", "steps_per_day_max", "cardio_minutes_per_week", "cardio_minutes_max", "cardio_session_max"} {
		v, err := numberIn(typed, name)
		if err != nil {
			return athlete.Athlete{}, err
		}
		if v != nil {
			profile[name] = *v
		} else if typed.Has(name) {
			delete(profile, name)
		}
	}
	for _, name := range []string{"training_days", "cardio", "equipment", "spare_regions"} {
		profile[name] = typed[name]
	}
	profile["menstrual_cycle"] = typed.Get("menstrual_cycle") != ""
	text, err := json.Marshal(profile)
	if err != nil {
		return athlete.Athlete{}, err
	}
	return sheet.ReadProfile("", text)
}

// withUnit adds the unit that the reader chose to a bare number.
func withUnit(text, what string, u athlete.Units) string {
	if _, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", "."), 64); err != nil {
		return text
	}
	unit := map[string]string{"height": "cm", "weight": "kg"}[what]
	if u == athlete.Imperial {
		unit = map[string]string{"height": "in", "weight": "lb"}[what]
	}
	return strings.ReplaceAll(text, ",", ".") + " " + unit
}

func changeProfile(r *request) error {
	return r.change("profile", func(typed url.Values) error {
		a, err := r.athlete()
		if err != nil {
			return err
		}
		text, err := json.Marshal(a)
		if err != nil {
			return err
		}
		var plainData map[string]any
		if err := json.Unmarshal(text, &plainData); err != nil {
			return err
		}
		typed.Del("id")
		changed, err := overlay(plainData, typed)
		if err != nil {
			return err
		}
		return r.desk.app.EditAthlete(r.ctx(), changed, r.asOf)
	})
}

func putShow(r *request) error {
	return r.change("shows", func(typed url.Values) error {
		a, err := r.athlete()
		if err != nil {
			return err
		}
		s := athlete.Show{ID: typed.Get("show_id"), Name: typed.Get("show_name"), Division: typed.Get("show_division")}
		for i := range a.Shows { // what the form does not ask stays
			if a.Shows[i].ID == s.ID && s.ID != "" {
				s.TargetStageWeight, s.ClassLimit = a.Shows[i].TargetStageWeight, a.Shows[i].ClassLimit
			}
		}
		if s.Date, err = dateIn(typed, "show_date"); err != nil {
			return err
		}
		target, err := numberIn(typed, "show_target")
		if err != nil {
			return err
		}
		if target == nil {
			return fault.New(fault.Invalid, "a show needs a target, in per cent of body fat.").WithField("show_target")
		}
		s.TargetBodyFatPct = *target
		tolerance, err := numberIn(typed, "show_tolerance")
		if err != nil {
			return err
		}
		if tolerance != nil {
			s.TargetTolerance = *tolerance
		}
		limit, err := numberIn(typed, "show_limit")
		if err != nil {
			return err
		}
		if limit != nil {
			if a.Units == athlete.Imperial {
				*limit *= athlete.KgPerPound
			}
			s.ClassLimit = &athlete.ClassLimit{WeightKg: limit}
		}
		if err := s.Validate(a.Sex); err != nil {
			return err
		}
		return r.desk.app.AddShow(r.ctx(), a.ID, s, r.asOf)
	})
}

func removeShow(r *request) error {
	return r.change("shows", func(typed url.Values) error {
		return r.edit(func(a *athlete.Athlete) error {
			n := len(a.Shows)
			a.Shows = slices.DeleteFunc(a.Shows, func(s athlete.Show) bool { return s.ID == typed.Get("show_id") })
			if len(a.Shows) == n {
				return fault.New(fault.NotFound, "there is no such show any more.")
			}
			return nil
		})
	})
}

// edit changes the profile as it stands.
func (r *request) edit(change func(*athlete.Athlete) error) error {
	a, err := r.athlete()
	if err != nil {
		return err
	}
	if err := change(a); err != nil {
		return err
	}
	return r.desk.app.EditAthlete(r.ctx(), *a, r.asOf)
}

func addEvent(r *request) error {
	return r.change("events", func(typed url.Values) error {
		e, err := eventIn(typed)
		if err != nil {
			return err
		}
		return r.desk.app.AddEvent(r.ctx(), r.id(), e)
	})
}

func removeEvent(r *request) error {
	return r.change("events", func(typed url.Values) error {
		return r.edit(func(a *athlete.Athlete) error {
			n := len(a.Events)
			a.Events = slices.DeleteFunc(a.Events, func(e athlete.Event) bool {
				return e.From.String() == typed.Get("from") && e.To.String() == typed.Get("to") && e.Kind == typed.Get("kind")
			})
			if len(a.Events) == n {
				return fault.New(fault.NotFound, "there is no such event any more.")
			}
			return nil
		})
	})
}

func changeLimit(r *request) error {
	return r.change("limits", func(typed url.Values) error {
		v, err := numberIn(typed, "value")
		if err != nil {
			return err
		}
		if v == nil {
			return fault.New(fault.Invalid, "the limit needs a number.").WithField("value")
		}
		return r.desk.app.ChangeLimit(r.ctx(), r.id(), typed.Get("field"), *v, r.visitor.Name, typed.Get("why"))
	})
}

func allowLow(r *request) error {
	return r.change("leave", func(typed url.Values) error {
		from, err := dateIn(typed, "from")
		if err != nil {
			return err
		}
		weeks, err := strconv.Atoi(typed.Get("weeks"))
		if err != nil {
			return fault.New(fault.Invalid, "say for how many weeks, 1 to %d.", athlete.LowAvailabilityMaxWeeks).WithField("weeks")
		}
		return r.desk.app.AllowLowAvailability(r.ctx(), r.id(), athlete.LowAvailability{From: from, Weeks: weeks, Why: typed.Get("why"), Who: r.visitor.Name})
	})
}

func screen(r *request) error {
	return r.change("screening", func(typed url.Values) error {
		var cautions []athlete.Caution
		for _, c := range typed["caution"] {
			cautions = append(cautions, athlete.Caution(c))
		}
		if typed.Get("asked") == "" {
			return fault.New(fault.Invalid, "tick that the athlete answered this, else the answers mean nothing.")
		}
		return r.desk.app.Screen(r.ctx(), r.id(), r.asOf, cautions)
	})
}

func addClearance(r *request) error {
	return r.change("clearances", func(typed url.Values) error {
		c := athlete.Clearance{Caution: athlete.Caution(typed.Get("caution")), Clinician: typed.Get("clinician"), Note: typed.Get("note")}
		var err error
		if c.Date, err = dateIn(typed, "date"); err != nil {
			return err
		}
		if c.Until, err = dateIn(typed, "until"); err != nil {
			return err
		}
		return r.desk.app.AddClearance(r.ctx(), r.id(), c)
	})
}

func addInjury(r *request) error {
	return r.change("injuries", func(typed url.Values) error {
		in := athlete.Injury{Where: athlete.Region(typed.Get("injury_where")), What: typed.Get("injury_what")}
		var err error
		if in.From, err = dateIn(typed, "injury_from"); err != nil {
			return err
		}
		return r.desk.app.AddInjury(r.ctx(), r.id(), in)
	})
}

func endInjury(r *request) error {
	return r.change("injury-end", func(typed url.Values) error {
		until, err := dateIn(typed, "injury_until")
		if err != nil {
			return err
		}
		if until.IsZero() {
			return fault.New(fault.Invalid, "say on which day it was over.").WithField("injury_until")
		}
		return r.desk.app.EndInjury(r.ctx(), r.id(), athlete.Region(typed.Get("injury_where")), until, typed.Get("injury_clinician"))
	})
}

func addMeasurement(r *request) error {
	return r.change("measurements", func(typed url.Values) error {
		a, err := r.athlete()
		if err != nil {
			return err
		}
		m := athlete.Measurement{
			Method: athlete.Method(typed.Get("method")), By: typed.Get("by"), Note: typed.Get("note"),
			FoldsMm: map[string]float64{}, GirthsCm: map[string]float64{},
		}
		if m.Date, err = dateIn(typed, "date"); err != nil {
			return err
		}
		if m.BodyFatPct, err = numberIn(typed, "body_fat"); err != nil {
			return err
		}
		for _, s := range []struct {
			prefix string
			names  []string
			into   map[string]float64
		}{{"fold_", athlete.FoldSites(), m.FoldsMm}, {"girth_", athlete.GirthSites(), m.GirthsCm}} {
			for _, site := range s.names {
				v, err := numberIn(typed, s.prefix+site)
				if err != nil {
					return err
				}
				if v != nil {
					s.into[site] = *v
				}
			}
		}
		_, err = r.desk.app.Record(r.ctx(), a.ID, app.Batch{Measurements: []athlete.Measurement{m}}, app.Source{Name: "form", Who: r.visitor.Name})
		return err
	})
}
