package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"glidepath/civil"
	"glidepath/fault"
)

// Result is what was read. A row is either good as a whole or bad as a whole.
type Result[T any] struct {
	Good  []Record[T]
	Bad   []*fault.Error // every fault of every bad row, by row
	Notes []string       // what was left out or taken from elsewhere, in sentences
}

// Record is a value with the rows that it came from, as a spreadsheet counts them.
type Record[T any] struct {
	Value T
	Rows  []int
}

// Values are the good values in order.
func (r *Result[T]) Values() []T {
	out := make([]T, 0, len(r.Good))
	for i := range r.Good {
		out = append(out, r.Good[i].Value)
	}
	return out
}

// reader walks the rows of a table by a mapping.
type reader struct {
	t       *Table
	m       *Mapping
	mark    byte
	dates   dates
	dateCol *Column
	mapped  []mappedColumn

	row     *Row
	bad     []*fault.Error // of all rows
	skipped map[string][]int
	reasons []string // keys of skipped, in order of first use
}

type mappedColumn struct {
	*Column
	spec *spec
}

// newReader checks that the table can be read by the mapping.
func newReader(t *Table, m *Mapping, k Kind) (*reader, error) {
	if m.Kind != k {
		return nil, fault.New(fault.Invalid, "the table is mapped as %q, not as %s.", m.Kind, k)
	}
	if len(m.Questions) > 0 {
		return nil, openQuestions(t, m)
	}
	if !m.Fits(t) {
		e := fault.New(fault.Invalid, "the mapping was made for other headings.").WithHint("Let the columns be guessed anew.")
		e.File = t.Name
		return nil, e
	}
	r := &reader{t: t, m: m, mark: m.decimalMark(), skipped: map[string][]int{}}
	r.dates = dates{order: m.DateOrder, year: m.Year, swapped: m.SwapDateCells, date1904: t.date1904}
	for i := range m.Columns {
		c := &m.Columns[i]
		if s := specOf(m.Kind, c.Field); s != nil {
			r.mapped = append(r.mapped, mappedColumn{c, s})
			if c.Field == FieldDate {
				r.dateCol = c
			}
		}
	}
	if r.dateCol == nil && specOf(k, FieldDate) != nil {
		e := fault.New(fault.Unclear, "no column has the date.").WithHint("Say which one has, as in \"Heading=date\".")
		e.File = t.Name
		return nil, e
	}
	return r, nil
}

func openQuestions(t *Table, m *Mapping) error {
	texts := make([]string, 0, len(m.Questions))
	for _, q := range m.Questions {
		choices := make([]string, 0, len(q.Choices))
		for _, c := range q.Choices {
			choices = append(choices, c.Value)
		}
		texts = append(texts, fmt.Sprintf("%s (%s=%s)", q.Text, q.ID, strings.Join(choices, "|")))
	}
	e := fault.New(fault.Unclear, "the file leaves open: %s", strings.Join(texts, " "))
	e.File = t.Name
	return e.WithHint("Answer each, then read again.")
}

// cell is the text of a column in the present row, "" where nothing is recorded.
func (r *reader) cell(c *Column) string {
	if c.Index >= len(r.row.Cells) {
		return ""
	}
	s := r.row.Cells[c.Index]
	switch c.Field {
	case FieldNotes, FieldBy, FieldWeightStandsBy: // "Na" may be a name
		if emptyText(s) {
			return ""
		}
	default:
		if blank(s) {
			return ""
		}
	}
	return unguard(s)
}

// reject notes a fault of the present row.
func (r *reader) reject(c *Column, bad *cellError) {
	value := ""
	if c != nil {
		value = r.cell(c)
	}
	message := bad.why
	if rest, ok := strings.CutPrefix(message, "it "); ok && value != "" {
		message = quote(value) + " " + rest
	} else if value != "" {
		message = quote(value) + ": " + message
	}
	e := fault.New(fault.Invalid, "%s", message)
	e.Hint, e.File, e.Row, e.Value = bad.hint, r.t.Name, r.row.Number, clip(value)
	if c != nil {
		e.Column, e.Field = c.Heading, string(c.Field)
	}
	r.bad = append(r.bad, e)
}

