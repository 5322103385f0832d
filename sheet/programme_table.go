package sheet

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// ProgrammeTable opens a file with a programme in it as a table; nil without an
// error is a programme in plain text, for ReadProgramme. A CSV file is a table where
// its headings name exercises with sets or repetitions.
func ProgrammeTable(name string, data []byte, o Options) (*Table, error) {
	o.kinds = []Kind{Programmes}
	t, err := Open(name, bytes.NewReader(data), o)
	for _, signature := range []string{"PK\x03\x04", "\xd0\xcf\x11\xe0", "%PDF"} {
		if bytes.HasPrefix(data, []byte(signature)) {
			return t, err
		}
	}
	if err != nil {
		return nil, nil //nolint:nilerr // no table: the reader of text says what is wrong with it
	}
	if seen := fieldsNamed(Programmes, t.Headings); !seen[FieldExercise] || !seen[FieldSets] && !seen[FieldReps] {
		return nil, nil
	}
	return t, nil
}

// ReadProgrammeTable reads a programme from a table with a row for each exercise:
// week, day, session, exercise, sets, repetitions, RIR or RPE, rest and notes. A week
// may be a range ("1-3"); a week, day or session that is left empty is that of the
// row above. Repetitions are "8", "6-8", "6 to 8", or with the sets as in "3x8".
// Rows of one week, day and session belong together. The programme has no name, date
// or phase: the table has no place for them. The error joins a fault for each thing
// wrong, with its row and column; notes say what was left out.
func ReadProgrammeTable(t *Table, m Mapping) (p athlete.Programme, notes []string, err error) {
	r, err := newReader(t, &m, Programmes)
	if err != nil {
		return p, nil, err
	}
	if !m.has(FieldExercise) || !m.has(FieldReps) {
		e := fault.New(fault.Unclear, "a programme needs a column of exercises and one of repetitions.").
			WithHint("Name them, as in \"Heading=exercise\" and \"Heading=reps\".")
		e.File = t.Name
		return p, nil, e
	}
	s := plannedReader{reader: r, at: map[plannedKey]int{}, first: map[int]int{}}
	for i := range t.Rows {
		if r.start(&t.Rows[i]) {
			s.read()
		}
	}
	if err := s.finish(); err != nil {
		return p, nil, err
	}
	return s.out, r.notes(), nil
}

// plannedReader reads the rows of a programme.
type plannedReader struct {
	*reader
	out   athlete.Programme
	at    map[plannedKey]int // place of the session in its week
	first map[int]int        // the row that a week first stands in
	weeks []int              // of the present row, from 1
	key   plannedKey         // of the present session; its week is that of the row above
}

// plannedKey tells sessions apart, as they are written.
type plannedKey struct {
	week         int
	day, session string
}

// plannedRow are the texts of a row.
type plannedRow map[Field]string

func (s *plannedReader) read() {
	row := plannedRow{}
	for i := range s.mapped {
		if c := s.mapped[i].Column; s.cell(c) != "" {
			row[c.Field] = cleanText(s.row.Cells[c.Index], maxNote)
		}
	}
	if len(row) == 0 {
		return
	}
	before := len(s.bad)
	weeks, deload, ok := s.week(row)
	if !ok {
		return
	}
	for _, w := range weeks {
		if s.first[w] == 0 {
			s.first[w] = s.row.Number
		}
		for len(s.out.Weeks) < w {
			s.out.Weeks = append(s.out.Weeks, athlete.ProgrammeWeek{})
		}
		s.out.Weeks[w-1].Deload = s.out.Weeks[w-1].Deload || deload
	}
	if !slices.Equal(weeks, s.weeks) {
		s.key = plannedKey{} // nothing is carried from week to week
	}
	s.weeks = weeks
	if row[FieldDay] == "" && row[FieldSession] == "" && row[FieldExercise] == "" {
		return // a week of its own, with nothing in it yet
	}
	day := s.session(row)
	var e athlete.PlannedExercise
	if row[FieldExercise] != "" {
		e = s.exercise(row)
	}
	if len(s.bad) > before {
		return
	}
	for _, w := range weeks {
		s.add(w, day, row, e)
	}
}

