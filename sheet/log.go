package sheet

import (
	"slices"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// Log is what a table of any kind holds; what its kind does not have is empty.
type Log struct {
	Days         []athlete.Day
	Measurements []athlete.Measurement
	Sets         []athlete.Set
	Sessions     []athlete.Session
	Good         int            // days, measurements or sets that were read
	Bad          []*fault.Error // every fault of every bad row
	Notes        []string       // what was left out or taken from elsewhere, in sentences
}

// ReadLog reads all rows by the kind of the mapping. A training log gives sets and
// sessions; a row that is bad for both is named once.
func ReadLog(t *Table, m Mapping) (*Log, error) {
	switch m.Kind {
	case Days:
		r, err := ReadDays(t, m)
		if err != nil {
			return nil, err
		}
		return &Log{Days: r.Values(), Good: len(r.Good), Bad: r.Bad, Notes: r.Notes}, nil
	case Measurements:
		r, err := ReadMeasurements(t, m)
		if err != nil {
			return nil, err
		}
		return &Log{Measurements: r.Values(), Good: len(r.Good), Bad: r.Bad, Notes: r.Notes}, nil
	}
	sets, err := ReadSets(t, m)
	if err != nil {
		return nil, err
	}
	sessions, err := ReadSessions(t, m)
	if err != nil {
		return nil, err
	}
	for _, f := range sessions.Bad {
		if !slices.ContainsFunc(sets.Bad, func(o *fault.Error) bool { return o.Row == f.Row && o.Column == f.Column }) {
			sets.Bad = append(sets.Bad, f)
		}
	}
	return &Log{Sets: sets.Values(), Sessions: sessions.Values(), Good: len(sets.Good), Bad: sets.Bad, Notes: sets.Notes}, nil
}

// After lists the dates of days, measurements and sets that come after a date:
// where there are some, day and month are most often swapped.
func (l *Log) After(on civil.Date) []civil.Date {
	var late []civil.Date
	add := func(d civil.Date) {
		if d > on {
			late = append(late, d)
		}
	}
	for i := range l.Days {
		add(l.Days[i].Date)
	}
	for i := range l.Measurements {
		add(l.Measurements[i].Date)
	}
	for i := range l.Sets {
		add(l.Sets[i].Date)
	}
	return late
}

// BadRows counts the rows that have faults.
func BadRows(bad []*fault.Error) int {
	rows := map[int]bool{}
	for _, f := range bad {
		rows[f.Row] = true
	}
	return len(rows)
}
