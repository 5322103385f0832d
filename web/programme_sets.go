package web

import (
	"fmt"
	"html/template"
	"strings"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/phrase"
)

// weekSets is what a written week comes to for each muscle.
type weekSets struct {
	Says         string
	Wide, Narrow template.HTML
	Rows         []setsRow
	Unknown      []string
	Cautions     []string
	Lately, Past bool // there are columns for them
}

// setsRow is a muscle's line of the table.
type setsRow struct{ Muscle, Written, Direct, Assisting, Keeps, Lately, OffSeason string }

// weekSets reckons a week and draws it.
func (r *request) weekSets(week athlete.ProgrammeWeek) (*weekSets, error) {
	p, err := r.desk.app.PlannedWeek(r.ctx(), r.id(), r.asOf, week)
	if err != nil {
		return nil, err
	}
	out := &weekSets{Says: weekSays(p), Unknown: p.Unknown, Cautions: p.Cautions}
	ch := chart.Muscles{Title: "Hard sets of the week"}
	for _, m := range p.Muscles {
		ch.Rows = append(ch.Rows, chart.MuscleRow{Name: string(m.Muscle), Direct: m.Direct, Indirect: m.Indirect, Maintenance: m.Maintenance, OffSeason: m.OffSeason, Now: m.Now})
		out.Rows = append(out.Rows, setsRow{
			phrase.Capital(string(m.Muscle)), chart.Number(m.Direct+m.Indirect, 1), chart.Number(m.Direct, 0), chart.Number(m.Indirect, 1),
			orDash(m.Maintenance), orDash(m.Now), orDash(m.OffSeason),
		})
		out.Lately, out.Past = out.Lately || m.Now != nil, out.Past || m.OffSeason != nil
	}
	out.Wide = template.HTML(ch.SVG(chart.Options{ID: "sets-wide-"}))                   //nolint:gosec // chart escapes all its text
	out.Narrow = template.HTML(ch.SVG(chart.Options{ID: "sets-narrow-", Narrow: true})) //nolint:gosec // chart escapes all its text
	return out, nil
}

func orDash(v *float64) string {
	if v == nil {
		return "–"
	}
	return chart.Number(*v, 1)
}

// weekSays is what the week comes to in one sentence.
func weekSays(p *app.PlannedWeek) string {
	var direct, now float64
	var known bool
	var under []string
	for _, m := range p.Muscles {
		total := m.Direct + m.Indirect
		direct += total
		if m.Now != nil {
			known = true
			now += *m.Now
		}
		if m.Maintenance != nil && total < min(*m.Maintenance, *m.OffSeason) {
			under = append(under, fmt.Sprintf("%s (%s of %s)", m.Muscle, chart.Number(total, 1), chart.Number(*m.Maintenance, 1)))
		}
	}
	says := fmt.Sprintf("By muscle it comes to %s sets", chart.Number(direct, 0))
	if known {
		says += ", " + than(direct-now)
	}
	switch {
	case p.Muscles[0].Maintenance == nil:
		return says + "; nothing is logged yet to hold it against."
	case len(under) == 0:
		return says + "; every muscle that was trained gets what is judged to keep it."
	}
	return says + "; under what is judged to keep them: " + strings.Join(under, ", ") + "."
}

func than(more float64) string {
	switch n := chart.Number(more, 0); {
	case n == "0":
		return "as many as of late"
	case more > 0:
		return n + " more than of late"
	default:
		return chart.Number(-more, 0) + " fewer than of late"
	}
}
