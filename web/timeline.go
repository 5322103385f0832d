package web

import (
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
)

// timeline is a season from today on as a strip: phases, shows and events, for
// an SVG of 1000 units across. What it shows stands in words beside it.
type timeline struct {
	ID     string
	From   civil.Date
	To     civil.Date
	Phases []strip
	Events []strip
	Shows  []tick
	Months []tick
}

// track is a timeline on which the script lets dates be moved. Each is typed in an
// input too, and goes from there to the server.
type track struct {
	Line     timeline
	Tags     []tag
	Imperial bool // the month before the day
}

// tag is a date that can be moved: that of a show, or either end of an event.
type tag struct {
	For   string     // ID of the input that it stands for
	Pair  string     // of the other end of an event
	End   string     // show, from or to
	Label string     // of the input
	Plan  civil.Date // as it stands; zero for an event that is to be added
	First civil.Date // that it can be moved to
}

// addEnds adds both ends of an event that has not begun, or the last alone.
func (t *track) addEnds(from, to field, first, last, asOf civil.Date) {
	if first.IsZero() || first >= asOf {
		t.Tags = append(t.Tags, tag{For: from.ID, Pair: to.ID, End: "from", Label: from.Label, Plan: first, First: asOf})
	}
	t.Tags = append(t.Tags, tag{For: to.ID, Pair: from.ID, End: "to", Label: to.Label, Plan: last, First: asOf})
}

type strip struct {
	Class, Title string
	X, Width     float64
}

type tick struct {
	X     float64
	Title string
}

const across = 1000.0

// timelineOf draws the phases of a dossier's map, at least until a day, so that
// two can be compared.
func timelineOf(d *app.Dossier, id string, until civil.Date) timeline {
	t := timeline{ID: id, From: d.AsOf, To: until}
	var phases []athlete.Phase
	if d.Season != nil {
		phases = d.Season.Map.Phases
	}
	for _, p := range phases {
		t.To = max(t.To, p.To)
	}
	for _, s := range d.Athlete.Shows {
		t.To = max(t.To, s.Date)
	}
	if t.To <= t.From {
		return timeline{}
	}
	n := chart.Notation{Units: d.Athlete.Units}
	end := t.To.AddDays(1)
	x := func(on civil.Date) float64 {
		return across * float64(min(max(on, t.From), end).DaysSince(t.From)) / float64(end.DaysSince(t.From))
	}
	for _, p := range phases {
		one := strip{X: x(p.From), Width: x(p.To.AddDays(1)) - x(p.From), Class: "phase", Title: string(p.Kind) + ", " + span(n, p.From, p.To)}
		switch p.Kind {
		case athlete.Prep, athlete.PrePrep:
			one.Class = "phase-prep"
		case athlete.PeakWeek, athlete.ShowDay:
			one.Class = "phase-peak"
		}
		t.Phases = append(t.Phases, one)
	}
	for _, e := range d.Athlete.Events {
		if e.To >= t.From && e.From < end {
			t.Events = append(t.Events, strip{X: x(e.From), Width: max(4, x(e.To.AddDays(1))-x(e.From)), Title: e.Kind + ", " + span(n, e.From, e.To)})
		}
	}
	for _, s := range d.Athlete.Shows {
		if s.Date >= t.From {
			t.Shows = append(t.Shows, tick{X: x(s.Date), Title: s.Name + ", " + n.Date(s.Date)})
		}
	}
	t.Months = months(t.From, end, x)
	return t
}

// span writes a stretch of days, both included.
func span(n chart.Notation, from, to civil.Date) string {
	if from == to {
		return n.Date(from)
	}
	return n.Date(from) + " to " + n.Date(to)
}

// months are the firsts of months.
func months(from, to civil.Date, x func(civil.Date) float64) []tick {
	var out []tick
	first := from.Time()
	for i := 1; ; i++ {
		d := civil.Of(first.Year(), first.Month()+time.Month(i), 1)
		if d >= to {
			return out
		}
		out = append(out, tick{X: x(d)})
	}
}
