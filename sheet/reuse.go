package sheet

import "glidepath/fault"

// Reuse fits a kept mapping to another table with the same headings. What belongs
// to one file is looked at anew: the year of dates without one, date cells that a
// spreadsheet spoilt, a unit that no value needed before. What the new values
// speak against is asked: a date order that does not fit, a unit that does not
// fit the athlete's known weight. The error is a fault where the headings differ.
func Reuse(t *Table, kept Mapping, hint Hint) (Mapping, error) {
	if !kept.Fits(t) || len(kept.Columns) != len(t.Headings) {
		e := fault.New(fault.Invalid, "the mapping was made for other headings.").WithHint("Let the columns be guessed anew.")
		e.File = t.Name
		return Mapping{}, e
	}
	g := guesser{t: t, hint: hint, m: kept}
	g.m.Sheet, g.m.Columns = t.Sheet, make([]Column, len(kept.Columns))
	g.m.Year, g.m.SwapDateCells, g.m.Questions, g.m.Notes = 0, false, nil, nil
	for i, c := range kept.Columns {
		c.Sample = g.sample(i)
		if c.Field != "" {
			c.Confidence, c.Reason = 0.95, "as the last time"
		}
		g.m.Columns[i] = c
		g.heads = append(g.heads, parseHeading(t.Headings[i]))
	}
	g.decimal()
	if g.m.asks(askDecimal) {
		g.m.settle(askDecimal)
		g.m.Decimal = kept.Decimal
	}
	g.dates()
	g.sites()
	g.units()
	g.cardio()
	return g.m, nil
}
