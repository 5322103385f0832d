package sheet

import (
	"fmt"
	"slices"
	"strings"

	"glidepath/athlete"
)

// Shares of a column's plausible values that must lie in a unit's range, and at
// most in any other's, for the unit to be told by magnitude; and the share of all
// its values that must be plausible in some unit.
const (
	mostValues = 0.9
	fewValues  = 0.1
	halfOfThem = 0.5
)

// units finds each column's unit: as stated, by magnitude where only one can be
// meant, or else by a question.
func (g *guesser) units() {
	for i := range g.m.Columns {
		c := &g.m.Columns[i]
		s := g.spec(c)
		if s == nil || len(s.spans) == 0 {
			continue
		}
		if len(s.spans) == 1 {
			c.Unit = s.unit()
			continue
		}
		if s.unit() == OneToTen { // or 1 to 5
			g.scale(c, s)
			continue
		}
		g.unit(c, s)
	}
}

func (g *guesser) unit(c *Column, s *spec) {
	values, own := g.bareValues(c.Index, s, g.m.decimalMark())
	spans := g.spans(s)
	told, likely := pickUnit(values, spans)
	if told != "" && g.m.asks(askDecimal) { // the answer must not make the unit wrong
		byComma, _ := g.bareValues(c.Index, s, ',')
		if other, _ := pickUnit(byComma, spans); other != told {
			told, likely = "", ""
		}
	}
	reason := "by the size of the values"
	// Only what the athlete is known to weigh, or the macros, outweighs a heading.
	firm := s.field == FieldWeight && g.hint.WeightKg > 0
	if s.field == FieldEnergy && g.m.Kind == Days {
		if u := g.unitByMacros(); u != "" {
			told, firm, reason = u, true, "energy agrees with protein, carbohydrate and fat"
		} else if len(values) > 0 && slices.Max(values) <= 10 && c.Confidence < 1 {
			g.drop(c, "values up to 10 are no energy of food")
			return
		}
	}
	switch {
	case firm && c.Unit != "" && told != "" && told != c.Unit && c.Confidence < 1:
		q := unitQuestion(s, c.Heading, told, c.Sample)
		q.Text += fmt.Sprintf(" It says %s, but the values look like %s.", c.Unit, told)
		g.m.ask(q)
	case c.Unit != "":
	case told != "":
		c.Unit = told
		c.Confidence = min(c.Confidence, 0.9)
		c.Reason += "; the unit " + reason
	case len(values) == 0 && own > 0: // every value has its own unit
	case len(values) == 0: // nothing to convert yet; a bare number will be refused
	default:
		g.m.ask(unitQuestion(s, c.Heading, g.preferred(s, likely), c.Sample))
	}
}

// bareValues collects the column's numbers that have no unit of their own, zeros
// left out, and counts those that have.
func (g *guesser) bareValues(column int, s *spec, mark byte) (values []float64, own int) {
	if s.form == cardio {
		return g.bareMinutes(column, mark)
	}
	for cell := range g.cells(column) {
		v, plain := plainNumber(cell)
		if !plain || !g.t.workbook && strings.IndexByte(cell, '.') >= 0 {
			var rest string
			var bad *cellError
			v, rest, bad = leadingNumber(cell, mark)
			if bad != nil {
				continue
			}
			word, _ := leadingWord(rest)
			if unitWords[strings.ToLower(word)] != "" || strings.HasPrefix(rest, ":") {
				own++
				continue
			}
		}
		if v != 0 {
			values = append(values, v)
		}
	}
	return values, own
}

// bareMinutes does the same for cells such as "bike 20 + walk 30 min".
func (g *guesser) bareMinutes(column int, mark byte) (values []float64, own int) {
	for cell := range g.cells(column) {
		if noCardio(cell) {
			continue
		}
		for _, part := range splitBouts(cell) {
			amount, _ := cutAmount(part)
			if v, bad := readNumber(amount, mark); bad == nil && v != 0 {
				values = append(values, v)
			} else if amount != "" {
				own++
			}
		}
	}
	return values, own
}

// spans are the plausible ranges of a field's units, narrowed for body weight
// where the athlete's weight is known. Salt is only salt where the heading says so.
func (g *guesser) spans(s *spec) []span {
	w := g.hint.WeightKg
	if s.field == FieldSodium {
		return s.spans[:2]
	}
	if s.field != FieldWeight || g.m.Kind == Training || w <= 0 {
		return s.spans
	}
	out := make([]span, 0, len(s.spans))
	for _, p := range s.spans {
		kg := toDomain[p.unit].scale
		out = append(out, span{p.unit, 0.75 * w / kg, 1.33 * w / kg})
	}
	return out
}

