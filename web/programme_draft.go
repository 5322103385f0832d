package web

import (
	"bytes"
	"cmp"
	"compress/flate"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/fault"
)

// draft is a programme while it is written: what was typed, whether it can be
// read or not. One week is open in the form; the others travel with it.
type draft struct {
	Name  string      `json:"n,omitempty"`
	Phase string      `json:"p,omitempty"`
	From  string      `json:"f,omitempty"`
	Notes string      `json:"t,omitempty"`
	Weeks []draftWeek `json:"w"`
	// GoesOn says which week of the version before the first one is; it is shown
	// and not kept.
	GoesOn string `json:"-"`
}

type draftWeek struct {
	Deload   bool           `json:"d,omitempty"`
	Sessions []draftSession `json:"s,omitempty"`
}

type draftSession struct {
	Name  string     `json:"n,omitempty"`
	Day   string     `json:"d,omitempty"`
	Notes string     `json:"t,omitempty"`
	Rows  []draftRow `json:"r,omitempty"`
}

// draftRow is an exercise: the fields of rowFields, in their order.
type draftRow [rowFieldCount]string

// The fields of a row.
const (
	rowExercise = iota
	rowSets
	rowLow
	rowHigh
	rowRIR
	rowRest
	rowNotes
	rowFieldCount
)

// rowFields name the inputs of a row, and the field of athlete.PlannedExercise
// whose faults belong there.
var rowFields = [rowFieldCount]struct{ name, fault string }{
	{"exercise", "exercise"}, {"sets", "sets"}, {"low", "reps"}, {"high", ""}, {"rir", "rir"}, {"rest", "rest"}, {"notes", "notes"},
}

// blankRows are offered in a session that is new.
const blankRows = 4

func newDraftSession(number int) draftSession {
	return draftSession{Name: fmt.Sprintf("Session %d", number), Rows: make([]draftRow, blankRows)}
}

// draftOf is a programme as its form shows it.
func draftOf(p *athlete.Programme) draft {
	out := draft{Name: p.Name, Phase: string(p.Phase), From: p.From.String(), Notes: p.Notes}
	for _, w := range p.Weeks {
		week := draftWeek{Deload: w.Deload}
		for _, s := range w.Sessions {
			one := draftSession{Name: s.Name, Notes: s.Notes}
			if s.Day != nil {
				one.Day = s.Day.String()
			}
			for _, e := range s.Exercises {
				one.Rows = append(one.Rows, rowOf(e))
			}
			week.Sessions = append(week.Sessions, one)
		}
		out.Weeks = append(out.Weeks, week)
	}
	return out
}

func rowOf(e athlete.PlannedExercise) draftRow {
	r := draftRow{
		rowExercise: e.Exercise, rowSets: strconv.Itoa(e.Sets), rowLow: strconv.Itoa(e.RepsLow), rowHigh: strconv.Itoa(e.RepsHigh), rowNotes: e.Notes,
	}
	if e.RIR != nil {
		r[rowRIR] = figure(*e.RIR)
	}
	if e.RestSeconds > 0 {
		r[rowRest] = strconv.Itoa(e.RestSeconds)
	}
	return r
}

// blank reports whether nothing was typed in a row: its numbers may be those that
// a new row takes from the one above.
func (r *draftRow) blank(above *draftRow) bool {
	if r[rowExercise] != "" || r[rowNotes] != "" {
		return false
	}
	return *r == draftRow{} || above != nil && *r == above.numbers()
}

// numbers is a row with the same sets, repetitions, reserve and rest.
func (r *draftRow) numbers() draftRow {
	out := *r
	out[rowExercise], out[rowNotes] = "", ""
	return out
}

// encoded is the draft as one short text.
func (d *draft) encoded() string {
	text, err := json.Marshal(d)
	if err != nil {
		panic(err) // plain data
	}
	var b bytes.Buffer
	w, err := flate.NewWriter(&b, flate.BestSpeed)
	if err != nil {
		panic(err) // the level is a good one
	}
	// Writing to a bytes.Buffer never fails.
	_, _ = w.Write(text)
	_ = w.Close()
	return base64.RawURLEncoding.EncodeToString(b.Bytes())
}

// mostDraft is the most that a draft may unfold to, in bytes.
const mostDraft = 2 << 20

// decodeDraft reads what encoded wrote; it came back by way of the browser.
func decodeDraft(text string) (draft, error) {
	bad := fault.New(fault.Invalid, "the form has lost what was written before.").WithHint("Begin again from a version that is kept.")
	packed, err := base64.RawURLEncoding.DecodeString(text)
	if err != nil {
		return draft{}, bad
	}
	plainText, err := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(packed)), mostDraft+1))
	if err != nil || len(plainText) > mostDraft {
		return draft{}, bad
	}
	var d draft
	if json.Unmarshal(plainText, &d) != nil || !d.fits() {
		return draft{}, bad
	}
	return d, nil
}

// fits reports whether a draft is no larger than a programme can be.
func (d *draft) fits() bool {
	if len(d.Weeks) == 0 || len(d.Weeks) > athlete.MostProgrammeWeeks {
		return false
	}
	for _, w := range d.Weeks {
		if len(w.Sessions) > athlete.MostWeekSessions {
			return false
		}
		for _, s := range w.Sessions {
			if len(s.Rows) > athlete.MostSessionExercises {
				return false
			}
		}
	}
	return true
}

// sessionID and rowID begin the names of the inputs of the open week.
func sessionID(s int) string  { return fmt.Sprintf("s%d", s+1) }
func rowID(s, row int) string { return fmt.Sprintf("s%d-e%d", s+1, row+1) }

