package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"glidepath/athlete"
	"glidepath/fault"
)

// addPage is the form for a new athlete.
type addPage struct{ Form form }

func showAdd(r *request) error {
	f := form{Values: url.Values{"then": {r.URL.Query().Get("then")}, "units": {string(athlete.Metric)}, "sex": {""}, "cardio": {string(athlete.Walking)}}}
	return r.page(http.StatusOK, "add", page{Title: "Add an athlete", Body: addPage{f}})
}

func add(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	a, err := newAthlete(r, typed)
	if err == nil {
		err = r.desk.app.AddAthlete(r.ctx(), a, r.asOf, false)
	}
	if err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		wrong, rest := wrongIn(err, formFields)
		return r.page(status(err), "add", page{Title: "Add an athlete", Faults: rest, Body: addPage{form{typed, wrong}}})
	}
	if !r.desk.invented {
		if err := r.s.o.Accounts.Adopt(r.ctx(), r.visitor, a.ID); err != nil {
			return err
		}
	}
	next := "/profile"
	if typed.Get("then") == "import" {
		next = "/import"
	}
	return r.done("/athletes/"+a.ID+next, "added")
}

func newAthlete(r *request, typed url.Values) (athlete.Athlete, error) {
	if typed.Get("id") == "" {
		id, err := r.freeID(typed.Get("name"))
		if err != nil {
			return athlete.Athlete{}, err
		}
		typed.Set("id", id)
	}
	typed.Set("weighed_on", r.asOf.String())
	for _, name := range []string{"steps_per_day", "cardio_minutes_per_week", "cardio_minutes_max", "training_years"} {
		if typed.Get(name) == "" {
			return athlete.Athlete{}, fault.New(fault.Invalid, "a number is needed; 0 will do where there is none.").WithField(name)
		}
	}
	return overlay(map[string]any{}, typed)
}

// freeID makes an ID of a name that nobody has.
func (r *request) freeID(name string) (string, error) {
	people, err := r.desk.app.Athletes(r.ctx())
	if err != nil {
		return "", err
	}
	taken := map[string]bool{}
	for i := range people {
		taken[people[i].ID] = true
	}
	base := slug(name)
	for n := 1; ; n++ {
		id := base
		if n > 1 {
			id = fmt.Sprintf("%s-%d", base, n)
		}
		if !taken[id] {
			return id, nil
		}
	}
}

// slug is a name as an ID: small letters without marks, with hyphens between.
func slug(name string) string {
	var b strings.Builder
	for _, c := range norm.NFD.String(strings.ToLower(name)) {
		switch {
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
			b.WriteRune(c)
		case !unicode.Is(unicode.Mn, c) && b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	const most = 34 // leaves room for a number
	s := b.String()
	if len(s) > most {
		s = s[:most]
	}
	if s = strings.Trim(s, "-"); s == "" {
		return "athlete"
	}
	return s
}