var weekCell = regexp.MustCompile(`^(?:w|wk|week|weeks)?\.?\s*(\d{1,3})(?:\s*(?:-|–|—|to)\s*(\d{1,3}))?\s*\(?(deload)?(?: week)?\)?$`)

// week reads which weeks a row is of.
func (s *plannedReader) week(row plannedRow) (weeks []int, deload, ok bool) {
	_, deload = map[string]bool{"yes": true, "y": true, "x": true, "true": true, "1": true, "deload": true, "ja": true, "oui": true, "si": true}[letters(row[FieldDeload])]
	text := row[FieldWeek]
	if text == "" {
		if s.weeks == nil {
			return []int{1}, deload, true
		}
		return s.weeks, deload, true
	}
	c := s.column(FieldWeek)
	m := weekCell.FindStringSubmatch(foldHeading(strings.ToLower(text)))
	if m == nil {
		s.reject(c, &cellError{"it is not the number of a week.", madeADate(text, `Write 1, or a range such as "1 to 3".`)})
		return nil, false, false
	}
	from, _ := strconv.Atoi(m[1]) // the pattern has digits only
	to := from
	if m[2] != "" {
		to, _ = strconv.Atoi(m[2])
	}
	if from < 1 || to < from || to > athlete.MostProgrammeWeeks {
		s.reject(c, &cellError{fmt.Sprintf("it is outside 1 to %d weeks.", athlete.MostProgrammeWeeks), ""})
		return nil, false, false
	}
	for w := from; w <= to; w++ {
		weeks = append(weeks, w)
	}
	return weeks, deload || m[3] != "", true
}

// column is that of a field in the table, nil where there is none.
func (s *plannedReader) column(f Field) *Column {
	if all := s.m.fields(f); len(all) > 0 {
		return all[0]
	}
	return nil
}

// session turns to the session of a row and gives its day.
func (s *plannedReader) session(row plannedRow) *athlete.Weekday {
	day, name := row[FieldDay], row[FieldSession]
	switch {
	case day != "" && name == "" && !strings.EqualFold(day, s.key.day):
		s.key.day, s.key.session = day, ""
	case day == "" && name != "" && !strings.EqualFold(name, s.key.session):
		s.key.day, s.key.session = "", name
	default:
		if day != "" {
			s.key.day = day
		}
		if name != "" {
			s.key.session = name
		}
	}
	if s.key.day == "" {
		return nil
	}
	d, ok := weekday(strings.TrimSuffix(s.key.day, "."))
	if !ok {
		return nil // "Day 2": on the training days in order
	}
	return &d
}

func (s *plannedReader) add(week int, day *athlete.Weekday, row plannedRow, e athlete.PlannedExercise) {
	w := &s.out.Weeks[week-1]
	key := plannedKey{week, strings.ToLower(s.key.day), strings.ToLower(s.key.session)}
	i, there := s.at[key]
	if !there {
		i = len(w.Sessions)
		s.at[key] = i
		name := s.key.session
		switch {
		case name != "":
		case day != nil:
			name = titled(*day)
		case s.key.day != "":
			name = capital(s.key.day)
			if _, err := strconv.Atoi(name); err == nil {
				name = "Day " + name
			}
		default:
			name = fmt.Sprintf("Session %d", i+1)
		}
		if day != nil {
			day = new(*day)
		}
		w.Sessions = append(w.Sessions, athlete.PlannedSession{Name: name, Day: day})
	}
	session := &w.Sessions[i]
	if text := row[FieldSessionNotes]; text != "" && session.Notes == "" {
		session.Notes = text
	}
	if e.Exercise != "" {
		if e.RIR != nil {
			e.RIR = new(*e.RIR)
		}
		session.Exercises = append(session.Exercises, e)
	}
}

