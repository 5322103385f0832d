package web

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/sheet"
)

// importPage is the way of a table into the log: send, look, confirm.
type importPage struct {
	Form    form
	Kinds   []option
	Preview *preview
}

// preview is a file as it would be read; nothing of it is stored.
type preview struct {
	Key, File, Kind string
	Remembered      bool
	Columns         []column
	Fields          []option
	Questions       []question
	Notes           []string
	Good            int
	What            string // days, sets or measurements
	First           sample
	Bad             []*fault.Error
	BadRows         int
	MoreBad         int
	Lifts           []liftAsk
}

type column struct {
	sheet.Line
	Name string // of its input
	Unit string
	Is   string // the field
}

type question struct {
	sheet.Question
	Name, Value string
}

// sample are the first rows as read.
type sample struct {
	Heads []string
	Rows  [][]string
}

var importKinds = []option{
	{string(sheet.Days), "daily log: weight, food, steps, cardio, sleep"},
	{string(sheet.Training), "training log, set by set"},
	{string(sheet.Measurements), "body fat, skinfolds, girths"},
}

// fieldsOf are the fields that a column of a kind of table can be.
var fieldsOf = map[sheet.Kind][]sheet.Field{
	sheet.Days: {
		sheet.FieldDate, sheet.FieldWeight, sheet.FieldEnergy, sheet.FieldProtein, sheet.FieldCarbohydrate, sheet.FieldFat, sheet.FieldFibre,
		sheet.FieldSodium, sheet.FieldSteps, sheet.FieldCardio, sheet.FieldCardioKind, sheet.FieldSleep, sheet.FieldHunger, sheet.FieldFatigue,
		sheet.FieldRestingPulse, sheet.FieldCycleDay, sheet.FieldDayType, sheet.FieldNotes,
	},
	sheet.Training: {
		sheet.FieldDate, sheet.FieldExercise, sheet.FieldWeight, sheet.FieldReps, sheet.FieldRIR, sheet.FieldRPE, sheet.FieldSets, sheet.FieldSide,
		sheet.FieldSessionMinutes, sheet.FieldSessionRPE, sheet.FieldNotes,
	},
	sheet.Measurements: {sheet.FieldDate, sheet.FieldMethod, sheet.FieldBy, sheet.FieldBodyFat, sheet.FieldWeight, sheet.FieldNotes},
}

func showImport(r *request) error { return r.importPage(http.StatusOK, importPage{}, nil) }

func (r *request) importPage(code int, body importPage, wrong error) error {
	a, err := r.athlete()
	if err != nil {
		return err
	}
	body.Kinds = importKinds
	p := page{Title: "Import for " + a.Name, Athlete: a, Tab: "import"}
	if wrong != nil {
		if body.Form.Wrong, p.Faults = wrongIn(wrong, map[string]string{"file": "file"}); fault.KindOf(wrong) == "" {
			return wrong
		}
	}
	p.Body = body
	return r.page(code, "import", p)
}

// upload reads a file for the first time and shows what it was taken for.
func upload(r *request) error {
	if err := r.ParseMultipartForm(mostFile); err != nil {
		if most, ok := errors.AsType[*http.MaxBytesError](err); ok {
			return most
		}
		return fault.New(fault.Invalid, "The form could not be read.").WithHint("Send the file again.")
	}
	file, head, err := r.FormFile("file")
	if err != nil {
		return r.importPage(http.StatusUnprocessableEntity, importPage{Form: form{Values: r.PostForm}},
			fault.New(fault.Invalid, "choose a file first.").WithField("file"))
	}
	defer file.Close() //nolint:errcheck // only read from
	content, err := io.ReadAll(file)
	if err != nil {
		return err
	}
	one := waiting{name: head.Filename, athleteID: r.id(), accountID: r.visitor.AccountID, kind: sheet.Kind(r.PostFormValue("kind")), content: content}
	if _, ok := fieldsOf[one.kind]; !ok {
		return fault.New(fault.Invalid, "The form does not say what the table is of.")
	}
	view, err := r.preview("", one, url.Values{})
	if err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		return r.importPage(status(err), importPage{Form: form{Values: r.PostForm}}, err)
	}
	view.Key = r.s.waiting.keep(one)
	return r.importPage(http.StatusOK, importPage{Preview: view}, nil)
}

// readAgain reads a file that waits with other columns and answers.
func readAgain(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	one, err := r.s.waiting.find(typed.Get("key"), r.id(), r.visitor.AccountID)
	if err != nil {
		return r.importPage(status(err), importPage{}, err)
	}
	view, err := r.preview(typed.Get("key"), one, typed)
	if err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		old, again := r.preview(typed.Get("key"), one, url.Values{})
		if again != nil {
			return again
		}
		return r.importPage(status(err), importPage{Preview: old}, err)
	}
	return r.importPage(http.StatusOK, importPage{Preview: view}, nil)
}