// invalid takes over the faults of the domain, naming row and column.
func (r *reader) invalid(err error) {
	for _, f := range fault.All(err) {
		var c *Column
		var s *spec
		for i := range r.mapped {
			m := &r.mapped[i]
			if sameField(m.spec.domain, f.Field) && (c == nil || r.cell(c) == "") {
				c, s = m.Column, m.spec
			}
		}
		e := *f
		e.File, e.Row = r.t.Name, r.row.Number
		if c != nil {
			e.Column, e.Value, e.Field = c.Heading, clip(r.cell(c)), string(c.Field)
			if c.Unit != "" && c.Unit != s.unit() {
				e.Message = fmt.Sprintf("%s in %s: %s", quote(e.Value), c.Unit, e.Message)
			}
		}
		r.bad = append(r.bad, &e)
	}
}

// sameField matches a column with the domain's name of a field; the domain says
// folds_mm where a site is wrong altogether.
func sameField(column, domain string) bool {
	return column == domain || domain == "cardio_kind" && column == "cardio_minutes"
}

// skip notes that the present row was left out.
func (r *reader) skip(reason string) {
	if r.skipped[reason] == nil {
		r.reasons = append(r.reasons, reason)
	}
	r.skipped[reason] = append(r.skipped[reason], r.row.Number)
}

func (r *reader) notes() []string {
	out := slices.Clone(r.m.Notes)
	for _, reason := range r.reasons {
		out = append(out, fmt.Sprintf("%s: %s", reason, rowList(r.skipped[reason])))
	}
	return out
}

func rowList(rows []int) string {
	const most = 8
	var b strings.Builder
	b.WriteString("row ")
	if len(rows) > 1 {
		b.Reset()
		b.WriteString("rows ")
	}
	for i, n := range rows[:min(len(rows), most)] {
		if i > 0 {
			b.WriteString(", ")
		}
		fmt.Fprint(&b, n)
	}
	if len(rows) > most {
		fmt.Fprintf(&b, " and %d more", len(rows)-most)
	}
	return b.String()
}

// start turns to a row and says whether it is to be read at all.
func (r *reader) start(row *Row) bool {
	r.row = row
	if r.total() {
		r.skip("left out as totals or averages")
		return false
	}
	extra := -1
	for i := len(r.t.Headings); i < len(row.Cells); i++ {
		if !blank(row.Cells[i]) {
			extra = i
			break
		}
	}
	switch {
	case extra < 0:
	case r.t.workbook:
		r.skip("cells to the right of the headings were left out")
	default:
		r.reject(nil, &cellError{
			fmt.Sprintf("the row has %d cells, and the headings are %d; %s has no heading.",
				len(row.Cells), len(r.t.Headings), quote(row.Cells[extra])),
			"Put a value that holds the separator, such as a decimal comma, in quotation marks.",
		})
		return false
	}
	return true
}

var totalWords = wordSet("total totals sum average averages avg mean median weekly week wk subtotal summe gesamt mittelwert durchschnitt schnitt " +
	"moyenne somme promedio media totale medio gemiddelde totaal medel snitt gjennomsnitt suma srednia")

// total reports whether the row sums up others: it has no date, and its first
// text says so.
func (r *reader) total() bool {
	if r.dateCol == nil {
		return false
	}
	if r.dateCol.Index < len(r.row.Cells) && takeDate(r.row.Cells[r.dateCol.Index]).form != noDate {
		return false
	}
	for i, c := range r.row.Cells {
		if blank(c) {
			continue
		}
		if len(c) > 60 || i < len(r.m.Columns) && r.m.Columns[i].Field == FieldExercise { // "Total hip machine"
			return false
		}
		for w := range strings.FieldsFuncSeq(foldHeading(c), func(x rune) bool { return x < 'a' || x > 'z' }) {
			return totalWords[w]
		}
		return false
	}
	return false
}

// date reads the present row's date.
func (r *reader) date() (civil.Date, bool) {
	s := r.cell(r.dateCol)
	if s == "" {
		r.reject(r.dateCol, &cellError{"the row has values but no date.", ""})
		return 0, false
	}
	on, bad := r.dates.resolve(s)
	if bad != nil {
		r.reject(r.dateCol, bad)
		return 0, false
	}
	return on, true
}

