package web

import (
	"cmp"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"glidepath/app"
	"glidepath/athlete"
)

// gymBuilder makes the page of a day's training.
type gymBuilder struct {
	a     *athlete.Athlete
	g     *app.GymDay
	now   *athlete.Day
	typed *gymForm // what could not be kept; nil where the page is opened
	page  gymPage
}

// spareSets are the rows of an exercise that is added without script.
const spareSets = 3

func (b *gymBuilder) build() (err error) {
	p := &b.page
	p.Lead = gymLead(b.g)
	if b.g.Deload {
		p.Deload = "This is a deload week: lighter on purpose. Do what is written, and stop there."
	}
	if p.Recent, err = recentJSON(b.g, b.a); err != nil {
		return err
	}
	for _, s := range b.g.Sessions {
		section := gymSection{Title: s.Name, Notes: s.Notes}
		for i := range s.Exercises {
			section.Groups = append(section.Groups, b.group(&s.Exercises[i]))
		}
		p.Sections = append(p.Sections, section)
	}
	besides := gymSection{Title: "Besides"}
	if len(p.Sections) == 0 {
		besides.Title = "Exercises"
		p.Again = b.again()
	}
	for i := range b.g.Unplanned {
		besides.Groups = append(besides.Groups, b.group(&b.g.Unplanned[i]))
	}
	p.Sections = append(p.Sections, besides)
	p.Any = len(b.g.Sessions)+len(b.g.Unplanned) > 0
	blank := gymGroup{Rows: []gymRow{b.row(nil, setParts{})}}
	p.Blank = gymSection{Groups: []gymGroup{blank}}
	spare := gymGroup{}
	for range spareSets {
		spare.Rows = append(spare.Rows, b.row(nil, setParts{}))
	}
	p.Spare = gymSection{Groups: []gymGroup{spare}}
	b.session()
	b.pain()
	b.overlay()
	b.number()
	return nil
}

// group is an exercise with a row for each set that is done, and for each that is
// still to be.
func (b *gymBuilder) group(e *app.DueExercise) gymGroup {
	g := gymGroup{
		Exercise: e.Exercise, Was: e.Exercise, Plan: planWords(&e.PlannedExercise, b.a.Effort), Notes: e.Notes, Stop: e.Stop,
		Before: beforeWords(b.g.Date, e.LastOn, e.Last, b.a), Loads: regions(e.Loads), Rest: e.RestSeconds, Own: e.BodyLoad,
	}
	if where := b.now.PainWhere; b.care() && where != "" && slices.Contains(e.Loads, where) {
		g.Hurts = hurtWords(string(where))
	}
	done := slices.Clone(e.Done)
	slices.SortStableFunc(done, func(x, y athlete.Set) int { return cmp.Compare(x.Order, y.Order) })
	sets := e.Sets
	if sets == 0 {
		sets = max(1, len(e.Last))
	}
	if slices.ContainsFunc(e.Last, func(s athlete.Set) bool { return s.Side != "" }) {
		sets = max(sets, len(e.Last)) // each side has a set of its own
	}
	for i := range max(sets, len(done)) {
		var offer setParts
		switch {
		case len(e.Last) > 0:
			offer = offerOf(&e.Last[min(i, len(e.Last)-1)], b.a.Units)
		case len(done) > 0:
			offer = offerOf(&done[len(done)-1], b.a.Units)
		case e.BodyLoad:
			offer.Weight = "0"
		}
		if i < len(done) {
			g.Rows = append(g.Rows, b.row(&done[i], setParts{}))
		} else {
			g.Rows = append(g.Rows, b.row(nil, offer))
		}
	}
	g.Spare = b.row(nil, g.Rows[len(g.Rows)-1].Offer)
	return g
}

// row is a set that is kept, or one to be with what is offered.
func (b *gymBuilder) row(s *athlete.Set, offer setParts) gymRow {
	u, e := b.a.Units, b.a.Effort
	r := gymRow{Offer: offer, Unit: u.WeightUnit(), EffortLabel: "Left in reserve"}
	if e == athlete.Exertion {
		r.EffortLabel = "RPE"
	}
	if offer.Weight != "" && offer.Reps != "" {
		r.OfferText = offer.text(u, e)
	}
	if s != nil {
		r.As, r.Order, r.Seen = s.Exercise, s.Order, setText(s, u, e)
		r.setParts = setParts{Weight: gymWeight(s.WeightKg, u), Reps: strconv.Itoa(s.Reps), Side: s.Side, Note: s.Notes}
		if s.RIR != nil {
			r.Effort = shortNumber(e.OfRIR(*s.RIR))
		}
	} else {
		r.Side = offer.Side
	}
	r.Efforts = efforts(e, r.Effort)
	return r
}

