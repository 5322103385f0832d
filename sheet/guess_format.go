package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// decimal finds how numbers are written. A number such as 82,5 shows its mark;
// 2,350 does not, unless only one reading of it makes sense in its column.
func (g *guesser) decimal() {
	var sure, weak struct{ point, comma int }
	unclear, example := 0, "" // example is the number that is hardest to tell
	for i := range g.m.Columns {
		s := g.spec(&g.m.Columns[i])
		if s == nil || !s.numeric() {
			continue
		}
		for cell := range g.cells(i) {
			if strings.IndexByte(cell, '.') < 0 && strings.IndexByte(cell, ',') < 0 {
				continue
			}
			if _, plain := plainNumber(cell); plain && g.t.workbook {
				continue // a number cell, not a text
			}
			n, ok := scanNumber(cell, '.')
			switch {
			case !ok:
			case n.decimal == '.' || n.groups == ',':
				sure.point++
			case n.decimal == ',' || n.groups == '.':
				sure.comma++
			case n.unclear != 0:
				switch likelyMark(s, g.m.Columns[i].Unit, cell, n.unclear) {
				case '.':
					weak.point++
				case ',':
					weak.comma++
				default:
					unclear, example = unclear+1, cell
				}
				if example == "" {
					example = cell
				}
			}
		}
	}
	// Numbers that show their mark are read as they stand; the mark matters for
	// the others, and is asked where the signs do not all point one way.
	others := weak.point + weak.comma + unclear
	point, comma := sure.point+weak.point > 0, sure.comma+weak.comma > 0
	switch {
	case others > 0 && point == comma:
		q := Question{
			ID: askDecimal, Text: fmt.Sprintf("Which mark is the decimal one, for numbers such as %s?", clip(example)),
			Choices: []Choice{{"point", "the point: 82.5"}, {"comma", "the comma: 82,5"}},
		}
		if g.t.Separator == ';' {
			q.Likely = "comma"
		}
		g.m.ask(q)
	case comma && !point:
		g.m.Decimal = "comma"
	case point && !comma:
		g.m.Decimal = "point"
	}
}

// likelyMark reads a number such as 2,350 both ways and gives the decimal mark of
// the only one that makes sense in the column, or 0. Thousands are a unit only
// where the heading says so: 10.234 steps are 10,234 either way.
func likelyMark(s *spec, unit Unit, cell string, mark byte) byte {
	other := '.' + ',' - mark
	asDecimal, _, bad1 := leadingNumber(cell, mark)
	asGroups, _, bad2 := leadingNumber(cell, other)
	if bad1 != nil || bad2 != nil {
		return 0
	}
	within := func(v float64) bool {
		return slices.ContainsFunc(s.spans, func(p span) bool {
			return v >= p.low && v <= p.high && (p.unit == unit || unit == "" && p.unit != Thousand)
		})
	}
	switch {
	case within(asDecimal) && !within(asGroups):
		return mark
	case within(asGroups) && !within(asDecimal):
		return other
	}
	return 0
}

// dates finds the order of day, month and year.
func (g *guesser) dates() {
	columns := g.m.fields(FieldDate)
	if len(columns) == 0 {
		return
	}
	c := columns[0]
	e := g.dateEvidence(c.Index)
	stated := g.heads[c.Index].order
	if w := takeDate(c.Sample); w.form == serialDate { // show it as the spreadsheet does
		c.Sample = (&dates{date1904: g.t.date1904}).fromSerial(w.serial).String()
	}
	if e.pairs > 0 && e.full == 0 {
		g.askYear(c)
	}
	g.swappedCells(c, &e)
	if e.triples+e.pairs == 0 {
		return
	}
	possible := e.possible()
	if g.m.DateOrder != "" && len(possible) == 1 && possible[0] != g.m.DateOrder {
		g.m.Notes = append(g.m.Notes, "the dates are in another order than the last time")
	}
	switch {
	case slices.Contains(possible, g.m.DateOrder): // kept from another file
	case stated != "":
		g.m.DateOrder = stated
		c.Reason = "the heading states the order of the date"
	case len(possible) == 1:
		g.m.DateOrder = possible[0]
		c.Reason += "; the order of the dates shows in days above 12"
	case len(possible) == 0:
		best := DayMonthYear
		if e.wrong[MonthDayYear] < e.wrong[DayMonthYear] {
			best = MonthDayYear
		}
		g.m.ask(orderQuestion(best, c.Sample, DayMonthYear, MonthDayYear))
		g.m.Notes = append(g.m.Notes, fmt.Sprintf("the dates in column %q are not all in one order", c.Heading))
	default:
		g.m.ask(orderQuestion(g.likelyOrder(c.Index, possible), e.example, possible...))
	}
}

