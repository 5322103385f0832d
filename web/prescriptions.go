package web

import (
	"fmt"
	"net/http"
	"slices"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/phrase"
)

// prescriptionsPage is every version, the latest first, with what changed.
type prescriptionsPage struct{ Versions []versionOf }

type versionOf struct {
	athlete.Prescription
	When   string
	How    string // it came about
	Energy string
	Levers []effectRow // what each lever was and became, where it moved
	Same   bool
}

var origins = map[athlete.PrescriptionFrom]string{
	"": "prescribed", athlete.FromCoach: "prescribed", athlete.FromProposal: "a proposal accepted", athlete.FromEdit: "a proposal edited",
}

func showPrescriptions(r *request) error {
	d, err := r.dossier(func(o *app.Options) { o.Futures, o.NoReview = -1, true })
	if err != nil {
		return err
	}
	n := chart.Notation{Units: d.Athlete.Units}
	var body prescriptionsPage
	for i := range d.Prescriptions {
		p := &d.Prescriptions[i]
		v := versionOf{Prescription: *p, When: n.Date(p.From), How: origins[p.Origin], Energy: chart.Number(p.MeanEnergyKcal(), 0)}
		var before *athlete.Prescription
		if i > 0 {
			before = &d.Prescriptions[i-1]
		}
		v.Levers = differences(before, p)
		v.Same = before != nil && len(v.Levers) == 0
		body.Versions = append(body.Versions, v)
	}
	slices.Reverse(body.Versions)
	return r.page(http.StatusOK, "prescriptions", page{Title: "Prescriptions of " + d.Athlete.Name, Athlete: &d.Athlete, Tab: "profile", Body: body})
}

// differences lists what a prescription has otherwise than the one before it.
func differences(before, p *athlete.Prescription) []effectRow {
	var out []effectRow
	add := func(name string, old, now float64, had bool, unit string) {
		was := "–"
		if had {
			was = chart.Number(old, 0)
		}
		if is := chart.Number(now, 0); is != was {
			out = append(out, effectRow{name + ", " + unit, []string{was, is}})
		}
	}
	for _, d := range p.Days {
		var old athlete.DayPrescribed
		had := false
		if before != nil {
			if o := before.For(d.Type); o != nil {
				old, had = *o, true
			}
		}
		day := fmt.Sprintf("%s day", d.Type)
		add(phrase.Capital(day)+": energy", old.EnergyKcal, d.EnergyKcal, had, "kcal")
		add(phrase.Capital(day)+": protein", old.ProteinG, d.ProteinG, had, "g")
		add(phrase.Capital(day)+": carbohydrate", old.CarbohydrateG, d.CarbohydrateG, had, "g")
		add(phrase.Capital(day)+": fat", old.FatG, d.FatG, had, "g")
		add(phrase.Capital(day)+": how many", float64(old.PerWeek), float64(d.PerWeek), had, "a week")
	}
	had := before != nil
	if !had {
		before = &athlete.Prescription{}
	}
	for _, d := range before.Days {
		if p.For(d.Type) == nil {
			add(phrase.Capital(fmt.Sprintf("%s day", d.Type))+": how many", float64(d.PerWeek), 0, true, "a week")
		}
	}
	add("Steps", before.Steps, p.Steps, had, "a day")
	add("Cardio", before.CardioMinutes(), p.CardioMinutes(), had, "minutes a week")
	for _, s := range p.Sets {
		old, ok := 0.0, false
		for _, o := range before.Sets {
			if o.Muscle == s.Muscle {
				old, ok = o.Sets, true
			}
		}
		add("Hard sets, "+string(s.Muscle), old, s.Sets, ok, "a week")
	}
	return out
}
