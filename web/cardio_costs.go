package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/fault"
	"glidepath/phrase"
)

// costsPage is the desk's table of what cardio costs in fatigue.
type costsPage struct {
	Form    form
	Rows    []costRow
	Rest    []costNumber
	Changed bool // it is not the one that comes with the program
	CanEdit bool
}

// costRow is a kind with its two inputs, by their names.
type costRow struct {
	Kind, Base, Impact     string // names of inputs, but for the kind
	UsualBase, UsualImpact string
	Loads, Strains         string
}

// costNumber is one of the numbers that are not of a kind.
type costNumber struct{ Name, Label, Hint string }

// costNumbers are the table's own numbers with what they mean.
var costNumbers = []struct {
	costNumber
	of func(*cardio.FatigueTable) *float64
}{
	{costNumber{"overlap", "Lifting tomorrow", "Points a kcal for each hard set of a muscle that is used fully."}, func(t *cardio.FatigueTable) *float64 { return &t.Overlap }},
	{costNumber{"same_day", "Lifting today", "The share of that for today’s sets."}, func(t *cardio.FatigueTable) *float64 { return &t.SameDay }},
	{costNumber{"hard_rise", "How much dearer when hard", "At 12 times rest; 1 doubles it."}, func(t *cardio.FatigueTable) *float64 { return &t.HardRise }},
	{costNumber{"lean_rise", "How much dearer when hard and lean", "At stage leanness; 1 doubles it."}, func(t *cardio.FatigueTable) *float64 { return &t.LeanRise }},
	{costNumber{"second_kind", "A second kind", "Points a week."}, func(t *cardio.FatigueTable) *float64 { return &t.SecondKind }},
	{costNumber{"second_a_day", "A second session on a day", "Points each."}, func(t *cardio.FatigueTable) *float64 { return &t.SecondADay }},
	{costNumber{"no_day_off", "No day off", "Points a week."}, func(t *cardio.FatigueTable) *float64 { return &t.NoDayOff }},
	{costNumber{"most_met_far", "Hardest far from lean", "Times rest."}, func(t *cardio.FatigueTable) *float64 { return &t.MostMETFar }},
	{costNumber{"most_met_lean", "Hardest at stage leanness", "Times rest."}, func(t *cardio.FatigueTable) *float64 { return &t.MostMETLean }},
}

func showCosts(r *request) error {
	t, err := r.desk.app.FatigueTable(r.ctx())
	if err != nil {
		return err
	}
	return r.costsPage(http.StatusOK, costValues(&t), nil)
}

func costValues(t *cardio.FatigueTable) url.Values {
	v := url.Values{}
	for i := range t.Rows {
		row := &t.Rows[i]
		v.Set(costName("base", row.Kind), figure(row.Base))
		v.Set(costName("impact", row.Kind), figure(row.Impact))
	}
	for _, n := range costNumbers {
		v.Set(n.Name, figure(*n.of(t)))
	}
	return v
}

func costName(what string, k athlete.CardioKind) string {
	return what + "_" + strings.ReplaceAll(string(k), " ", "_")
}

// costsPage writes the table with what was typed.
func (r *request) costsPage(code int, typed url.Values, wrong error) error {
	kept, err := r.desk.app.FatigueTable(r.ctx())
	if err != nil {
		return err
	}
	usual := cardio.DefaultFatigue()
	body := costsPage{Form: form{Values: typed, Wrong: map[string]string{}}, CanEdit: r.visitor.CheckAdd() == nil, Changed: costValues(&kept).Encode() != costValues(&usual).Encode()}
	for _, k := range athlete.CardioKinds() {
		row, own := usual.Row(k), kept.Row(k)
		body.Rows = append(body.Rows, costRow{
			Kind: phrase.Capital(string(k)), Base: costName("base", k), Impact: costName("impact", k), UsualBase: figure(row.Base), UsualImpact: figure(row.Impact),
			Loads: named(own.Loads), Strains: named(own.Strains),
		})
	}
	for _, n := range costNumbers {
		body.Rest = append(body.Rest, n.costNumber)
	}
	p := page{Title: "What cardio costs in fatigue"}
	if wrong != nil {
		for _, f := range troubles(wrong) {
			name := strings.TrimPrefix(f.Field, "fatigue.")
			if typed.Has(name) {
				body.Form.Wrong[name] = plain(f)
			} else {
				p.Faults = append(p.Faults, f)
			}
		}
	}
	p.Body = body
	return r.page(code, "cardio-costs", p)
}

func keepCosts(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	t, err := r.desk.app.FatigueTable(r.ctx())
	if err != nil {
		return err
	}
	if typed.Get("do") == "usual" {
		t = cardio.DefaultFatigue()
	} else if err := takeCosts(&t, typed); err != nil {
		return r.costsPage(status(err), typed, err)
	}
	if err := r.desk.app.PutFatigueTable(r.ctx(), t); err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		return r.costsPage(status(err), typed, err)
	}
	return r.done("/cardio-costs", "costs")
}

// takeCosts reads the form over a table.
func takeCosts(t *cardio.FatigueTable, typed url.Values) error {
	take := func(name string, into *float64) error {
		v, err := numberIn(typed, name)
		if err != nil {
			return err
		}
		if v == nil {
			return fault.New(fault.Invalid, "a number is needed.").WithField(name)
		}
		*into = *v
		return nil
	}
	for i := range t.Rows {
		row := &t.Rows[i]
		for name, into := range map[string]*float64{costName("base", row.Kind): &row.Base, costName("impact", row.Kind): &row.Impact} {
			if err := take(name, into); err != nil {
				return err
			}
			if *into < 0 || *into > 10 {
				return fault.New(fault.Invalid, "%s is outside 0 to 10 points a kcal.", fmt.Sprint(*into)).WithField(name)
			}
		}
	}
	for _, n := range costNumbers {
		if err := take(n.Name, n.of(t)); err != nil {
			return err
		}
	}
	return nil
}
