package sheet

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// ReadSets reads a training log, set by set. A row may stand for several sets: by
// a count of sets, by "3x8" or "8/8/7" in the column of repetitions, or by several
// columns ("Set 1 reps", "Set 2 reps"). A row without a date or an exercise takes
// that of the row above. The sets of a date are numbered as the rows stand, and a
// date is taken whole or not at all: where one row of it is bad, its others are
// held back and listed as bad too, so that a mended file keeps the numbers right.
func ReadSets(t *Table, m Mapping) (Result[athlete.Set], error) {
	r, err := newReader(t, &m, Training)
	if err != nil {
		return Result[athlete.Set]{}, err
	}
	if !m.has(FieldExercise) || !m.has(FieldReps) {
		e := fault.New(fault.Unclear, "sets need a column of exercises and one of repetitions.").
			WithHint("Name them, as in \"Heading=exercise\" and \"Heading=reps\".")
		e.File = t.Name
		return Result[athlete.Set]{}, e
	}
	s := setReader{reader: r, plan: setPlan(r.mapped), order: map[civil.Date]int{}, held: map[civil.Date]int{}}
	for i := range t.Rows {
		if r.start(&t.Rows[i]) {
			s.read()
		}
	}
	return s.result(), nil
}

// setColumns are the columns of one set of a row.
type setColumns struct{ weight, reps, rir, rpe *mappedColumn }

// setPlan puts the columns of each group together, in order of their place in
// the table; a column that stands alone serves every group.
func setPlan(mapped []mappedColumn) []setColumns {
	byGroup := func(f Field) (of func(int) *mappedColumn, groups []int) {
		columns := map[int]*mappedColumn{}
		for i := range mapped {
			if mapped[i].Field == f {
				columns[mapped[i].Group] = &mapped[i]
				groups = append(groups, mapped[i].Group)
			}
		}
		return func(g int) *mappedColumn {
			if c := columns[g]; c != nil || len(columns) != 1 {
				return c
			}
			return columns[groups[0]]
		}, groups
	}
	reps, groups := byGroup(FieldReps)
	weight, _ := byGroup(FieldWeight)
	rir, _ := byGroup(FieldRIR)
	rpe, _ := byGroup(FieldRPE)
	plan := make([]setColumns, 0, len(groups))
	for _, g := range groups {
		plan = append(plan, setColumns{weight(g), reps(g), rir(g), rpe(g)})
	}
	return plan
}

type setReader struct {
	*reader
	plan []setColumns
	good []Record[athlete.Set]

	order    map[civil.Date]int
	held     map[civil.Date]int // the first bad row of a date
	last     civil.Date
	exercise string
}

func (s *setReader) read() {
	before := len(s.bad)
	var base athlete.Set
	exercise, count, given := "", 0, false
	for i := range s.mapped {
		c := &s.mapped[i]
		text := s.cell(c.Column)
		if text == "" {
			continue
		}
		switch c.Field {
		case FieldExercise:
			exercise = cleanText(text, maxName)
		case FieldSide:
			base.Side = cleanText(text, maxName)
		case FieldNotes:
			base.Notes = cleanText(s.row.Cells[c.Index], maxNote)
		case FieldSets:
			var ok bool
			if count, ok = s.whole(c, text); ok && (count < 1 || count > 50) {
				s.reject(c.Column, &cellError{"it is no number of sets from 1 to 50.", ""})
			}
		case FieldReps, FieldWeight:
			given = true
		}
	}
	if !given && exercise == "" && len(s.bad) == before {
		return // a row of the session only, or of notes
	}
	on, ok := s.day()
	if ok && on != s.last {
		s.exercise = ""
	}
	if exercise == "" {
		exercise = s.exercise
	}
	s.exercise = exercise
	if !given && len(s.bad) == before {
		s.skip("left out: an exercise without weight and repetitions")
		return
	}
	var sets []athlete.Set
	for _, p := range s.plan {
		sets = append(sets, s.sets(p, count)...)
	}
	for i := range sets {
		sets[i].Date, sets[i].Exercise, sets[i].Side, sets[i].Notes = on, exercise, base.Side, base.Notes
		if ok {
			s.order[on]++
			sets[i].Order = s.order[on]
			if err := sets[i].Validate(); err != nil {
				s.invalid(err)
				break // the same fault in each set of the row
			}
		}
	}
	if ok {
		s.last = on
	}
	switch {
	case len(s.bad) > before && ok && s.held[on] == 0:
		s.held[on] = s.row.Number
	case len(s.bad) == before:
		for _, one := range sets {
			s.good = append(s.good, Record[athlete.Set]{one, []int{s.row.Number}})
		}
	}
}

// day is the row's date, or that of the row above where the cell is empty.
func (s *setReader) day() (civil.Date, bool) {
	if s.cell(s.dateCol) == "" && !s.last.IsZero() {
		s.skip("dated as the row above")
		return s.last, true
	}
	on, ok := s.date()
	if !ok {
		s.last = 0 // rows below that lean on it are bad too
	}
	return on, ok
}

// sets reads the sets of one group of columns.
func (s *setReader) sets(p setColumns, count int) []athlete.Set {
	text := s.cell(p.reps.Column)
	if text == "" {
		if p.weight != nil && s.cell(p.weight.Column) != "" && len(s.plan) == 1 {
			s.reject(p.weight.Column, &cellError{"there is a weight but no repetitions.", ""})
		}
		return nil
	}
	reps, bad := repsCell(text, count)
	if bad != nil {
		s.reject(p.reps.Column, bad)
		return nil
	}
	var set athlete.Set
	if p.weight != nil {
		if w := s.cell(p.weight.Column); w != "" {
			set.WeightKg = s.barWeight(p.weight, w)
		}
	}
	set.RIR = s.reserve(p)
	out := make([]athlete.Set, len(reps))
	for i, n := range reps {
		out[i] = set
		out[i].Reps = n
	}
	return out
}