// exercise reads the exercise of a row.
func (s *plannedReader) exercise(row plannedRow) athlete.PlannedExercise {
	before := len(s.bad)
	e := athlete.PlannedExercise{Exercise: row[FieldExercise]}
	for i := range s.mapped {
		c := &s.mapped[i]
		text := row[c.Field]
		if text == "" {
			continue
		}
		switch c.Field {
		case FieldSets:
			e.Sets, _ = s.whole(c, text)
		case FieldRIR:
			if v, ok := s.rating(c, text); ok {
				e.RIR = new(v)
			}
		case FieldRest:
			e.RestSeconds = s.rest(c, text)
		case FieldNotes:
			e.Notes = text
		}
	}
	if text := row[FieldRPE]; text != "" && e.RIR == nil {
		s.effort(text, &e)
	}
	s.reps(row[FieldReps], &e)
	if len(s.bad) == before {
		if err := e.Validate(); err != nil {
			s.invalid(err)
		}
	}
	return e
}

// effort takes RPE as 10 less the repetitions in reserve.
func (s *plannedReader) effort(text string, e *athlete.PlannedExercise) {
	for i := range s.mapped {
		c := &s.mapped[i]
		if c.Field != FieldRPE {
			continue
		}
		v, ok := s.rating(c, text)
		switch {
		case !ok:
		case v < lowestRPE || v > 10:
			s.reject(c.Column, &cellError{"an RPE is from 5 to 10; a lower one says nothing of repetitions in reserve.", ""})
		default:
			e.RIR = new(10 - v)
		}
	}
}

// rest reads a rest; a bare number is in the column's unit.
func (s *plannedReader) rest(c *mappedColumn, text string) int {
	if v, bad := readNumber(text, s.mark); bad == nil && c.Unit != "" {
		text = decimals(convert(v, c.Unit, Second)) + " s"
	}
	d := doseReader{text: text}
	if d.next(); d.tok.kind == numberToken {
		seconds, bad := d.seconds()
		if bad == nil && d.tok.kind != noToken {
			bad = &cellError{"it is no time.", `Write "90 s", "2 min" or "2:30".`}
		}
		if bad == nil {
			return seconds
		}
		s.reject(c.Column, bad)
		return 0
	}
	s.reject(c.Column, &cellError{"it is no time.", `Write "90 s", "2 min" or "2:30".`})
	return 0
}

// reps reads repetitions, with the sets where the cell has them too.
func (s *plannedReader) reps(text string, e *athlete.PlannedExercise) {
	c := s.column(FieldReps)
	if text == "" {
		s.reject(c, &cellError{"the exercise has no repetitions.", ""})
		return
	}
	if date := madeADate(text, ""); date != "" {
		s.reject(c, &cellError{"it is a date.", date})
		return
	}
	if strings.Trim(text, "0123456789. \t"+dashes) == "" || strings.Contains(strings.ToLower(text), " to ") && !strings.ContainsAny(text, "xX×*") {
		text = strings.TrimSuffix(text, " reps") + " reps"
	}
	d := doseReader{text: text, reserve: e.RIR != nil, rest: e.RestSeconds > 0}
	if bad := d.read(e); bad != nil {
		s.reject(c, bad)
	}
}

// madeADate says what happened where a spreadsheet took "6-8" for a date, and
// otherwise says the hint given.
func madeADate(text, hint string) string {
	switch takeDate(text).form {
	case serialDate, namedDate, triple, fixedDate:
		return `The spreadsheet made a date of it: write "6 to 8", or format the column as text.`
	}
	return hint
}

// finish checks the programme as a whole.
func (s *plannedReader) finish() error {
	for w := range s.out.Weeks {
		if s.first[w+1] == 0 && len(s.bad) == 0 {
			s.bad = append(s.bad, s.missing(fmt.Sprintf("week %d is missing: weeks are counted from 1.", w+1)))
		}
	}
	if len(s.bad) == 0 && len(s.out.Weeks) == 0 {
		s.bad = append(s.bad, s.missing("there is no exercise in it."))
	}
	if len(s.bad) > 0 {
		errs := make([]error, 0, len(s.bad))
		for _, f := range s.ordered() {
			errs = append(errs, f)
		}
		return errors.Join(errs...)
	}
	whole := s.out
	whole.From, whole.Name = civil.Of(2000, 1, 3), "unnamed"
	err := whole.Validate()
	for _, f := range fault.All(err) {
		f.File = s.t.Name
	}
	return err
}

func (s *plannedReader) missing(why string) *fault.Error {
	e := fault.New(fault.Invalid, "%s", why)
	e.File = s.t.Name
	return e
}
