package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"glidepath/athlete"
	"glidepath/fault"
)

// Answer settles a question, as a person or a flag such as date-order=dmy gives
// it. An answer may come before its question is asked. The kind of table cannot
// be answered here: pass it to Guess. An answer can raise another question, so
// go on until there are none.
func (m *Mapping) Answer(id, choice string) error {
	id, choice = strings.ToLower(strings.TrimSpace(id)), strings.TrimSpace(choice)
	if err := m.apply(id, choice); err != nil {
		return err
	}
	m.settle(id)
	m.prune()
	return nil
}

// prune drops questions about fields that no column gives any more.
func (m *Mapping) prune() {
	m.Questions = slices.DeleteFunc(m.Questions, func(q Question) bool {
		switch {
		case q.ID == askCardioKind:
			return !m.has(FieldCardio)
		case q.ID == askDateOrder, q.ID == askYear, q.ID == askSwapped:
			return !m.has(FieldDate)
		case strings.HasPrefix(q.ID, sitePrefix):
			return !m.has(Field(unclearSite + strings.TrimPrefix(q.ID, sitePrefix)))
		case strings.HasSuffix(q.ID, unitSuffix):
			return !slices.ContainsFunc(m.Columns, func(c Column) bool { return unitID(c.Field) == q.ID })
		}
		return false
	})
}

func (m *Mapping) apply(id, choice string) error {
	low := strings.ToLower(choice)
	switch {
	case id == askDateOrder:
		return oneOf(&m.DateOrder, id, low, DayMonthYear, MonthDayYear, YearMonthDay)
	case id == askDecimal:
		return oneOf(&m.Decimal, id, low, "point", "comma")
	case id == askYear:
		y, err := strconv.Atoi(choice)
		if err != nil || y < 1950 || y > 2119 {
			return badAnswer(id, choice, "Write a year such as 2025.")
		}
		m.Year = y
		return nil
	case id == askSwapped:
		var word string
		if err := oneOf(&word, id, low, "swap", "keep"); err != nil {
			return err
		}
		m.SwapDateCells = word == "swap"
		return nil
	case id == askMethod:
		method, ok := methodOf(choice)
		if !ok {
			return badAnswer(id, choice, fmt.Sprintf("Known are %v.", athlete.Methods()))
		}
		m.Method = method
		return nil
	case id == askDateColumn:
		c, err := m.column(choice)
		if err != nil {
			return err
		}
		m.assign(c, specOf(m.Kind, FieldDate), "", "")
		return nil
	case id == askCardioKind:
		return m.answerCardioKind(choice)
	case strings.HasPrefix(id, sitePrefix):
		return m.answerSite(id, low)
	case strings.HasSuffix(id, unitSuffix):
		return m.answerUnit(id, choice)
	}
	open := make([]string, 0, len(m.Questions))
	for _, q := range m.Questions {
		open = append(open, q.ID)
	}
	return fault.New(fault.NotFound, "there is no question %q.", clip(id)).WithHint("Open are: %s.", strings.Join(open, ", "))
}

func oneOf(dst *string, id, choice string, choices ...string) error {
	if !slices.Contains(choices, choice) {
		return badAnswer(id, choice, "Choose "+strings.Join(choices, ", ")+".")
	}
	*dst = choice
	return nil
}

func badAnswer(id, choice, hint string) error {
	return fault.New(fault.Invalid, "%q is no answer to %s.", clip(choice), id).WithHint("%s", hint)
}

func (m *Mapping) answerUnit(id, choice string) error {
	found := false
	for i := range m.Columns {
		c := &m.Columns[i]
		s := specOf(m.Kind, c.Field)
		if s == nil || unitID(c.Field) != id {
			continue
		}
		u, err := m.parseUnit(s, choice)
		if err != nil {
			return err
		}
		c.Unit, c.Confidence, found = u, 1, true
		c.Reason = "the unit as told"
	}
	if !found {
		return fault.New(fault.NotFound, "no column is read as %s.", clip(strings.TrimSuffix(id, unitSuffix)))
	}
	return nil
}

