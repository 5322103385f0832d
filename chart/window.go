package chart

import (
	"glidepath/athlete"
	"glidepath/civil"
)

// Window is a stretch of days, both included; a zero date leaves that side open.
type Window struct{ From, To civil.Date }

// Open reports whether the window leaves nothing out.
func (w Window) Open() bool { return w.From.IsZero() && w.To.IsZero() }

func (w Window) holds(d civil.Date) bool {
	return (w.From.IsZero() || d >= w.From) && (w.To.IsZero() || d <= w.To)
}

func within[T any](w Window, all []T, date func(*T) civil.Date) []T {
	var out []T
	for i := range all {
		if w.holds(date(&all[i])) {
			out = append(out, all[i])
		}
	}
	return out
}

// Between is the corridor on the days of a window. What lies outside is left
// out, so that both axes close in on what is left.
func (ch Corridor) Between(w Window) Corridor {
	if w.Open() {
		return ch
	}
	ch.Edges = within(w, ch.Edges, func(e *Edge) civil.Date { return e.Date })
	ch.Plan = within(w, ch.Plan, func(p *Point) civil.Date { return p.Date })
	ch.Scale = within(w, ch.Scale, func(p *Point) civil.Date { return p.Date })
	ch.Trend = within(w, ch.Trend, func(e *Estimate) civil.Date { return e.Date })
	ch.Forecast = within(w, ch.Forecast, func(p *FanPoint) civil.Date { return p.Date })
	ch.Expenditure = within(w, ch.Expenditure, func(e *Estimate) civil.Date { return e.Date })
	ch.Reported = within(w, ch.Reported, func(p *Point) civil.Date { return p.Date })
	ch.Marks = within(w, ch.Marks, func(m *Mark) civil.Date { return m.Date })
	on := func(d *civil.Date) civil.Date { return *d }
	ch.Notes = Notes{within(w, ch.Notes.Coach, on), within(w, ch.Notes.Athlete, on)}
	if !w.holds(ch.Show.Date) {
		ch.Show, ch.Target = Mark{}, nil
	}
	if !w.holds(ch.AsOf) {
		ch.AsOf = 0
	}
	var phases []athlete.Phase
	for _, p := range ch.Phases {
		if !w.From.IsZero() {
			p.From = max(p.From, w.From)
		}
		if !w.To.IsZero() {
			p.To = min(p.To, w.To)
		}
		if p.From <= p.To {
			phases = append(phases, p)
		}
	}
	ch.Phases = phases
	return ch
}

// Axis is where the days of a drawing lie, in its own units across.
type Axis struct {
	Width, Left, Right float64
	From, To           civil.Date
}

// DayAxis is the axis of the drawing that SVG makes with the same options; ok is
// false where it makes none.
func (ch Corridor) DayAxis(o Options) (a Axis, ok bool) {
	if ch.Empty() {
		return a, false
	}
	d := ch.days()
	a = Axis{Width: 840, Left: 52, Right: 672, From: d.from, To: d.to}
	if o.Narrow {
		a.Width, a.Left, a.Right = 344, 44, 334
	}
	return a, true
}
