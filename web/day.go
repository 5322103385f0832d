package web

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
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
)

// recentDays is how far back the day page goes; older days are the coach's to
// change, with a word on why.
const recentDays = 60

// dayPage is one day of the athlete's log, with what is asked on top.
type dayPage struct {
	Date, Before, After civil.Date // After is zero on the last
	First, Today        civil.Date // that can be opened
	IsToday             bool
	Heading             string
	Asked               []askedDay
	AskedAlways         []string
	Nothing             bool   // is asked yet
	Gym                 string // the words of the link to the session
	Care                bool   // for the pain that is noted
	Fields, More        []shownField
	Call                calls
	Owner               string // whose page it is, for the browser's own store
	At                  int64
	Units               athlete.Units
}

// shownField is a field with its texts.
type shownField struct {
	dayField
	ID, Unit, Value, Base, Last string
	Options                     []option
	Bouts                       []bout
}

// Input is the field as its template wants it.
func (f shownField) Input() ownInput {
	return ownInput{
		ID: f.ID, Kind: f.mode, Label: f.label, Hint: f.hint, Unit: f.Unit, Value: f.Value, Base: f.Base, Last: f.Last,
		Options: f.Options, Bouts: f.Bouts,
	}
}

type ownInput struct {
	ID, Kind, Label, Hint, Unit, Value, Base, Last string
	Options                                        []option
	Bouts                                          []bout
}

// bout is a stretch of cardio in its inputs; Label is the kind that is offered.
type bout struct {
	boutParts
	Label string
}

// recent reads the date of the address; the phone may be a day ahead of us.
func (r *request) recent() (civil.Date, error) {
	on, err := civil.Parse(r.PathValue("date"))
	today := r.desk.Today()
	switch {
	case err != nil:
		return 0, noPage()
	case on > today.AddDays(1):
		return 0, fault.New(fault.Invalid, "%s is still to come.", on).WithHint("Open today.")
	case on < today.AddDays(-recentDays):
		return 0, fault.New(fault.Invalid, "%s is too long ago to be changed here.", on).WithHint("Tell your coach what it should say.")
	}
	return on, nil
}

// showToday is the home, and goes to the day that is asked for.
func showToday(r *request) error {
	if on, err := civil.Parse(r.URL.Query().Get("on")); err == nil {
		return r.redirect("/day/" + on.String())
	}
	return r.day(r.desk.Today(), nil, nil)
}

func showDay(r *request) error {
	on, err := r.recent()
	if err != nil {
		return err
	}
	return r.day(on, nil, nil)
}

// day shows a day: with what was typed, where it could not be kept.
func (r *request) day(on civil.Date, typed url.Values, failed error) error {
	a, err := r.athlete()
	if err != nil {
		return err
	}
	const back = 14
	days, err := r.desk.app.Days(r.ctx(), a.ID, on.AddDays(-back), on)
	if err != nil {
		return err
	}
	standing, err := r.desk.app.Standing(r.ctx(), a.ID, on)
	if err != nil {
		return err
	}
	now := athlete.Day{Date: on}
	if n := len(days); n > 0 && days[n-1].Date == on {
		now, days = days[n-1], days[:n-1]
	}
	body := dayPage{
		Date: on, Before: on.AddDays(-1), First: r.desk.Today().AddDays(-recentDays), Today: r.desk.Today(), IsToday: on == r.desk.Today(), Heading: longDate(on, a.Units),
		Call: callsFor(a.Sex), Owner: r.owner(), At: r.madeAt(), Units: cmp.Or(a.Units, athlete.Metric), Nothing: standing == nil,
	}
	if on <= r.desk.Today() {
		body.After = on.AddDays(1)
	}
	body.Asked, body.AskedAlways = asked(a, standing, &now)
	body.Care = now.Pain != nil && *now.Pain >= painCare
	g, err := r.desk.app.GymDay(r.ctx(), a.ID, on)
	if err != nil {
		return err
	}
	body.Gym = gymLink(g, body.IsToday)
	for _, f := range dayFields() {
		if !f.shown(a) {
			continue
		}
		one := shownField{dayField: f, ID: f.name, Unit: f.unit(a.Units), Value: f.get(&now, a.Units)}
		one.Base = one.Value
		for i := len(days) - 1; i >= 0 && one.Last == ""; i-- {
			one.Last = f.get(&days[i], a.Units)
			if d := days[i].CycleDay; f.name == "cycle_day" && d != nil {
				one.Last = strconv.Itoa(*d + on.DaysSince(days[i].Date))
			}
		}
		if typed != nil {
			one.Value = typedText(f, typed)
		}
		one.choices(a, standing)
		if f.more {
			body.More = append(body.More, one)
		} else {
			body.Fields = append(body.Fields, one)
		}
	}
	code := http.StatusOK
	var faults []*fault.Error
	if failed != nil {
		code, faults = status(failed), troubles(failed)
	}
	return r.page(code, "day", page{Title: "Your day", Tab: "day", Faults: faults, Body: body})
}