// takeIn stores what was looked at.
func takeIn(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	key := typed.Get("key")
	one, err := r.s.waiting.find(key, r.id(), r.visitor.AccountID)
	if err != nil {
		return r.importPage(status(err), importPage{}, err)
	}
	t, m, _, err := r.mapped(one, typed)
	if err != nil {
		return err
	}
	if len(m.Questions) > 0 {
		return readAgain(r)
	}
	l, err := sheet.ReadLog(t, m)
	if err != nil {
		return err
	}
	if len(l.Bad) > 0 && typed.Get("partial") == "" {
		view, err := r.preview(key, one, typed)
		if err != nil {
			return err
		}
		return r.importPage(http.StatusUnprocessableEntity, importPage{Preview: view},
			fault.New(fault.Invalid, "nothing was taken: some rows are bad.").WithHint("Mend the file and send it again, or tick that the good rows are taken without them."))
	}
	batch := app.Batch{Days: l.Days, Measurements: l.Measurements, Sets: l.Sets, Sessions: l.Sessions}
	done, err := r.desk.app.Record(r.ctx(), r.id(), batch, app.Source{Name: one.name, Who: r.visitor.Name})
	if err != nil {
		return err
	}
	if err := r.settleLifts(l.Sets, typed); err != nil {
		return err
	}
	text, err := json.Marshal(m)
	if err != nil {
		return err
	}
	if err := r.desk.app.KeepMapping(r.ctx(), mappingKey(t, m.Kind), text); err != nil {
		return err
	}
	r.s.waiting.drop(key)
	word := "imported"
	if c := done; c.Days.Added+c.Days.Corrected+c.Sets.Added+c.Sets.Corrected+c.Measurements.Added+c.Measurements.Corrected+c.Sessions.Added+c.Sessions.Corrected == 0 {
		word = "nothing-new"
	}
	return r.done("/athletes/"+r.id(), word)
}

func mappingKey(t *sheet.Table, kind sheet.Kind) string {
	return string(kind) + ":" + sheet.Signature(t)
}

// mapped opens a file and finds how it is to be read, with what was typed.
func (r *request) mapped(one waiting, typed url.Values) (t *sheet.Table, m sheet.Mapping, remembered bool, err error) {
	if t, err = sheet.Open(one.name, bytes.NewReader(one.content), sheet.Options{Sheet: typed.Get("sheet")}); err != nil {
		return nil, m, false, err
	}
	a, err := r.athlete()
	if err != nil {
		return nil, m, false, err
	}
	if text, ok, err := r.desk.app.Mapping(r.ctx(), mappingKey(t, one.kind)); err != nil {
		return nil, m, false, err
	} else if ok && typed.Get("key") == "" {
		// One that another version of the program made may not do: then guess anew.
		var kept sheet.Mapping
		if json.Unmarshal(text, &kept) == nil && kept.Kind == one.kind && kept.Fits(t) {
			if m, err = sheet.Reuse(t, kept, r.hint(a)); err == nil {
				return t, m, true, nil
			}
		}
	}
	if m, err = sheet.Guess(t, one.kind, r.hint(a)); err != nil {
		return nil, m, false, err
	}
	for i := range m.Columns {
		c := m.Columns[i]
		name := fmt.Sprintf("column%d", c.Index)
		if !typed.Has(name) {
			continue
		}
		is, unit := typed.Get(name), typed.Get(fmt.Sprintf("unit%d", c.Index))
		if is == string(c.Field) && (unit == "" || unit == string(c.Unit)) {
			continue
		}
		spec := c.Heading + "=" + is
		if is != "" && unit != "" && (unit != string(c.Unit) || is == string(c.Field)) {
			spec += ":" + unit
		}
		if err := m.Set(spec); err != nil {
			return nil, m, false, err
		}
	}
	for _, id := range sortedAnswers(typed) {
		if choice := typed.Get("answer:" + id); choice != "" {
			if err := m.Answer(id, choice); err != nil {
				return nil, m, false, err
			}
		}
	}
	return t, m, false, nil
}

func sortedAnswers(typed url.Values) []string {
	var out []string
	for name := range typed {
		if id, ok := strings.CutPrefix(name, "answer:"); ok {
			out = append(out, id)
		}
	}
	slices.Sort(out)
	return out
}

func (r *request) hint(a *athlete.Athlete) sheet.Hint {
	return sheet.Hint{WeightKg: a.WeightKg, Units: a.Units, On: r.asOf}
}

