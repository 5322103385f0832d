package sheet

import (
	"cmp"
	"fmt"
	"slices"

	"glidepath/athlete"
	"glidepath/civil"
)

// ReadSessions reads the minutes and the rating of whole sessions from a training
// log; a date's rows must agree. A table without both columns has no sessions.
func ReadSessions(t *Table, m Mapping) (Result[athlete.Session], error) {
	r, err := newReader(t, &m, Training)
	if err != nil {
		return Result[athlete.Session]{}, err
	}
	if !m.has(FieldSessionMinutes) || !m.has(FieldSessionRPE) {
		return Result[athlete.Session]{Notes: []string{"no sessions: they need a column of minutes and one of session RPE"}}, nil
	}
	merged := newMerger[session, civil.Date](r, "the same date", mergeSessions)
	last := civil.Date(0)
	for i := range t.Rows {
		if !r.start(&t.Rows[i]) {
			continue
		}
		before := len(r.bad)
		var v session
		for i := range r.mapped {
			c := &r.mapped[i]
			text := r.cell(c.Column)
			if text == "" || c.Field != FieldSessionMinutes && c.Field != FieldSessionRPE {
				continue
			}
			if x, ok := r.quantity(c, text); ok && c.Field == FieldSessionMinutes {
				v.minutes = new(x)
			} else if ok {
				v.rpe = new(x)
			}
		}
		if r.cell(r.dateCol) != "" || v != (session{}) && last == 0 {
			var ok bool
			if last, ok = r.date(); !ok && v == (session{}) {
				r.bad = r.bad[:before] // ReadSets names it
			}
		}
		if v != (session{}) && len(r.bad) == before {
			merged.add(last, v)
		}
	}
	return sessions(merged.result(), merged, r), nil
}

// session is a session of which parts may stand in different rows.
type session struct{ minutes, rpe *float64 }

func mergeSessions(into, from *session) []clash {
	var out []clash
	for _, p := range []struct {
		field Field
		a     **float64
		b     *float64
	}{{FieldSessionMinutes, &into.minutes, from.minutes}, {FieldSessionRPE, &into.rpe, from.rpe}} {
		switch {
		case p.b == nil:
		case *p.a == nil:
			*p.a = p.b
		case **p.a != *p.b:
			out = append(out, clash{p.field, fmt.Sprintf("%g", **p.a), fmt.Sprintf("%g", *p.b)})
		}
	}
	return out
}

// sessions checks that each session is whole and within bounds.
func sessions(parts Result[session], g *merger[session, civil.Date], r *reader) Result[athlete.Session] {
	out := Result[athlete.Session]{Notes: parts.Notes}
	dateAt := make(map[int]civil.Date, len(g.at))
	for on, i := range g.at {
		if !g.wrong[i] {
			dateAt[g.good[i].Rows[0]] = on
		}
	}
	rowAt := make(map[int]*Row, len(r.t.Rows))
	for i := range r.t.Rows {
		rowAt[r.t.Rows[i].Number] = &r.t.Rows[i]
	}
	for _, p := range parts.Good {
		r.row = rowAt[p.Rows[0]]
		switch v := p.Value; {
		case v.minutes == nil:
			r.reject(r.m.fields(FieldSessionMinutes)[0], &cellError{"the session has an RPE but no minutes.", ""})
		case v.rpe == nil:
			r.reject(r.m.fields(FieldSessionRPE)[0], &cellError{"the session has minutes but no RPE.", ""})
		case *v.minutes <= 0 || *v.minutes > 600:
			r.reject(r.m.fields(FieldSessionMinutes)[0], &cellError{"it is outside 1 to 600 minutes.", ""})
		case *v.rpe < 0 || *v.rpe > 10:
			r.reject(r.m.fields(FieldSessionRPE)[0], &cellError{"it is outside 0 to 10 of session RPE.", ""})
		default:
			out.Good = append(out.Good, Record[athlete.Session]{athlete.Session{Date: dateAt[p.Rows[0]], Minutes: *v.minutes, RPE: *v.rpe}, p.Rows})
		}
	}
	slices.SortFunc(out.Good, func(a, b Record[athlete.Session]) int { return cmp.Compare(a.Rows[0], b.Rows[0]) })
	out.Bad = r.ordered()
	return out
}
