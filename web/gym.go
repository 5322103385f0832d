package web

import (
	"cmp"
	"encoding/json"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// gymPage is a day's training: what is due, what was done of it last, and a row for
// each set.
type gymPage struct {
	Date     civil.Date
	IsToday  bool
	Heading  string // the date in words
	Lead     string
	Deload   string // "" where it is none
	Cautions []string
	Hurt     string // regions of injuries, with commas between
	Sections []gymSection
	Any      bool       // exercise is there
	Blank    gymSection // of one exercise with one set: what is added is made from it
	Spare    gymSection // to add without script
	Again    []doneDay  // where nothing is due
	Names    []namedLift
	Recent   string // JSON for the script: what to offer of what is added
	Minutes  string // of the session, as typed; then as they were before
	Before   string
	RPE      string
	Session  string // as it is kept
	Hard     []option
	Pain     []shownField
	Care     bool // for the pain that is noted
	Owner    string
	At       int64
	Units    athlete.Units
	Effort   athlete.EffortScale
	Call     calls
}

// gymSection is a session that is due, or what is done besides.
type gymSection struct {
	Title, Notes string
	Groups       []gymGroup
}

// gymGroup is an exercise with its sets.
type gymGroup struct {
	Index               int    // among all of the page
	Exercise, Was       string // as it is to be done; as the page had it
	Plan, Notes, Before string
	Stop                string
	Loads               string // regions, with commas between
	Hurts               string // why it is better left today; "" where it is not
	Rest                int    // seconds that are planned
	Own                 bool   // its load is mostly the body's own
	Rows                []gymRow
	Spare               gymRow // to add without script
}

// gymRow is a set: as it is kept, or as it is offered.
type gymRow struct {
	Index, Group, Number, Order int
	As                          string // the name it is kept under; "" where it is not kept
	setParts
	Seen        string // the text that the reader sees as kept
	Offer       setParts
	OfferText   string
	Efforts     []option
	EffortLabel string
	Unit        string
}

// doneDay is a day that can be done again.
type doneDay struct {
	When, What, Link string
}

// namedLift is an exercise of the catalogue with the regions that it loads.
type namedLift struct{ Name, Loads string }

// mostAdded is how many exercises an address can add.
const mostAdded = 20

func showGym(r *request) error {
	on, err := r.recent()
	if err != nil {
		return err
	}
	return r.gym(on, nil, nil)
}

// gym shows a day's training: with what was typed, where it could not be kept.
func (r *request) gym(on civil.Date, typed *gymForm, failed error) error {
	a, err := r.athlete()
	if err != nil {
		return err
	}
	added := r.URL.Query()["add"]
	added = slices.DeleteFunc(added[:min(len(added), mostAdded)], func(name string) bool { return checkPlace(name, 1) != nil })
	g, err := r.desk.app.GymDay(r.ctx(), a.ID, on, added...)
	if err != nil {
		return err
	}
	day, err := r.desk.app.Days(r.ctx(), a.ID, on, on)
	if err != nil {
		return err
	}
	known, err := r.desk.app.Catalogue(r.ctx())
	if err != nil {
		return err
	}
	now := athlete.Day{Date: on}
	if len(day) > 0 {
		now = day[0]
	}
	b := gymBuilder{a: a, g: g, now: &now, typed: typed}
	b.page = gymPage{
		Date: on, IsToday: on == r.desk.Today(), Heading: longDate(on, a.Units), Owner: r.owner(), At: r.madeAt(), Units: cmp.Or(a.Units, athlete.Metric),
		Effort: cmp.Or(a.Effort, athlete.InReserve), Cautions: g.Cautions, Hurt: regions(a.Hurt(on)), Call: callsFor(a.Sex), Hard: hardness, Session: sessionText(g.Session),
	}
	for _, e := range known.Exercises() {
		b.page.Names = append(b.page.Names, namedLift{e.Name, regions(e.Loads)})
	}
	if err := b.build(); err != nil {
		return err
	}
	p := page{Title: "Your session", Tab: "day", Body: b.page}
	code := http.StatusOK
	if failed != nil {
		code, p.Faults = status(failed), troubles(failed)
	}
	return r.page(code, "gym", p)
}

// saveSet keeps one set, as saveField does a field. A set is its exercise and its
// place in the day; an empty text takes it out.
func saveSet(r *request) error {
	return r.keep(func(a *athlete.Athlete, on civil.Date, typed url.Values) (string, error) {
		exercise, order := typed.Get("exercise"), atoi(typed.Get("order"))
		log, err := r.desk.app.AmendGym(r.ctx(), a.ID, on, r.fromPage(), func(now app.GymLog) (c app.GymChange, err error) {
			err = amendSet(&c, a, exercise, order, typed.Get("value"), seenIn(typed), now.Sets)
			return c, err
		})
		if s := setOf(log.Sets, exercise, order); s != nil && err == nil {
			return setText(s, a.Units, a.Effort), nil
		}
		return "", err
	})
}

// saveSession keeps how the session was as a whole.
func saveSession(r *request) error {
	return r.keep(func(a *athlete.Athlete, on civil.Date, typed url.Values) (string, error) {
		log, err := r.desk.app.AmendGym(r.ctx(), a.ID, on, r.fromPage(), func(now app.GymLog) (c app.GymChange, err error) {
			err = amendSession(&c, typed.Get("value"), seenIn(typed), now.Session)
			return c, err
		})
		return sessionText(log.Session), err
	})
}

// chooseEffort sets the scale on which the athlete says how hard a set was.
func chooseEffort(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	if err := r.desk.app.ChooseEffort(r.ctx(), r.id(), athlete.EffortScale(typed.Get("effort"))); err != nil {
		return err
	}
	return r.done(backTo(typed), "units")
}

// backTo is the page that a setting was changed on: that of a day, or of its session.
func backTo(typed url.Values) string {
	if on, err := civil.Parse(typed.Get("gym")); err == nil {
		return "/day/" + on.String() + "/gym"
	}
	return "/day"
}

// recentJSON tells the script what to offer of an exercise that is added.
func recentJSON(g *app.GymDay, a *athlete.Athlete) (string, error) {
	type lift struct {
		Exercise string     `json:"exercise"`
		Before   string     `json:"before"`
		Sets     [][]string `json:"sets"` // weight, repetitions, side
	}
	out := []lift{}
	for _, l := range g.Recent {
		one := lift{Exercise: l.Exercise, Before: beforeWords(g.Date, l.On, l.Sets, a)}
		for i := range l.Sets {
			o := offerOf(&l.Sets[i], a.Units)
			one.Sets = append(one.Sets, []string{o.Weight, o.Reps, o.Side})
		}
		out = append(out, one)
	}
	body, err := json.Marshal(out)
	return string(body), err
}

// offerOf is what is offered of a set that was done: how hard it was is for the
// athlete to say each time.
func offerOf(s *athlete.Set, u athlete.Units) setParts {
	return setParts{Weight: gymWeight(s.WeightKg, u), Reps: figure(float64(s.Reps)), Side: s.Side}
}

func regions(all []athlete.Region) string {
	out := make([]string, len(all))
	for i, r := range all {
		out[i] = string(r)
	}
	return strings.Join(out, ",")
}

// saveGym keeps a whole session, for a browser without script: all of it or nothing.
func saveGym(r *request) error {
	on, err := r.recent()
	if err != nil {
		return err
	}
	values, err := r.form()
	if err != nil {
		return err
	}
	a, err := r.athlete()
	if err != nil {
		return err
	}
	typed, err := readGymForm(values)
	if err != nil {
		return err
	}
	_, err = r.desk.app.AmendGym(r.ctx(), a.ID, on, r.fromPage(), func(now app.GymLog) (app.GymChange, error) {
		return typed.change(a, &now)
	})
	if err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		return r.gym(on, typed, err)
	}
	return r.done("/day/"+on.String()+"/gym", "logged")
}