// take reads the form's fields over the draft that came with them.
func (d *draft) take(typed url.Values, week int) {
	d.Name, d.Phase, d.From, d.Notes = typed.Get("name"), typed.Get("phase"), typed.Get("from"), typed.Get("notes")
	w := &d.Weeks[week]
	w.Deload = typed.Get("deload") != ""
	for i := range w.Sessions {
		s, id := &w.Sessions[i], sessionID(i)
		s.Name, s.Day, s.Notes = typed.Get(id+"-name"), typed.Get(id+"-day"), typed.Get(id+"-notes")
		for j := range s.Rows {
			for k, f := range rowFields {
				s.Rows[j][k] = typed.Get(rowID(i, j) + "-" + f.name)
			}
		}
	}
}

// place is an input of a draft. Session is -1 for the programme's own fields, and
// row for those of a session.
type place struct {
	week, session, row int
	field              string
}

// name is that of the input in the form of its week.
func (p place) name() string {
	switch {
	case p.session < 0:
		return p.field
	case p.row < 0:
		return sessionID(p.session) + "-" + p.field
	}
	return rowID(p.session, p.row) + "-" + p.field
}

// mistakes are what is wrong in a draft, by place.
type mistakes map[place]string

// places are those of the mistakes in the order of the draft.
func (m mistakes) places() []place {
	return slices.SortedFunc(maps.Keys(m), func(a, b place) int {
		return cmp.Or(cmp.Compare(a.week, b.week), cmp.Compare(a.session, b.session), cmp.Compare(a.row, b.row), cmp.Compare(a.field, b.field))
	})
}

// programme reads the draft, with what is wrong in it.
func (d *draft) programme() (athlete.Programme, mistakes) {
	wrong := mistakes{}
	p := athlete.Programme{Name: d.Name, Phase: athlete.PhaseKind(d.Phase), Notes: d.Notes}
	var err error
	if p.From, err = civil.Parse(d.From); err != nil {
		wrong[place{0, -1, -1, "from"}] = fmt.Sprintf("%q is not a date such as 2026-03-02.", d.From)
	}
	if d.Name == "" {
		wrong[place{0, -1, -1, "name"}] = "A programme needs a name."
	}
	for i := range d.Weeks {
		week := athlete.ProgrammeWeek{Deload: d.Weeks[i].Deload}
		for j := range d.Weeks[i].Sessions {
			if s, any := d.Weeks[i].Sessions[j].session(i, j, wrong); any {
				week.Sessions = append(week.Sessions, s)
			}
		}
		p.Weeks = append(p.Weeks, week)
	}
	return p, wrong
}

// session reads one; any is false where nothing was written in it.
func (s *draftSession) session(week, number int, wrong mistakes) (out athlete.PlannedSession, any bool) {
	out.Name, out.Notes = s.Name, s.Notes
	if s.Day != "" {
		out.Day = new(athlete.Weekday)
		if err := out.Day.UnmarshalText([]byte(s.Day)); err != nil {
			wrong[place{week, number, -1, "day"}] = fmt.Sprintf("%q is no day of the week.", s.Day)
		}
	}
	var above *draftRow
	for k := range s.Rows {
		row := &s.Rows[k]
		if !row.blank(above) {
			e, faults := row.exercise()
			for field, text := range faults {
				wrong[place{week, number, k, field}] = text
			}
			out.Exercises = append(out.Exercises, e)
		}
		above = row
	}
	if len(out.Exercises) == 0 {
		if s.Notes == "" {
			return out, false
		}
		wrong[place{week, number, -1, "name"}] = "Nothing is to do in it: write an exercise, or take it out."
	} else if s.Name == "" {
		wrong[place{week, number, -1, "name"}] = "A session needs a name."
	}
	return out, true
}

// exercise reads a row. Faults are by the names of its inputs.
func (r *draftRow) exercise() (e athlete.PlannedExercise, faults map[string]string) {
	faults = map[string]string{}
	e.Exercise, e.Notes = r[rowExercise], r[rowNotes]
	whole := func(field int, into *int) {
		if r[field] == "" {
			return
		}
		n, err := strconv.Atoi(r[field])
		if err != nil {
			faults[rowFields[field].name] = "a whole number."
		}
		*into = n
	}
	whole(rowSets, &e.Sets)
	whole(rowLow, &e.RepsLow)
	e.RepsHigh = e.RepsLow
	whole(rowHigh, &e.RepsHigh)
	whole(rowRest, &e.RestSeconds)
	if text := strings.ReplaceAll(r[rowRIR], ",", "."); text != "" {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || !finite(v) {
			faults[rowFields[rowRIR].name] = "a number."
		}
		e.RIR = &v
	}
	if len(faults) > 0 {
		return e, faults
	}
	for _, f := range fault.All(e.Validate()) {
		_, field, _ := strings.Cut(f.Field, "exercises.")
		for _, input := range rowFields {
			if field == input.fault {
				faults[input.name] = plain(f)
			}
		}
	}
	return e, faults
}

// readable is a week with what can be read of it.
func (w *draftWeek) readable() athlete.ProgrammeWeek {
	out := athlete.ProgrammeWeek{Deload: w.Deload}
	for _, s := range w.Sessions {
		one := athlete.PlannedSession{Name: s.Name}
		for i := range s.Rows {
			if e, faults := s.Rows[i].exercise(); len(faults) == 0 {
				one.Exercises = append(one.Exercises, e)
			}
		}
		out.Sessions = append(out.Sessions, one)
	}
	return out
}

// weekTitle names a week of a draft.
func (d *draft) weekTitle(i int) string {
	title := "Week " + chart.Number(float64(i+1), 0)
	if d.Weeks[i].Deload {
		title += ", deload"
	}
	return title
}
