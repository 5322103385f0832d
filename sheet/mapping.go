package sheet

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"glidepath/athlete"
	"glidepath/fault"
)

// Mapping says how a table is to be read. It is plain data and can be kept as
// JSON, by the table's Signature, for the next file with the same headings.
type Mapping struct {
	Kind    Kind     `json:"kind"`
	Sheet   string   `json:"sheet,omitempty"`
	Columns []Column `json:"columns"` // every column of the table, in order

	// Decimal is "point" or "comma": how a number such as 2,350, with one mark and
	// three digits after it, is read. Other numbers show it themselves.
	Decimal string `json:"decimal"`
	// DateOrder is DayMonthYear, MonthDayYear or YearMonthDay; empty where every
	// date shows its own order.
	DateOrder string `json:"date_order,omitempty"`
	// Year of the first date, where dates are written without one.
	Year int `json:"year,omitempty"`
	// SwapDateCells exchanges day and month in a workbook's date cells: see the
	// question "swapped-dates".
	SwapDateCells bool `json:"swap_date_cells,omitempty"`
	// Method of every measurement, where no column says it.
	Method athlete.Method `json:"method,omitempty"`

	// Questions that must be answered before the table can be read.
	Questions []Question `json:"questions,omitempty"`
	// Notes are doubts that do not stop the reading, in sentences.
	Notes []string `json:"notes,omitempty"`
}

// Column says what a column of the table is.
type Column struct {
	Index      int                `json:"index"` // from 0
	Heading    string             `json:"heading"`
	Field      Field              `json:"field,omitempty"` // empty where the column is left out
	Unit       Unit               `json:"unit,omitempty"`
	Group      int                `json:"group,omitempty"`       // which bout, or which set, of several in a row
	CardioKind athlete.CardioKind `json:"cardio_kind,omitempty"` // of a column of cardio minutes
	Confidence float64            `json:"confidence"`            // that Field and Unit are right, 0 to 1; judgement
	Reason     string             `json:"reason"`
	Sample     string             `json:"sample,omitempty"` // the first value, as written
}

// Question is something that the file leaves open.
type Question struct {
	ID      string   `json:"id"`
	Text    string   `json:"text"`
	Choices []Choice `json:"choices,omitempty"` // none: any answer of the form that Text asks for
	Likely  string   `json:"likely,omitempty"`  // the choice to offer first; never taken unasked
}

// Choice is one answer to a question.
type Choice struct {
	Value string `json:"value"`
	Text  string `json:"text"`
}

// IDs of questions. A unit's is the field's name and "-unit", all girths sharing
// "girth-unit"; a place's is "site-" and the word in the heading.
const (
	askKind       = "kind"
	askDateColumn = "date-column"
	askDateOrder  = "date-order"
	askYear       = "year"
	askSwapped    = "swapped-dates"
	askDecimal    = "decimal"
	askCardioKind = "cardio-kind"
	askMethod     = "method"
	unitSuffix    = "-unit"
	sitePrefix    = "site-"
)

// Fits reports whether the mapping was made for headings such as the table's.
func (m *Mapping) Fits(t *Table) bool {
	for _, c := range m.Columns {
		if c.Field != "" && (c.Index < 0 || c.Index >= len(t.Headings) || foldHeading(t.Headings[c.Index]) != foldHeading(c.Heading)) {
			return false
		}
	}
	return len(m.Columns) > 0
}

func (m *Mapping) decimalMark() byte {
	if m.Decimal == "comma" {
		return ','
	}
	return '.'
}

// fields lists the columns of a field, in order.
func (m *Mapping) fields(f Field) []*Column {
	var out []*Column
	for i := range m.Columns {
		if m.Columns[i].Field == f {
			out = append(out, &m.Columns[i])
		}
	}
	return out
}

func (m *Mapping) has(f Field) bool { return len(m.fields(f)) > 0 }

func (m *Mapping) asks(id string) bool {
	return slices.ContainsFunc(m.Questions, func(q Question) bool { return q.ID == id })
}

func (m *Mapping) ask(q Question) {
	if !m.asks(q.ID) {
		m.Questions = append(m.Questions, q)
	}
}

func (m *Mapping) settle(id string) {
	m.Questions = slices.DeleteFunc(m.Questions, func(q Question) bool { return q.ID == id })
}

// Set makes a column a field, as a flag writes it: "Heading=field",
// "Heading=field:unit", for cardio "Heading=cardio:min:walking", or "Heading="
// to leave the column out. A field that only one column can give is taken from
// any other. A unit that is needed and not given becomes a question; so does the
// order of the dates of a new date column.
func (m *Mapping) Set(spec string) error {
	at := strings.LastIndexByte(spec, '=')
	if at < 0 {
		return fault.New(fault.Invalid, "%q does not say which column is which field.", clip(spec)).
			WithHint("Write \"Heading=field\" or \"Heading=field:unit\".")
	}
	c, err := m.column(spec[:at])
	if err != nil {
		return err
	}
	parts := strings.Split(strings.TrimSpace(spec[at+1:]), ":")
	f := Field(strings.ToLower(strings.TrimSpace(parts[0])))
	if f == "" {
		*c = Column{Index: c.Index, Heading: c.Heading, Sample: c.Sample, Confidence: 1, Reason: "left out as told"}
		m.prune()
		return nil
	}
	s := specOf(m.Kind, f)
	if s == nil {
		return fault.New(fault.Invalid, "%q is not a field of %s.", clip(string(f)), m.Kind).WithHint("Fields are %s.", fieldNames(m.Kind))
	}
	var unit Unit
	if len(parts) > 1 && strings.TrimSpace(parts[1]) != "" {
		if unit, err = m.parseUnit(s, parts[1]); err != nil {
			return err
		}
	}
	var kind athlete.CardioKind
	if len(parts) > 2 {
		k, ok := cardioKindOf(parts[2])
		if f != FieldCardio || !ok || k == "" {
			return fault.New(fault.Invalid, "%q is not a kind of cardio.", clip(parts[2])).WithHint("%s", cardioHint())
		}
		kind = k
	}
	m.assign(c, s, unit, kind)
	m.prune()
	return nil
}

