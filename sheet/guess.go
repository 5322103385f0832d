package sheet

import (
	"fmt"
	"slices"
	"strings"

	"glidepath/athlete"
	"glidepath/civil"
)

// Hint is what the caller knows besides the file. The zero value knows nothing.
type Hint struct {
	WeightKg float64       // the athlete's weight about then; tells kg from lb
	Units    athlete.Units // what they write in; only ever offers a choice first
	On       civil.Date    // the day of the import; offers years
	Columns  []string      // as for Mapping.Set, applied before units are guessed
}

// Guess finds the mapping of a table. With an empty kind it takes the kind that
// the headings name most fields of; where two do alike, the mapping has only the
// question "kind", and is to be guessed again with one. Errors are those of
// Hint.Columns.
func Guess(t *Table, k Kind, hint Hint) (Mapping, error) {
	if k == "" {
		var q *Question
		if k, q = guessKind(t); q != nil {
			return Mapping{Sheet: t.Sheet, Questions: []Question{*q}}, nil
		}
	}
	g := guesser{t: t, hint: hint, m: Mapping{Kind: k, Sheet: t.Sheet, Decimal: "point"}}
	g.headings()
	for _, set := range hint.Columns {
		if err := g.m.Set(set); err != nil {
			return Mapping{}, err
		}
	}
	g.m.Questions = nil // those that Set raised are looked into below
	g.letters()
	g.contents()
	g.dateColumn()
	g.groups()
	g.duplicates()
	g.decimal()
	g.dates()
	g.sites()
	g.units()
	g.cardio()
	g.method()
	return g.m, nil
}

// guessKind counts the fields that the headings name in each kind.
func guessKind(t *Table) (Kind, *Question) {
	score := map[Kind]int{}
	for _, k := range Kinds() {
		seen := fieldsNamed(k, t.Headings)
		score[k] = len(seen)
		if k == Training && seen[FieldExercise] && seen[FieldReps] {
			score[k] += 2 // nothing else has these
		}
	}
	order := Kinds()
	slices.SortStableFunc(order, func(a, b Kind) int { return score[b] - score[a] })
	if score[order[0]] > score[order[1]] {
		return order[0], nil
	}
	return "", &Question{ID: askKind, Text: "What are the rows of the table?", Choices: []Choice{
		{string(Days), "days: weight, food, steps"},
		{string(Training), "training: sets or sessions"},
		{string(Measurements), "measurements: body fat, skinfolds, girths"},
	}}
}

type guesser struct {
	t     *Table
	hint  Hint
	m     Mapping
	heads []heading
}

func (g *guesser) spec(c *Column) *spec { return specOf(g.m.Kind, c.Field) }

var saltWords = wordSet("salt salz sel sal sale zout")

// headings takes each heading for a field.
func (g *guesser) headings() {
	for i, h := range g.t.Headings {
		full := h
		if u := g.t.Units[i]; u != "" {
			full += " (" + u + ")"
		}
		parsed := parseHeading(full)
		mt := matchHeading(g.m.Kind, parsed)
		if len(full) > 100 {
			mt = match{reason: "the heading is not known"}
		}
		c := Column{Index: i, Heading: h, Field: mt.field, CardioKind: mt.cardioKind, Confidence: mt.confidence, Reason: mt.reason, Sample: g.sample(i)}
		if mt.field != "" {
			c.Unit, c.Group = parsed.unit, parsed.group
			if s := g.spec(&c); s != nil && !s.accepts(c.Unit) {
				c.Unit = ""
			}
		}
		if c.Field == FieldSodium && slices.ContainsFunc(parsed.words, func(w string) bool { return saltWords[w] }) {
			if c.Unit == Milligram {
				g.drop(&c, "salt is read in grams only")
			} else {
				c.Unit = SaltGram
			}
		}
		g.heads = append(g.heads, parsed)
		g.m.Columns = append(g.m.Columns, c)
	}
}

func (g *guesser) sample(column int) string {
	for _, r := range g.t.Rows {
		if column < len(r.Cells) && !blank(r.Cells[column]) {
			return cleanText(r.Cells[column], 60)
		}
	}
	return ""
}

func (g *guesser) drop(c *Column, reason string) {
	c.Field, c.Unit, c.CardioKind, c.Group, c.Confidence, c.Reason = "", "", "", 0, 0, reason
}