// quantity reads a number in the field's own unit.
func (r *reader) quantity(c *mappedColumn, s string) (float64, bool) {
	if v, plain := plainNumber(s); plain && (r.t.workbook || strings.IndexByte(s, '.') < 0) && v <= maxNumber && v >= -maxNumber {
		if c.Unit == c.spec.unit() {
			return v, true
		}
		if c.Unit != "" {
			return convert(v, c.Unit, c.spec.unit()), true
		}
	}
	if formulaError(s) {
		r.reject(c.Column, &cellError{"it is a formula's error, not a value.", "Mend the formula or empty the cell."})
		return 0, false
	}
	v, bad := quantity(s, c.Unit, c.spec.unit(), r.mark, c.spec.accepts)
	if bad != nil {
		r.reject(c.Column, bad)
		return 0, false
	}
	return v, true
}

// whole reads a number without decimals.
func (r *reader) whole(c *mappedColumn, s string) (int, bool) {
	v, ok := r.quantity(c, s)
	if ok && (v != float64(int(v))) {
		r.reject(c.Column, &cellError{"it is not a whole number.", ""})
		return 0, false
	}
	return int(v), ok
}

// ordered sorts faults by row, keeping the order within a row.
func (r *reader) ordered() []*fault.Error {
	slices.SortStableFunc(r.bad, func(a, b *fault.Error) int { return cmp.Compare(a.Row, b.Row) })
	return r.bad
}

// clash is a value that two rows of the same date give differently.
type clash struct {
	field    Field
	old, new string
}

// merger puts rows of the same key together. Where two say different things, none
// of that key's rows is taken: which is right cannot be told.
type merger[T any, K comparable] struct {
	r     *reader
	at    map[K]int
	good  []Record[T]
	wrong map[int]bool // places in good whose rows clash
	merge func(into *T, from *T) []clash
	what  string // "the same date", for messages
}

func newMerger[T any, K comparable](r *reader, what string, merge func(into, from *T) []clash) *merger[T, K] {
	return &merger[T, K]{
		r: r, at: make(map[K]int, len(r.t.Rows)), wrong: map[int]bool{}, merge: merge, what: what,
		good: make([]Record[T], 0, len(r.t.Rows)),
	}
}

func (g *merger[T, K]) add(key K, v T) {
	row := g.r.row.Number
	i, seen := g.at[key]
	if !seen {
		g.at[key] = len(g.good)
		g.good = append(g.good, Record[T]{v, []int{row}})
		return
	}
	rec := &g.good[i]
	clashes := g.merge(&rec.Value, &v)
	if len(clashes) > 0 || g.wrong[i] {
		if !g.wrong[i] {
			g.wrong[i] = true
			for _, earlier := range rec.Rows {
				g.fault(earlier, row, clashes)
			}
		}
		g.fault(row, rec.Rows[0], clashes)
	}
	rec.Rows = append(rec.Rows, row)
}

func (g *merger[T, K]) fault(row, other int, clashes []clash) {
	if len(clashes) == 0 {
		clashes = []clash{{}}
	}
	for _, c := range clashes {
		e := fault.New(fault.Invalid, "row %d has %s and does not agree with it.", other, g.what)
		if c.field != "" {
			e.Message = fmt.Sprintf("row %d has %s and another %s (%s and %s).", other, g.what, strings.ReplaceAll(string(c.field), "_", " "), c.old, c.new)
			e.Field = string(c.field)
			if cols := g.r.m.fields(c.field); len(cols) > 0 {
				e.Column = cols[0].Heading
			}
		}
		e.Hint = "Keep the right row, or add them up where a day is written in parts."
		e.File, e.Row = g.r.t.Name, row
		g.r.bad = append(g.r.bad, e)
	}
}

func (g *merger[T, K]) result() Result[T] {
	good := g.good
	if len(g.wrong) > 0 {
		good = good[:0]
		for i := range g.good {
			if !g.wrong[i] {
				good = append(good, g.good[i])
			}
		}
	}
	return Result[T]{Good: good, Bad: g.r.ordered(), Notes: g.r.notes()}
}