type dateEvidence struct {
	triples, pairs, full, serials int // full: dates that need no order
	wrong                         map[string]int
	years                         map[string]map[int]bool // values in the place of the year, by order
	short                         bool
	example                       string
	exampleSame                   bool // the example reads alike either way
	daysAbove12                   int  // dates in words or numbers whose day is above 12
	serialDayAbove12              int
}

func (g *guesser) dateEvidence(column int) dateEvidence {
	e := dateEvidence{wrong: map[string]int{}, years: map[string]map[int]bool{DayMonthYear: {}, YearMonthDay: {}}}
	sys := dates{date1904: g.t.date1904}
	for cell := range g.cells(column) {
		w := takeDate(cell)
		switch w.form {
		case fixedDate, namedDate:
			e.full++
		case serialDate:
			e.serials++
			e.full++
			if sys.fromSerial(w.serial).Time().Day() > 12 {
				e.serialDayAbove12++
			}
		case triple, pair:
			if w.form == pair {
				e.pairs++
			} else {
				e.triples++
			}
			if e.example == "" || e.exampleSame && w.a != w.b {
				e.example, e.exampleSame = cleanText(cell, 40), w.a == w.b
			}
			if w.a > 12 || w.b > 12 {
				e.daysAbove12++
			}
			if w.a < 1 || w.a > 31 || w.b < 1 || w.b > 12 {
				e.wrong[DayMonthYear]++
			}
			if w.b < 1 || w.b > 31 || w.a < 1 || w.a > 12 {
				e.wrong[MonthDayYear]++
			}
			if w.form == pair || !w.short || w.b < 1 || w.b > 12 || w.c < 1 || w.c > 31 {
				e.wrong[YearMonthDay]++
			}
			if w.short {
				e.short = true
			}
			e.years[DayMonthYear][w.c] = true
			e.years[YearMonthDay][w.a] = true
		}
	}
	return e
}

// possible lists the orders in which every date is a date. Where years have two
// digits, the place that takes more values is the day.
func (e *dateEvidence) possible() []string {
	var out []string
	last, first := len(e.years[DayMonthYear]), len(e.years[YearMonthDay])
	for _, o := range []string{DayMonthYear, MonthDayYear, YearMonthDay} {
		if e.wrong[o] > 0 || e.short && (o == YearMonthDay && first > last || o != YearMonthDay && last > first) {
			continue
		}
		out = append(out, o)
	}
	return out
}

// likelyOrder is the order under which the rows come day after day, "" where
// none does so more than another.
func (g *guesser) likelyOrder(column int, possible []string) string {
	best, bestSteps, tie := "", 0, false
	for _, o := range possible {
		d := dates{order: o, year: 2025}
		steps := 0
		for cell := range g.cells(column) {
			before := d.last
			if on, bad := d.resolve(cell); bad == nil && apart(on, before) == 1 {
				steps++
			}
		}
		switch {
		case steps > bestSteps:
			best, bestSteps, tie = o, steps, false
		case steps == bestSteps:
			tie = true
		}
	}
	if tie {
		return ""
	}
	return best
}

func (g *guesser) askYear(c *Column) {
	q := Question{ID: askYear, Text: fmt.Sprintf("The dates in column %q have no year. In which year is the first, %s?", clip(c.Heading), clip(c.Sample))}
	if !g.hint.On.IsZero() {
		this := g.hint.On.Time().Year()
		for _, y := range []int{this, this - 1} {
			q.Choices = append(q.Choices, Choice{strconv.Itoa(y), strconv.Itoa(y)})
		}
	}
	g.m.ask(q)
}

// swappedCells looks for dates spoilt by a spreadsheet: text such as 13/02/2025
// was left alone, while 04/02/2025 became a date cell with day and month the
// wrong way round. It shows in a column with both, where no date cell has a day
// above 12 and every text has.
func (g *guesser) swappedCells(c *Column, e *dateEvidence) {
	texts := e.triples
	if !g.t.workbook || e.serials < 2 || texts < 2 || e.serialDayAbove12 > 0 || e.daysAbove12 < texts {
		return
	}
	g.m.ask(Question{
		ID: askSwapped, Likely: "swap",
		Text: fmt.Sprintf("Column %q mixes date cells, none with a day above 12, and texts such as %s, all with one. "+
			"It looks as if the spreadsheet swapped day and month in the date cells. Swap them back?", clip(c.Heading), clip(e.example)),
		Choices: []Choice{{"swap", "exchange day and month in the date cells"}, {"keep", "take the date cells as they are"}},
	})
}