// letters takes headings of a single letter only where P, C and F stand together.
func (g *guesser) letters() {
	var single []*Column
	for i := range g.m.Columns {
		c := &g.m.Columns[i]
		if c.Field != "" && c.Confidence < 1 && len(compact(g.heads[i].words)) == 1 && g.heads[i].unit != Percent {
			single = append(single, c)
		}
	}
	for _, c := range single {
		if len(single) < 2 {
			g.drop(c, "one letter is too little to go by")
		} else {
			c.Confidence, c.Reason = 0.7, "P, C and F stand together"
		}
	}
}

// contents drops a field whose cells are not of its form.
func (g *guesser) contents() {
	for i := range g.m.Columns {
		c := &g.m.Columns[i]
		s := g.spec(c)
		if s == nil || c.Confidence >= 1 {
			continue
		}
		n, good := 0, 0
		for cell := range g.cells(i) {
			if n++; g.looksLike(s, cell) {
				good++
			}
			if n >= 500 {
				break
			}
		}
		if n >= 3 && good*10 < n*3 {
			g.drop(c, fmt.Sprintf("most cells do not look like %s", s.field))
		}
	}
}

func (g *guesser) looksLike(s *spec, cell string) bool {
	switch {
	case s.form == date:
		f := takeDate(cell).form
		return f != noDate
	case s.numeric():
		if s.field == FieldRIR || g.m.Kind == Training && s.field == FieldWeight {
			return len(cell) < 20
		}
		_, _, bad := leadingNumber(cell, '.')
		return bad == nil
	}
	return true
}

// cells gives the cells of a column that are not blank.
func (g *guesser) cells(column int) func(yield func(string) bool) {
	return func(yield func(string) bool) {
		for _, r := range g.t.Rows {
			if column < len(r.Cells) && !blank(r.Cells[column]) && !yield(r.Cells[column]) {
				return
			}
		}
	}
}

// dateColumn finds the dates by their look where no heading names them.
func (g *guesser) dateColumn() {
	if g.m.has(FieldDate) || specOf(g.m.Kind, FieldDate) == nil {
		return
	}
	for i := range g.m.Columns {
		c := &g.m.Columns[i]
		n, good := 0, 0
		for cell := range g.cells(i) {
			w := takeDate(cell)
			if n++; w.form == fixedDate || w.form == triple || w.form == namedDate {
				good++
			}
			if n >= 200 {
				break
			}
		}
		if n > 0 && good*10 >= n*8 && (c.Field == "" || c.Confidence < 1) {
			*c = Column{Index: i, Heading: c.Heading, Field: FieldDate, Confidence: 0.8, Reason: "its cells are dates", Sample: c.Sample}
			return
		}
	}
	q := Question{ID: askDateColumn, Text: "Which column has the dates?"}
	for _, c := range g.m.Columns[:min(len(g.m.Columns), 60)] {
		q.Choices = append(q.Choices, Choice{c.Heading, "for example " + clip(c.Sample)})
	}
	g.m.ask(q)
}

// groups gives several columns of a field that may have them their place: the
// number in the heading, or else the order in which they stand.
func (g *guesser) groups() {
	used := map[Field]map[int]bool{}
	for i := range g.m.Columns {
		c := &g.m.Columns[i]
		s := g.spec(c)
		switch {
		case s == nil:
			continue
		case !s.many:
			c.Group = 0
			continue
		}
		if used[c.Field] == nil {
			used[c.Field] = map[int]bool{}
		}
		if c.Field == FieldCardio && c.CardioKind != "" && c.Group == 0 {
			c.Group = 100 // its own, apart from the columns that name kinds
		}
		for used[c.Field][c.Group] {
			c.Group++
		}
		used[c.Field][c.Group] = true
	}
}

// duplicates leaves each single field to the column that is surest, among equals
// to the first.
func (g *guesser) duplicates() {
	best := map[Field]*Column{}
	for i := range g.m.Columns {
		c := &g.m.Columns[i]
		s := g.spec(c)
		if s == nil && !strings.HasPrefix(string(c.Field), unclearSite) || s != nil && s.many {
			continue
		}
		if b := best[c.Field]; b == nil {
			best[c.Field] = c
		} else if c.Confidence > b.Confidence || c.Confidence == b.Confidence && b.Sample == "" && c.Sample != "" {
			g.drop(b, fmt.Sprintf("column %q gives %s", c.Heading, c.Field))
			best[c.Field] = c
		} else {
			g.drop(c, fmt.Sprintf("column %q gives %s", b.Heading, b.Field))
		}
	}
}