// pickUnit tells the unit by magnitude, "" where it cannot be told; likely is the
// one that most values fit, "" where several fit alike.
func pickUnit(values []float64, spans []span) (told, likely Unit) {
	plausible := 0
	within := make([]int, len(spans))
	for _, v := range values {
		any := false
		for i, p := range spans {
			if v >= p.low && v <= p.high {
				within[i]++
				any = true
			}
		}
		if any {
			plausible++
		}
	}
	if plausible == 0 {
		return "", ""
	}
	best, bestShare, second := span{}, 0.0, 0.0
	for i, p := range spans {
		if x := float64(within[i]) / float64(plausible); x > bestShare {
			best, bestShare, second = p, x, bestShare
		} else {
			second = max(second, x)
		}
	}
	if bestShare >= mostValues && second <= fewValues && float64(plausible) >= halfOfThem*float64(len(values)) {
		told = best.unit
	}
	if bestShare > second {
		likely = best.unit
	}
	return told, likely
}

// preferred is the choice to offer first.
func (g *guesser) preferred(s *spec, likely Unit) Unit {
	if likely != "" {
		return likely
	}
	imperial := []Unit{Pound, Inch, MilePerHour}
	for _, p := range s.spans {
		if g.hint.Units == athlete.Imperial && slices.Contains(imperial, p.unit) {
			return p.unit
		}
	}
	if g.hint.Units == athlete.Metric {
		return s.unit()
	}
	return ""
}

// unitByMacros compares energy with 4, 4 and 9 kcal/g of protein, carbohydrate
// and fat (Atwater's general factors; Merrill & Watt 1973, USDA Handbook 74).
// Alcohol and rounding stay well within the factor of 4.184 between the units.
func (g *guesser) unitByMacros() Unit {
	var columns [4]*Column
	for i, f := range []Field{FieldEnergy, FieldProtein, FieldCarbohydrate, FieldFat} {
		found := g.m.fields(f)
		if len(found) == 0 {
			return ""
		}
		columns[i] = found[0]
	}
	var ratios []float64
	mark := g.m.decimalMark()
	for _, r := range g.t.Rows {
		var v [4]float64
		whole := true
		for i, c := range columns {
			if c.Index >= len(r.Cells) || blank(r.Cells[c.Index]) {
				whole = false
				break
			}
			x, bad := readNumber(r.Cells[c.Index], mark)
			if bad != nil || x <= 0 {
				whole = false
				break
			}
			v[i] = x
		}
		if whole {
			ratios = append(ratios, v[0]/(4*v[1]+4*v[2]+9*v[3]))
		}
		if len(ratios) == 1000 {
			break
		}
	}
	if len(ratios) < 3 {
		return ""
	}
	slices.Sort(ratios)
	switch m := ratios[len(ratios)/2]; {
	case m > 0.7 && m < 1.5:
		return Kcal
	case m > 0.7*kjPerKcal && m < 1.5*kjPerKcal:
		return KJ
	}
	return ""
}

// scale tells a scale of 1 to 10 from one of 1 to 5. Many values that stop at
// exactly 5 may be either, and are asked about.
func (g *guesser) scale(c *Column, s *spec) {
	if c.Unit != "" {
		return
	}
	values, _ := g.bareValues(c.Index, s, g.m.decimalMark())
	c.Unit = OneToTen
	if len(values) >= 10 && slices.Max(values) == 5 {
		c.Unit = ""
		g.m.ask(unitQuestion(s, c.Heading, "", c.Sample))
	}
}

// cardio gives cardio columns their kinds, and speeds their cardio column.
func (g *guesser) cardio() {
	if g.m.Kind != Days {
		return
	}
	kinds := g.m.fields(FieldCardioKind)
	for _, k := range kinds { // "30 min bike" in a column of kinds
		if !slices.ContainsFunc(g.m.fields(FieldCardio), func(c *Column) bool { return c.Group == k.Group && c.CardioKind == "" }) {
			k.Field, k.Unit = FieldCardio, Minute
		}
	}
	columns := g.m.fields(FieldCardio)
	kinds = g.m.fields(FieldCardioKind)
	for _, c := range columns {
		if c.CardioKind != "" || slices.ContainsFunc(kinds, func(k *Column) bool { return k.Group == c.Group }) {
			continue
		}
		if g.needsKind(c) {
			q := Question{ID: askCardioKind, Text: fmt.Sprintf("Which kind of cardio is column %q, where it does not say?", clip(c.Heading))}
			for _, k := range athlete.CardioKinds() {
				q.Choices = append(q.Choices, Choice{string(k), string(k)})
			}
			g.m.ask(q)
		}
	}
	for _, f := range boutDetails {
		for _, c := range g.m.fields(f) {
			switch {
			case slices.ContainsFunc(columns, func(k *Column) bool { return k.Group == c.Group }):
			case len(columns) == 1:
				c.Group = columns[0].Group
			default:
				g.m.settle(unitID(f))
				g.drop(c, "it does not say which cardio column it belongs to")
			}
		}
	}
}

