package training

import (
	"slices"
	"strings"

	"glidepath/athlete"
	"glidepath/civil"
)

// Doing is an exercise that an athlete does, and how much of it.
type Doing struct {
	Name     string // the catalogue's, or what it is called where that is only near
	Exercise athlete.Exercise
	Sets     float64 // hard ones a week
}

// Logged is what was done between two dates, both included, of the exercises that
// the catalogue knows, as a weekly mean. The most sets come first, then by name.
func (c *Catalogue) Logged(sets []athlete.Set, from, to civil.Date) []Doing {
	d := doings{catalogue: c}
	for i := range sets {
		if s := &sets[i]; s.Date >= from && s.Date <= to && isHard(s) {
			d.add(s.Exercise, countOf(s))
		}
	}
	weeks := float64(to.DaysSince(from)+1) / 7
	for i := range d.list {
		d.list[i].Sets /= weeks
	}
	return d.sorted()
}

// Lately is the last two weeks on end that were not easy ones, of whole weeks in
// order: what an athlete does as a rule, with a deload left out. Where there are none
// it is the last two. ok is false where there are no weeks.
func Lately(weeks []WeekVolume) (from, to civil.Date, ok bool) {
	if len(weeks) == 0 {
		return 0, 0, false
	}
	usual := middleSets(weeks)
	easy := func(w *WeekVolume) bool { return float64(w.HardSets) < easyWeek*usual }
	last := len(weeks) - 1
	for i := last; i > 0; i-- {
		if !easy(&weeks[i]) && !easy(&weeks[i-1]) {
			last = i
			break
		}
	}
	return weeks[max(0, last-1)].Monday, weeks[last].Monday.AddDays(6), true
}

// middleSets is the hard sets of the middle one of some weeks by sets.
func middleSets(weeks []WeekVolume) float64 {
	counts := make([]int, len(weeks))
	for i := range weeks {
		counts[i] = weeks[i].HardSets
	}
	slices.Sort(counts)
	return float64(counts[len(counts)/2])
}

// Planned is what a programme asks for in the week of a date; where that is an easy
// one, in the next that is not.
func (c *Catalogue) Planned(p *athlete.Programme, on civil.Date) []Doing {
	week, at := p.WeekOn(on)
	for i := range p.Weeks {
		if week == nil || !week.Deload {
			break
		}
		week = &p.Weeks[(at+i+1)%len(p.Weeks)]
	}
	if week == nil {
		return nil
	}
	d := doings{catalogue: c}
	for _, s := range week.Sessions {
		for _, e := range s.Exercises {
			if e.RIR == nil || *e.RIR <= hardRIR {
				d.add(e.Exercise, float64(e.Sets))
			}
		}
	}
	return d.sorted()
}

// doings gathers exercises under their names.
type doings struct {
	catalogue *Catalogue
	list      []Doing
	at        map[string]int // name as typed -> place in list; -1 is not known
}

func (d *doings) add(typed string, sets float64) {
	if d.at == nil {
		d.at = map[string]int{}
	}
	i, seen := d.at[typed]
	if !seen {
		i = d.place(typed)
		d.at[typed] = i
	}
	if i >= 0 {
		d.list[i].Sets += sets
	}
}

func (d *doings) place(typed string) int {
	m, ok := d.catalogue.Lookup(typed)
	if !ok {
		return -1
	}
	name := m.Exercise.Name
	if !m.Exact {
		name = strings.TrimSpace(typed)
	}
	for i := range d.list {
		if SameName(d.list[i].Name, name) {
			return i
		}
	}
	d.list = append(d.list, Doing{Name: name, Exercise: m.Exercise})
	return len(d.list) - 1
}

func (d *doings) sorted() []Doing {
	slices.SortStableFunc(d.list, func(a, b Doing) int {
		switch {
		case a.Sets > b.Sets:
			return -1
		case a.Sets < b.Sets:
			return 1
		}
		return strings.Compare(a.Name, b.Name)
	})
	return d.list
}

// MuscleSetsOf is the weekly hard sets by muscle that some exercises come to, in
// the order of athlete.Muscles.
func MuscleSetsOf(all []Doing) []athlete.MuscleSets {
	out := make([]athlete.MuscleSets, 0, len(athlete.Muscles()))
	for _, m := range athlete.Muscles() {
		var sum float64
		for i := range all {
			sum += all[i].Sets * shareOf(&all[i].Exercise, m)
		}
		out = append(out, athlete.MuscleSets{Muscle: m, Sets: sum})
	}
	return out
}
