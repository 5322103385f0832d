package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"

	"glidepath/athlete"
	"glidepath/fault"
	"glidepath/sheet"
)

// export gives a file of all that is known: everything as JSON, the log as a
// table, or the profile.
func export(r *request) error {
	all, err := r.desk.app.Export(r.ctx(), r.id())
	if err != nil {
		return err
	}
	var b bytes.Buffer
	kind, name := "application/json", r.id()+".json"
	switch what := r.URL.Query().Get("as"); what {
	case "", "json":
		e := json.NewEncoder(&b)
		e.SetIndent("", "  ")
		err = e.Encode(all)
	case "days":
		kind, name = "text/csv; charset=utf-8", r.id()+"-days.csv"
		err = sheet.WriteDays(&b, all.Days)
	case "profile":
		kind, name = "application/yaml; charset=utf-8", r.id()+".yaml"
		var text []byte
		text, err = sheet.WriteProfile(all.Athlete)
		b.Write(text)
	default:
		return fault.New(fault.NotFound, "There is no export as %q.", what).WithHint("There are json, days and profile.")
	}
	if err != nil {
		return err
	}
	r.w.Header().Set("Content-Type", kind)
	r.w.Header().Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", name))
	_, _ = b.WriteTo(r.w) // the reader may have gone
	return nil
}

type erasePage struct{ Form form }

func showErase(r *request) error {
	a, err := r.athlete()
	if err != nil {
		return err
	}
	return r.erasePage(http.StatusOK, a, form{}, nil)
}

func (r *request) erasePage(code int, a *athlete.Athlete, f form, faults []*fault.Error) error {
	return r.page(code, "erase", page{Title: "Erase " + a.Name, Athlete: a, Tab: "profile", Faults: faults, Body: erasePage{f}})
}

// erase takes the athlete away for good, when their name was typed.
func erase(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	a, err := r.athlete()
	if err != nil {
		return err
	}
	if typed.Get("name") != a.Name {
		return r.erasePage(http.StatusUnprocessableEntity, a, form{
			Values: typed, Wrong: map[string]string{"name": fmt.Sprintf("This is not “%s”, so nothing was erased.", a.Name)},
		}, nil)
	}
	if err := r.desk.app.RemoveAthlete(r.ctx(), a.ID); err != nil {
		return err
	}
	r.s.waiting.forget(a.ID)
	return r.done("/", "erased")
}