func (m *Mapping) assign(c *Column, s *spec, unit Unit, kind athlete.CardioKind) {
	if !s.many {
		for _, other := range m.fields(s.field) {
			if other != c {
				other.Field, other.Unit, other.Reason = "", "", "another column was named for "+string(s.field)
			}
		}
	}
	was := *c
	c.Field, c.Unit, c.CardioKind, c.Confidence, c.Reason = s.field, unit, kind, 1, "as told"
	if was.Field == s.field && kind == "" {
		c.CardioKind = was.CardioKind
	}
	if s.many && was.Field != s.field {
		for slices.ContainsFunc(m.fields(s.field), func(o *Column) bool { return o != c && o.Group == c.Group }) {
			c.Group++
		}
	}
	if unit == "" && was.Field == s.field {
		c.Unit = was.Unit
	}
	switch {
	case c.Unit == "" && len(s.spans) == 1:
		c.Unit = s.unit()
	case c.Unit == "" && len(s.spans) > 1:
		m.ask(unitQuestion(s, c.Heading, "", c.Sample))
	default:
		m.settle(unitID(s.field))
	}
	if s.field == FieldDate && was.Field != FieldDate {
		m.settle(askDateColumn)
		if m.DateOrder == "" {
			m.ask(orderQuestion("", c.Sample))
		}
	}
}

// column finds a column by its heading, in any case, or by "Column B".
func (m *Mapping) column(name string) (*Column, error) {
	name = strings.TrimSpace(name)
	for _, same := range []func(a, b string) bool{
		func(a, b string) bool { return a == b },
		func(a, b string) bool { return foldHeading(a) == foldHeading(b) },
	} {
		for i := range m.Columns {
			if same(m.Columns[i].Heading, name) {
				return &m.Columns[i], nil
			}
		}
	}
	for i := range m.Columns {
		if strings.EqualFold(name, "column "+columnLetters(i)) {
			return &m.Columns[i], nil
		}
	}
	headings := make([]string, 0, len(m.Columns))
	for _, c := range m.Columns {
		headings = append(headings, c.Heading)
	}
	return nil, fault.New(fault.NotFound, "the table has no column %q.", clip(name)).
		WithHint("It has %s.", quoted(headings[:min(len(headings), 40)]))
}

func (m *Mapping) parseUnit(s *spec, text string) (Unit, error) {
	text = strings.TrimSpace(text)
	for _, u := range []Unit{unitWords[foldHeading(strings.ToLower(text))], Unit(text)} {
		if u != "" && s.accepts(u) {
			return u, nil
		}
	}
	names := make([]string, 0, len(s.spans))
	for _, p := range s.spans {
		names = append(names, string(p.unit))
	}
	e := fault.New(fault.Invalid, "%s cannot be in %q.", s.field, clip(text))
	if len(names) > 0 {
		e = e.WithHint("It can be in %s.", strings.Join(names, ", "))
	}
	return "", e
}

// Line is a row of the table in which a person checks a mapping.
type Line struct {
	Column  string `json:"column"`
	Field   string `json:"field"` // "" where the column is left out
	Unit    string `json:"unit"`
	Example string `json:"example"` // the first value as written, and as read
	Sure    string `json:"sure"`    // told, sure, likely, please check; "" for a column left out
	Reason  string `json:"reason"`
}

// DescribeMapping gives a line for each column, for people to check.
func DescribeMapping(m Mapping) []Line {
	lines := make([]Line, 0, len(m.Columns))
	for i := range m.Columns {
		c := &m.Columns[i]
		l := Line{Column: c.Heading, Field: string(c.Field), Unit: string(c.Unit), Reason: c.Reason, Example: clip(c.Sample)}
		if c.CardioKind != "" {
			l.Field += " (" + string(c.CardioKind) + ")"
		}
		if c.Field != "" {
			l.Sure = sure(c.Confidence)
			if read := m.sampleAsRead(c); read != "" && read != c.Sample {
				l.Example += " = " + read
			}
		}
		lines = append(lines, l)
	}
	return lines
}

func sure(confidence float64) string {
	switch {
	case confidence >= 1:
		return "told"
	case confidence >= 0.9:
		return "sure"
	case confidence >= 0.75:
		return "likely"
	}
	return "please check"
}

// sampleAsRead reads a column's sample with the mapping as it stands.
func (m *Mapping) sampleAsRead(c *Column) string {
	s := specOf(m.Kind, c.Field)
	switch {
	case s == nil || c.Sample == "":
		return ""
	case s.form == date:
		d := dates{order: m.DateOrder, year: m.Year, swapped: m.SwapDateCells}
		if on, bad := d.resolve(c.Sample); bad == nil {
			return on.String()
		}
	case s.form == number || s.form == cardio:
		if c.Unit == "" && len(s.spans) > 1 {
			return ""
		}
		if v, bad := quantity(c.Sample, c.Unit, s.unit(), m.decimalMark(), s.accepts); bad == nil {
			read := strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
			switch u := s.unit(); u {
			case Count:
				return read
			case OneToTen:
				return read + " of 10"
			default:
				return read + " " + string(u)
			}
		}
	}
	return ""
}
