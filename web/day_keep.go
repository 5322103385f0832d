package web

import (
	"encoding/json"
	"errors"
	"net/http"
	"net/url"
	"strings"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// kept is the answer to one field: its value as it stands, and where it was not
// kept why.
type kept struct {
	Value string `json:"value"`
	At    int64  `json:"at,omitempty"` // of the desk, in ms: a page that was made before is older
	Clash bool   `json:"clash,omitempty"`
	Wrong string `json:"wrong,omitempty"`
}

// saveField keeps one field as it was typed. The same sent twice changes nothing
// the second time; where the field was changed by somebody else meanwhile, it is a
// Conflict that tells the present value.
func saveField(r *request) error {
	f, ok := fieldNamed(r.PathValue("field"))
	if !ok {
		return noPage()
	}
	return r.keep(func(a *athlete.Athlete, on civil.Date, typed url.Values) (string, error) {
		day, err := r.desk.app.Amend(r.ctx(), a.ID, on, r.fromPage(), func(now athlete.Day) (put athlete.Day, drop []string, err error) {
			gone, err := f.amend(&put, typed.Get("value"), seenIn(typed), &now, a.Units)
			if gone {
				drop = []string{f.name}
			}
			return put, drop, err
		})
		return f.get(&day, a.Units), err
	})
}

// seenIn are the texts that the reader may have known, at least one.
func seenIn(typed url.Values) []string {
	if !typed.Has("base") {
		return []string{""}
	}
	return typed["base"]
}

// keep keeps one thing that a script sent, and answers with how it stands now.
func (r *request) keep(amend func(a *athlete.Athlete, on civil.Date, typed url.Values) (string, error)) error {
	on, err := r.recent()
	if err != nil {
		return r.refuse(err)
	}
	typed, err := r.form()
	if err != nil {
		return r.refuse(err)
	}
	if typed.Get("owner") != r.owner() {
		return r.refuse(fault.New(fault.Forbidden, "this was typed while somebody else was signed in."))
	}
	a, err := r.athlete()
	if err != nil {
		return err
	}
	// What waited on a phone was typed in the units of then.
	if u := athlete.Units(typed.Get("units")); u == athlete.Metric || u == athlete.Imperial {
		a.Units = u
	}
	value, err := amend(a, on, typed)
	if c, ok := errors.AsType[*clash](err); ok {
		return r.json(http.StatusConflict, kept{Value: c.present, Clash: true})
	}
	if err != nil {
		return r.refuse(err)
	}
	return r.json(http.StatusOK, kept{Value: value, At: r.madeAt()})
}

// refuse answers a script with a sentence.
func (r *request) refuse(err error) error {
	if fault.KindOf(err) == "" {
		return err
	}
	var words []string
	for _, f := range troubles(err) {
		words = append(words, plain(f))
	}
	return r.json(status(err), kept{Wrong: strings.Join(words, " ")})
}

func (r *request) json(code int, v any) error {
	r.code = code
	r.w.Header().Set("Content-Type", "application/json")
	r.w.WriteHeader(code)
	_ = json.NewEncoder(r.w).Encode(v) // the reader may have gone
	return nil
}