// efforts are how hard a set can have been, with what it was.
func efforts(e athlete.EffortScale, is string) []option {
	const most, half = 6, 0.5
	out := []option{{"", "–"}}
	step := 1.0
	if e == athlete.Exertion {
		step = half
	}
	for rir := 0.0; rir <= most; rir += step {
		v := shortNumber(e.OfRIR(rir))
		out = append(out, option{v, v})
	}
	if is != "" && !slices.ContainsFunc(out, func(o option) bool { return o.Value == is }) {
		out = append(out, option{is, is})
	}
	return out
}

// again lists the last days of training, to be done again as they were.
func (b *gymBuilder) again() (out []doneDay) {
	const most = 3
	for i := 0; i < len(b.g.Recent) && len(out) < most; {
		on, names, q := b.g.Recent[i].On, []string{}, url.Values{}
		for ; i < len(b.g.Recent) && b.g.Recent[i].On == on; i++ {
			// The log is read backwards.
			names = slices.Insert(names, 0, b.g.Recent[i].Exercise)
		}
		q["add"] = names
		out = append(out, doneDay{When: longDate(on, b.a.Units), What: strings.Join(names, ", "), Link: "/day/" + b.page.Date.String() + "/gym?" + q.Encode()})
	}
	return out
}

// session is how it was as a whole.
func (b *gymBuilder) session() {
	p := &b.page
	if s := b.g.Before; s != nil {
		p.Before = shortNumber(s.Minutes)
	}
	if s := b.g.Session; s != nil {
		p.Minutes, p.RPE = shortNumber(s.Minutes), shortNumber(s.RPE)
	}
	if b.typed != nil {
		p.Minutes, p.RPE = b.typed.values.Get("minutes"), b.typed.values.Get("rpe")
	}
	if p.RPE != "" && !slices.ContainsFunc(p.Hard, func(o option) bool { return o.Value == p.RPE }) {
		p.Hard = append(slices.Clone(p.Hard), option{p.RPE, p.RPE})
	}
}

// painFields are the day's, and are asked at the gym too.
var painFields = []string{"pain", "pain_where"}

func (b *gymBuilder) pain() {
	for _, name := range painFields {
		f, _ := fieldNamed(name)
		one := shownField{dayField: f, ID: name, Unit: f.unit(b.a.Units), Value: f.get(b.now, b.a.Units)}
		one.Base = one.Value
		if b.typed != nil {
			one.Value = b.typed.values.Get(name)
		}
		one.choices(b.a, nil)
		b.page.Pain = append(b.page.Pain, one)
	}
	b.page.Care = b.care()
}

func (b *gymBuilder) care() bool { return b.now.Pain != nil && *b.now.Pain >= painCare }

// overlay puts what was typed and could not be kept back into its rows.
func (b *gymBuilder) overlay() {
	if b.typed == nil {
		return
	}
	was := b.typed.values["was"]
	for k, exercise := range b.typed.exercises {
		if k >= len(was) {
			break
		}
		group := b.find(was[k])
		if group == nil {
			continue
		}
		group.Exercise = exercise
		for _, s := range b.typed.rows {
			if s.group == k {
				group.retype(s)
			}
		}
	}
}

// find is the exercise that the page had under a name; the spare one had none.
func (b *gymBuilder) find(was string) *gymGroup {
	for _, list := range [][]gymSection{b.page.Sections, {b.page.Spare}} {
		for i := range list {
			for j := range list[i].Groups {
				if g := &list[i].Groups[j]; g.Was == was {
					return g
				}
			}
		}
	}
	return nil
}

// retype puts a typed set into the row that it came from: that of its place, or the
// first that is empty.
func (g *gymGroup) retype(s typedSet) {
	for i := range g.Rows {
		r := &g.Rows[i]
		if s.as != "" && r.As == s.as && r.Order == s.order || s.as == "" && r.As == "" && r.Weight+r.Reps == "" {
			r.setParts = s.setParts
			return
		}
	}
	if s.Weight+s.Reps != "" {
		g.Spare.setParts = s.setParts
	}
}

// number counts exercises and rows over the page, as its form does, and gives the
// sets that are still to be their places in the day.
func (b *gymBuilder) number() {
	last, groups, rows := 0, 0, 0
	for i := range b.g.Logged {
		last = max(last, b.g.Logged[i].Order)
	}
	place := func(r *gymRow, number int) {
		r.Index, r.Group, r.Number = rows, groups, number
		if r.As == "" {
			last++
			r.Order = last
		}
		rows++
	}
	for _, list := range [][]gymSection{b.page.Sections, {b.page.Spare}} {
		for i := range list {
			for j := range list[i].Groups {
				g := &list[i].Groups[j]
				g.Index = groups
				for k := range g.Rows {
					place(&g.Rows[k], k+1)
				}
				if g.Was != "" {
					place(&g.Spare, len(g.Rows)+1)
				}
				groups++
			}
		}
	}
}