// choices are what can be chosen in a field.
func (f *shownField) choices(a *athlete.Athlete, standing *athlete.Prescription) {
	switch {
	case f.name == "day_type":
		f.Options = []option{{"", "as usual"}}
		for _, t := range typesOf(standing) {
			f.Options = append(f.Options, option{string(t), string(t)})
		}
	case f.name == "pain_where":
		f.Options = []option{{"", "nowhere"}}
		for _, region := range athlete.Regions() {
			f.Options = append(f.Options, option{string(region), string(region)})
		}
	case f.mode == "cardio":
		f.cardio(a, standing)
	}
}

// cardio are the kinds, those that are asked for first, and the stretches.
func (f *shownField) cardio(a *athlete.Athlete, standing *athlete.Prescription) {
	f.Options = []option{{"", "kind"}}
	add := func(kind, text string) {
		if !slices.ContainsFunc(f.Options, func(o option) bool { return o.Value == kind }) {
			f.Options = append(f.Options, option{kind, text})
		}
	}
	if standing != nil {
		for _, c := range standing.Cardio {
			add(string(c.Kind), string(c.Kind))
		}
	}
	for _, k := range append(slices.Clone(a.Cardio), athlete.CardioKinds()...) {
		add(string(k), string(k))
	}
	for part := range strings.SplitSeq(f.Value, "; ") {
		b := readBout(part)
		f.Bouts = append(f.Bouts, bout{boutParts: b})
		if code, is := strings.CutPrefix(b.Kind, otherKind); is {
			add(b.Kind, "another, code "+code)
		}
	}
	if f.Value != "" && len(f.Bouts) < mostBouts {
		f.Bouts = append(f.Bouts, bout{})
	}
	if last := readBout(f.Last); last.Kind != "" && f.Value == "" {
		kind, _, _ := strings.Cut(last.Kind, ";")
		if !strings.HasPrefix(kind, otherKind) {
			f.Bouts[0].Label = kind
		}
		f.Last = last.Minutes
	}
}

// typedText is what a form has for a field; cardio comes in parts.
func typedText(f dayField, typed url.Values) string {
	if f.mode != "cardio" {
		return typed.Get(f.name)
	}
	var parts []string
	at := func(name string, i int) string {
		if all := typed[name]; i < len(all) {
			return all[i]
		}
		return ""
	}
	for i, minutes := range typed["cardio_minutes"] {
		if minutes != "" {
			parts = append(parts, boutParts{minutes, at("cardio_kind", i), at("cardio_claim", i), at("cardio_by", i)}.text())
		}
	}
	return strings.Join(parts, "; ")
}

// saveDay keeps a whole form, for a browser without script: all of it or nothing.
func saveDay(r *request) error {
	on, err := r.recent()
	if err != nil {
		return err
	}
	typed, err := r.form()
	if err != nil {
		return err
	}
	a, err := r.athlete()
	if err != nil {
		return err
	}
	_, err = r.desk.app.Amend(r.ctx(), a.ID, on, r.fromPage(), func(now athlete.Day) (put athlete.Day, drop []string, err error) {
		var wrong []error
		for _, f := range dayFields() {
			if !f.shown(a) || !typed.Has("base_"+f.name) {
				continue
			}
			gone, err := f.amend(&put, typedText(f, typed), typed["base_"+f.name], &now, a.Units)
			if c, ok := errors.AsType[*clash](err); ok {
				err = fault.New(fault.Conflict, "%s: “%s” was entered since you opened the page, and you typed “%s”.", f.label, c.present, typedText(f, typed)).
					WithHint("Send it again to keep yours.")
			}
			wrong = append(wrong, err)
			if gone {
				drop = append(drop, f.name)
			}
		}
		return put, drop, errors.Join(wrong...)
	})
	if err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		return r.day(on, typed, err)
	}
	return r.done("/day/"+on.String(), "logged")
}

// fromPage is the source of what an athlete types.
func (r *request) fromPage() app.Source { return app.Source{Name: "day page", Who: r.visitor.Name} }

// chooseUnits sets the units that the athlete reads and writes in.
func chooseUnits(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	if err := r.desk.app.ChooseUnits(r.ctx(), r.id(), athlete.Units(typed.Get("units"))); err != nil {
		return err
	}
	return r.done(backTo(typed), "units")
}

// madeAt tells a page from an older copy of it.
func (r *request) madeAt() int64 { return r.s.o.Now().UnixMilli() }

// owner marks what a browser keeps for later with whose it is, without telling it.
func (r *request) owner() string {
	sum := sha256.Sum256([]byte("own page of " + r.visitor.AccountID))
	return hex.EncodeToString(sum[:6])
}

// longDate is a date with its weekday, as the athlete writes it.
func longDate(on civil.Date, u athlete.Units) string {
	if u == athlete.Imperial {
		return on.Format("Monday, January 2")
	}
	return on.Format("Monday 2 January")
}

func notation(a *athlete.Athlete) chart.Notation { return chart.Notation{Units: a.Units} }

// isOwn reports whether the reader is an athlete.
func (r *request) isOwn() bool { return r.role() == access.Athlete }