// barWeight reads a weight; "BW" is body weight alone, "BW+10" ten more.
func (s *setReader) barWeight(c *mappedColumn, text string) float64 {
	rest, body := overBody(text)
	if body && rest == "" {
		return 0
	}
	v, _ := s.quantity(c, rest)
	return v
}

// overBody takes body weight off the front of a weight: "BW+10" is 10 over it, "BW"
// nothing.
func overBody(text string) (rest string, body bool) {
	low := foldHeading(strings.ToLower(strings.TrimSpace(text)))
	for _, word := range []string{"bodyweight", "body weight", "bw"} {
		rest, ok := strings.CutPrefix(low, word)
		if rest = strings.TrimSpace(rest); ok && rest == "" {
			return "", true
		}
		if plus, added := strings.CutPrefix(rest, "+"); ok && added && strings.TrimSpace(plus) != "" {
			return strings.TrimSpace(plus), true
		}
	}
	return text, false
}

// repsCell reads repetitions: "8", "3x8" or a list such as "8/8/7". count is the
// row's number of sets, 0 where it has none.
func repsCell(s string, count int) ([]int, *cellError) {
	s = strings.ToLower(strings.TrimSpace(s))
	if v, plain := plainNumber(s); plain {
		if v != math.Trunc(v) || math.Abs(v) > 10000 {
			return nil, &cellError{"it is not a whole number of repetitions.", ""}
		}
		return repeat(int(v), max(count, 1)), nil
	}
	s = strings.ReplaceAll(s, "×", "x")
	if sets, each, ok := strings.Cut(s, "x"); ok {
		n, err1 := strconv.Atoi(strings.TrimSpace(sets))
		reps, err2 := strconv.Atoi(strings.TrimSpace(each))
		if err1 == nil && err2 == nil && n >= 1 && n <= 50 && (count == 0 || count == n) {
			return repeat(reps, n), nil
		}
	}
	parts := strings.FieldsFunc(s, func(r rune) bool { return r == '/' || r == ',' || r == ';' || r == ' ' })
	list := make([]int, 0, len(parts))
	for _, p := range parts {
		n, err := strconv.Atoi(p)
		if err != nil || len(parts) > 50 {
			return nil, &cellError{"it is not a number of repetitions.", "Write one number, \"3x8\", or one for each set as in \"8/8/7\"."}
		}
		list = append(list, n)
	}
	if count > 1 && len(list) == 1 {
		return repeat(list[0], count), nil
	}
	if len(list) == 0 || count > 0 && count != len(list) {
		return nil, &cellError{fmt.Sprintf("it has %d numbers for %d sets.", len(list), count), ""}
	}
	return list, nil
}

func repeat(n, times int) []int { return slices.Repeat([]int{n}, times) }

// lowestRPE is the lowest rating on the scale of repetitions in reserve that
// stands for a number of them (Zourdos et al. 2016, J Strength Cond Res 30:267:
// 5 to 6 is 4 to 6 in reserve; 1 to 4 is light effort).
const lowestRPE = 5

// reserve reads repetitions in reserve, from RIR or else as 10 - RPE (Zourdos et
// al. 2016). "1-2" is the middle of a range, "failure" is none.
func (s *setReader) reserve(p setColumns) *float64 {
	if p.rir != nil {
		if text := s.cell(p.rir.Column); text != "" {
			if v, ok := s.rating(p.rir, text); ok {
				return new(v)
			}
			return nil
		}
	}
	if p.rpe == nil {
		return nil
	}
	text := s.cell(p.rpe.Column)
	if text == "" {
		return nil
	}
	v, ok := s.rating(p.rpe, text)
	switch {
	case !ok:
		return nil
	case v < 0 || v > 10:
		s.reject(p.rpe.Column, &cellError{"it is outside 0 to 10 of RPE.", ""})
		return nil
	case v < lowestRPE:
		s.skip("RPE below 5 says nothing of repetitions in reserve, and was left out")
		return nil
	}
	return new(10 - v)
}

// rating reads RIR or RPE: of a range the middle, "failure" as none in reserve.
func (r *reader) rating(c *mappedColumn, text string) (float64, bool) {
	switch foldHeading(strings.ToLower(strings.TrimSpace(text))) {
	case "f", "fail", "failure", "failed":
		if c.Field == FieldRPE {
			return 10, true
		}
		return 0, true
	}
	low, high, isRange := strings.Cut(strings.ReplaceAll(text, "–", "-"), "-")
	if isRange && strings.TrimSpace(low) != "" {
		a, bad1 := readNumber(low, r.mark)
		b, bad2 := readNumber(high, r.mark)
		if bad1 == nil && bad2 == nil && a < b && b <= 10 {
			return (a + b) / 2, true
		}
	}
	return r.quantity(c, strings.TrimSuffix(strings.TrimSpace(text), "+"))
}

// result holds back the good rows of dates that have a bad one.
func (s *setReader) result() Result[athlete.Set] {
	good := s.good[:0]
	reported := map[int]bool{}
	for _, rec := range s.good {
		because := s.held[rec.Value.Date]
		if because == 0 {
			good = append(good, rec)
			continue
		}
		if row := rec.Rows[0]; !reported[row] {
			reported[row] = true
			e := fault.New(fault.Invalid, "held back: row %d of the same date has a fault.", because).
				WithHint("Nothing is wrong here; mend that row and read both again.")
			e.File, e.Row = s.t.Name, row
			s.bad = append(s.bad, e)
		}
	}
	return Result[athlete.Set]{Good: good, Bad: s.ordered(), Notes: s.notes()}
}