func (m *Mapping) answerCardioKind(choice string) error {
	kind, ok := cardioKindOf(choice)
	if !ok || kind == "" {
		return badAnswer(askCardioKind, choice, cardioHint())
	}
	for _, c := range m.fields(FieldCardio) {
		if c.CardioKind == "" {
			c.CardioKind = kind
		}
	}
	return nil
}

// answerSite makes an unclear place a skinfold or a girth.
func (m *Mapping) answerSite(id, choice string) error {
	for i := range m.Columns {
		c := &m.Columns[i]
		word, unclear := strings.CutPrefix(string(c.Field), unclearSite)
		if !unclear || sitePrefix+word != id {
			continue
		}
		site := siteWords[word]
		fold, girth := Field(foldPrefix+site[0]), Field(girthPrefix+site[1])
		switch choice {
		case "fold":
			m.assign(c, specOf(m.Kind, fold), Mm, "")
		case "girth-cm":
			m.assign(c, specOf(m.Kind, girth), Cm, "")
		case "girth-in":
			m.assign(c, specOf(m.Kind, girth), Inch, "")
		default:
			return badAnswer(id, choice, "Choose fold, girth-cm or girth-in.")
		}
		return nil
	}
	return fault.New(fault.NotFound, "there is no question %q.", clip(id))
}

// unitID is the question about a field's unit.
func unitID(f Field) string {
	if strings.HasPrefix(string(f), girthPrefix) {
		return "girth" + unitSuffix
	}
	return strings.ReplaceAll(string(f), "_", "-") + unitSuffix
}

var unitTexts = map[Unit]string{
	Kg: "kilograms", Pound: "pounds", Stone: "stone", Kcal: "kilocalories", KJ: "kilojoules", Gram: "grams", Milligram: "milligrams",
	SaltGram: "grams of salt", Second: "seconds", Minute: "minutes", Hour: "hours", DayFraction: "parts of a day, as a spreadsheet stores times",
	KmPerHour: "kilometres an hour", MilePerHour: "miles an hour", Cm: "centimetres", Inch: "inches", Mm: "millimetres", Percent: "per cent",
	Fraction: "fractions of 1", Count: "single ones", Thousand: "thousands", OneToTen: "a scale of 1 to 10", OneToFive: "a scale of 1 to 5",
}

func unitQuestion(s *spec, heading string, likely Unit, sample string) Question {
	q := Question{
		ID: unitID(s.field), Likely: string(likely),
		Text: fmt.Sprintf("In which unit is column %q", clip(heading)),
	}
	if sample != "" {
		q.Text += fmt.Sprintf(" (for example %s)", clip(sample))
	}
	q.Text += "?"
	for _, p := range s.spans {
		q.Choices = append(q.Choices, Choice{string(p.unit), unitTexts[p.unit]})
	}
	return q
}

func orderQuestion(likely, sample string, possible ...string) Question {
	q := Question{ID: askDateOrder, Likely: likely, Text: "In which order are the dates written"}
	if sample != "" {
		q.Text += fmt.Sprintf(", as in %s", clip(sample))
	}
	q.Text += "?"
	if len(possible) == 0 {
		possible = []string{DayMonthYear, MonthDayYear, YearMonthDay}
	}
	texts := map[string]string{DayMonthYear: "day, month, year", MonthDayYear: "month, day, year", YearMonthDay: "year, month, day"}
	for _, o := range possible {
		c := Choice{o, texts[o]}
		d := dates{order: o, year: 2025}
		if on, bad := d.resolve(sample); bad == nil {
			layout := "2 January 2006"
			if takeDate(sample).form == pair {
				layout = "2 January"
			}
			c.Text += ": " + sample + " is " + on.Format(layout)
		}
		q.Choices = append(q.Choices, c)
	}
	return q
}