// preview reads a file as far as it can be read without storing any of it.
func (r *request) preview(key string, one waiting, typed url.Values) (*preview, error) {
	t, m, remembered, err := r.mapped(one, typed)
	if err != nil {
		return nil, err
	}
	p := &preview{Key: key, File: one.name, Remembered: remembered, Notes: slices.Concat(t.Notes, m.Notes)}
	for _, k := range importKinds {
		if k.Value == string(one.kind) {
			p.Kind = k.Text
		}
	}
	p.Fields = []option{{"", "leave it out"}}
	for _, f := range fieldsOf[one.kind] {
		p.Fields = append(p.Fields, option{string(f), strings.ReplaceAll(string(f), "_", " ")})
	}
	for i, l := range sheet.DescribeMapping(m) {
		c := m.Columns[i]
		p.Columns = append(p.Columns, column{l, fmt.Sprintf("column%d", c.Index), string(c.Unit), string(c.Field)})
		if c.Field != "" && !slices.ContainsFunc(p.Fields, func(o option) bool { return o.Value == string(c.Field) }) {
			p.Fields = append(p.Fields, option{string(c.Field), strings.ReplaceAll(string(c.Field), "_", " ")})
		}
	}
	// What was answered stays in the form, so that it is answered at the next reading.
	for _, q := range m.Questions {
		p.Questions = append(p.Questions, question{q, "answer:" + q.ID, typed.Get("answer:" + q.ID)})
	}
	for _, id := range sortedAnswers(typed) {
		if !slices.ContainsFunc(m.Questions, func(q sheet.Question) bool { return q.ID == id }) && typed.Get("answer:"+id) != "" {
			p.Questions = append(p.Questions, question{sheet.Question{ID: id}, "answer:" + id, typed.Get("answer:" + id)})
		}
	}
	if len(m.Questions) > 0 {
		return p, nil
	}
	l, err := sheet.ReadLog(t, m)
	if err != nil {
		return nil, err
	}
	p.Good, p.Notes = l.Good, append(append(p.Notes, l.Notes...), toCome(l, r.asOf)...)
	const most = 40
	p.BadRows = sheet.BadRows(l.Bad)
	if p.Bad = l.Bad; len(l.Bad) > most {
		p.Bad, p.MoreBad = l.Bad[:most], len(l.Bad)-most
	}
	a, err := r.athlete()
	if err != nil {
		return nil, err
	}
	p.What, p.First = sampleOf(l, chart.Notation{Units: a.Units})
	p.Lifts, err = r.liftsToAsk(l.Sets, typed)
	return p, err
}

// toCome notes dates that have not come yet: most often day and month are swapped.
func toCome(l *sheet.Log, on civil.Date) []string {
	late := len(l.After(on))
	if late == 0 {
		return nil
	}
	return []string{fmt.Sprintf("%d of the dates come after %s: are day and month in the right order?", late, chart.Notation{}.Date(on))}
}

// sampleOf are the first rows of a log as they were read.
func sampleOf(log *sheet.Log, n chart.Notation) (what string, s sample) {
	const most = 5
	k := n.FromKg(1)
	switch {
	case len(log.Measurements) > 0:
		s.Heads = []string{"Date", "Method", "By", "Body fat, %", "Sites"}
		for _, m := range log.Measurements[:min(most, len(log.Measurements))] {
			l := measuredOf(m, n)
			s.Rows = append(s.Rows, []string{l.When, l.Method, l.By, l.BodyFat, l.Sites})
		}
		return "measurements", s
	case len(log.Sets) > 0:
		s.Heads = []string{"Date", "Exercise", "Weight, " + n.WeightUnit(), "Repetitions", "In reserve"}
		for _, x := range log.Sets[:min(most, len(log.Sets))] {
			s.Rows = append(s.Rows, []string{n.Date(x.Date), x.Exercise, figure(x.WeightKg * k), fmt.Sprint(x.Reps), opt(x.RIR, 1)})
		}
		return "sets", s
	}
	s.Heads = []string{"Date", "Weight, " + n.WeightUnit(), "Energy, kcal", "Protein, g", "Steps", "Cardio, min", "Sleep, h"}
	for i := range log.Days[:min(most, len(log.Days))] {
		d := &log.Days[i]
		minutes := ""
		if m := d.CardioMinutes(); m > 0 {
			minutes = chart.Number(m, 0)
		}
		s.Rows = append(s.Rows, []string{n.Date(d.Date), opt(scaled(d.WeightKg, k), 1), opt(d.EnergyKcal, 0), opt(d.ProteinG, 0), opt(d.Steps, 0), minutes, opt(d.SleepH, 1)})
	}
	return "days", s
}