// needsKind reports whether some cell of the column has minutes and no kind.
func (g *guesser) needsKind(c *Column) bool {
	for cell := range g.cells(c.Index) {
		if noCardio(cell) {
			continue
		}
		for _, part := range splitBouts(cell) {
			_, name := cutAmount(part)
			if k, ok := cardioKindOf(name); name == "" || ok && k == "" {
				return true
			}
		}
	}
	return false
}

// Sites that only calipers measure, and only a tape.
var (
	foldOnly  = []string{"axilla", "triceps", "subscapular", "suprailium"}
	girthOnly = []string{"neck", "waist", "hip", "arm", "calf"}
)

// sites makes columns such as "Thigh" skinfolds or girths. The other columns may
// tell, where the values do not speak against it; or else it is asked.
func (g *guesser) sites() {
	folds, girths := 0, 0
	for _, s := range foldOnly {
		folds += len(g.m.fields(Field(foldPrefix + s)))
	}
	for _, s := range girthOnly {
		girths += len(g.m.fields(Field(girthPrefix + s)))
	}
	for i := range g.m.Columns {
		c := &g.m.Columns[i]
		word, unclear := strings.CutPrefix(string(c.Field), unclearSite)
		if !unclear {
			continue
		}
		fold, girth := Field(foldPrefix+siteWords[word][0]), Field(girthPrefix+siteWords[word][1])
		values, _ := g.bareValues(c.Index, specOf(Measurements, girth), g.m.decimalMark())
		cm := girthSpans[siteWords[word][1]]
		const largestFold = 50 // mm; judgement
		asGirth := len(values) > 0 && slices.Min(values) >= max(cm.low, largestFold)
		asFold := len(values) > 0 && slices.Max(values) < min(cm.low, largestFold)
		switch {
		case g.m.has(fold) && g.m.has(girth):
			g.drop(c, "skinfold and girth have columns of their own")
		case asFold && girths == 0 && folds >= 2, asFold && g.m.has(girth):
			c.Field, c.Unit, c.Confidence, c.Reason = fold, Mm, 0.85, "the other columns are skinfolds and the values are too small for a girth"
		case asGirth && girths >= 1, asGirth && g.m.has(fold):
			c.Field, c.Unit, c.Confidence, c.Reason = girth, Cm, 0.85, "the other columns are girths and the values are too large for a skinfold"
		case len(values) == 0:
			g.drop(c, "it may be a skinfold or a girth, and has no values")
		default:
			g.m.ask(Question{
				ID: sitePrefix + word, Text: fmt.Sprintf("Is column %q (for example %s) a skinfold or a girth?", clip(c.Heading), clip(c.Sample)),
				Choices: []Choice{{"fold", "a skinfold in millimetres"}, {"girth-cm", "a girth in centimetres"}, {"girth-in", "a girth in inches"}},
			})
		}
	}
}

// method takes the method of measurements from their columns where no column
// names it.
func (g *guesser) method() {
	if g.m.Kind != Measurements || g.m.has(FieldMethod) {
		return
	}
	folds, girths := map[string]bool{}, 0
	for _, c := range g.m.Columns {
		if site, ok := strings.CutPrefix(string(c.Field), foldPrefix); ok {
			folds[site] = true
		}
		if strings.HasPrefix(string(c.Field), girthPrefix) {
			girths++
		}
	}
	switch {
	case len(folds) == 7 && !folds["biceps"]:
		g.m.Method = athlete.Calipers7
	case len(folds) == 4 && folds["biceps"] && folds["triceps"] && folds["subscapular"] && folds["suprailium"]:
		g.m.Method = athlete.Calipers4
	case len(folds) == 3:
		g.m.Method = athlete.Calipers3
	case len(folds) == 0 && girths > 0 && !g.m.has(FieldBodyFat):
		g.m.Method = athlete.Tape
	default:
		q := Question{ID: askMethod, Text: "How was body composition measured?"}
		for _, m := range athlete.Methods() {
			q.Choices = append(q.Choices, Choice{string(m), string(m)})
		}
		g.m.ask(q)
		return
	}
	g.m.Notes = append(g.m.Notes, fmt.Sprintf("the method is taken as %s, by the columns", g.m.Method))
}
