package web

import (
	"html/template"
	"net/http"
	"net/url"

	"glidepath/app"
	"glidepath/fault"
	"glidepath/report"
)

// cardioPage is what the same energy costs by each kind of cardio, what is asked,
// and what the plan has in reserve.
type cardioPage struct {
	Doc   report.Document
	Parts map[string]template.HTML
	Form  form
}

// The least and the most energy that may be compared, kcal.
const (
	leastTrade = 10
	mostTrade  = 2000
)

func showCardio(r *request) error {
	typed := r.URL.Query()
	kcal, wrong := tradeIn(typed)
	d, err := r.dossier(func(o *app.Options) { o.Futures, o.NoReview = -1, true })
	if err != nil {
		return err
	}
	doc := report.FromDossier(d, report.Settings{Invented: r.desk.invented, TradeKcal: kcal})
	body := cardioPage{Doc: doc, Form: form{Values: url.Values{"kcal": {figure(doc.Cardio.Kcal)}}}}
	if body.Parts, err = partsOf(doc, []string{"trade", "reserve", "asked", "activity"}); err != nil {
		return err
	}
	p := page{Title: "Cardio of " + d.Athlete.Name, Athlete: &d.Athlete, Tab: "cardio"}
	code := http.StatusOK
	if wrong != nil {
		code, body.Form.Values = status(wrong), typed
		body.Form.Wrong, p.Faults = wrongIn(wrong, map[string]string{"kcal": "kcal"})
	}
	p.Body = body
	return r.page(code, "cardio", p)
}

// tradeIn is the energy that is asked for; 0 where none is.
func tradeIn(typed url.Values) (float64, error) {
	v, err := numberIn(typed, "kcal")
	if err != nil || v == nil {
		return 0, err
	}
	if *v < leastTrade || *v > mostTrade {
		return 0, fault.New(fault.Invalid, "%v kcal are outside %d to %d.", *v, leastTrade, mostTrade).WithField("kcal")
	}
	return *v, nil
}
