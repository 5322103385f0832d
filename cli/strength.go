package cli

import (
	"context"
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/phrase"
	"glidepath/training"
)

func newStrength(s *session) *cobra.Command {
	return s.athleteArg(&cobra.Command{
		Use:   "strength ATHLETE",
		Short: "Say how much strength is kept, and how hard the week was",
		Long: `Read the training log: each lift's estimated one-repetition maximum, how much of the
off-season's strength is kept, by lift, by muscle and against body weight, whether a
real loss is found, weekly hard sets by muscle, how hard the last week felt and how
well the athlete recovers. Strength that holds does not prove that muscle holds.`,
		Example: `  glidepath strength dmitri --as-of 2026-03-02
  glidepath strength priya --as-of 2026-03-02
  glidepath strength marcus --units metric --as-of 2026-03-02`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runStrength(cmd.Context(), args[0]) },
	})
}

type strengthResult struct {
	Athlete  who                     `json:"athlete"`
	AsOf     civil.Date              `json:"as_of"`
	Strength training.StrengthReport `json:"strength"`
	Volume   training.VolumeReport   `json:"volume"`
	Load     training.WeekLoad       `json:"load"`
	Markers  training.Markers        `json:"markers"`
	Recovery training.RecoveryState  `json:"recovery"`
	Capacity training.Capacity       `json:"capacity"`
	Sets     *training.Proposal      `json:"sets,omitempty"`
}

func (s *session) runStrength(ctx context.Context, name string) error {
	d, err := s.dossier(ctx, name, func(opt *app.Options) { opt.Futures, opt.NoReview = -1, true })
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(strengthResult{whoOf(&d.Athlete), d.AsOf, d.Strength, d.Volume, d.Load, d.Markers, d.Recovery, d.Capacity, d.Sets})
	}
	p := s.page()
	s.head(p, d)
	st := &d.Strength
	if len(st.Lifts) == 0 {
		p.para("No sets are logged yet. Take some in with glidepath import sets FILE --athlete %s.", d.Athlete.ID)
		section(p, "What cannot be told", st.Cannot)
		return p.flush()
	}
	if o := st.Overall; o != nil {
		p.para("%s of the strength of %s to %s is kept. A real loss of more than 2.5%s%% is %s; of more than 5%s%%, %s.",
			est(o.Pct, 1, "%"), date(st.BaselineFrom), date(st.BaselineTo), nbsp, chance(o.LossOver2p5), nbsp, chance(o.LossOver5))
	}
	if st.Loss != nil {
		p.para("%s", st.Loss.Sentence)
	}
	if b, r := st.Beyond, st.Relative; b != nil && r != nil {
		n := s.notation(d.Athlete.Units)
		p.para("Against body weight, %s %s then and %s now, strength stands at %s of the baseline; without what body weight explains %s is kept.",
			chart.Number(n.FromKg(r.BaselineBodyKg), 1), n.WeightUnit(), chart.Number(n.FromKg(r.BodyKg), 1), est(r.Pct, 0, "%"), est(b.Pct, 0, "%"))
	}
	s.showLifts(p, d)
	showMuscles(p, st.Muscles)
	var bridged []string
	for _, b := range st.Bridges {
		bridged = append(bridged, b.Sentence)
	}
	section(p, "Exercises that took over", bridged)
	showVolume(p, &d.Volume)
	showLoad(p, d)
	if d.Sets != nil {
		section(p, "Sets: "+string(d.Sets.Action), d.Sets.Reasons)
		s.cautions(p, d.Sets.Cautions)
	}
	section(p, "What cannot be told", st.Cannot)
	return p.flush()
}

func (s *session) showLifts(p *page, d *app.Dossier) {
	n := s.notation(d.Athlete.Units)
	var rows [][]string
	for i := range d.Strength.Lifts {
		l := &d.Strength.Lifts[i]
		name, kept, perBody := l.Exercise, "–", "–"
		if l.BodyShare > 0 {
			name += ", with the body"
		}
		if l.Retention != nil {
			kept = est(l.Retention.Pct, 0, "")
		}
		if l.Relative != nil {
			perBody = chart.Number(l.Relative.PerKg, 2)
		}
		rows = append(rows, []string{name, fmt.Sprint(l.Sessions), est(l.E1RMKg.Scale(n.FromKg(1)), 0, ""), perBody, kept})
	}
	p.heading("Lifts")
	p.gap()
	p.table([]column{{head: "", flex: true}, {head: "Sessions"}, {head: "Estimated\nmaximum " + n.WeightUnit()}, {head: "Over body\nweight"}, {head: "Kept %"}}, rows)
}

// showMuscles tells of each muscle by the lifts that train it directly.
func showMuscles(p *page, all []training.MuscleStrength) {
	if len(all) == 0 {
		return
	}
	var rows [][]string
	for _, m := range all {
		rows = append(rows, []string{string(m.Muscle), est(m.Retention.Pct, 0, ""), percent(m.Retention.LossOver2p5), strings.Join(m.From, ", ")})
	}
	p.heading("Strength kept by muscle")
	p.gap()
	p.table([]column{{head: "", left: true}, {head: "Kept %"}, {head: "Chance of over 2.5 % lost"}, {head: "By", flex: true}}, rows)
}

func showVolume(p *page, v *training.VolumeReport) {
	const last = 4
	all := v.Weeks[max(0, len(v.Weeks)-last):]
	if len(all) == 0 {
		return
	}
	columns := []column{{head: "Week from", left: true}}
	for _, w := range all {
		columns = append(columns, column{head: date(w.Monday)})
	}
	var rows [][]string
	for i, m := range all[0].Muscles {
		row, some := []string{string(m.Muscle)}, false
		for _, w := range all {
			row = append(row, chart.Number(w.Muscles[i].Sets, 1))
			some = some || w.Muscles[i].Sets > 0
		}
		if some {
			rows = append(rows, row)
		}
	}
	p.heading("Hard sets a week by muscle; a set counts half where the muscle assists")
	p.gap()
	p.table(columns, rows)
}

func showLoad(p *page, d *app.Dossier) {
	marker := func(v *float64, decimals int, unit string) string {
		if v == nil {
			return ""
		}
		return chart.Number(*v, decimals) + nbsp + unit
	}
	l := &d.Load
	felt := ""
	if l.Load > 0 && !math.IsNaN(l.Monotony) {
		felt = fmt.Sprintf("load %s, monotony %s, strain %s (from %s)", whole(l.Load), chart.Number(l.Monotony, 1), whole(l.Strain), date(l.From))
	}
	p.heading("Recovery")
	p.para("%s", phrase.Sentence(d.Recovery.Sentence))
	p.facts(
		fact{"Last whole week", felt},
		fact{"Sleep", marker(d.Markers.SleepH, 1, "h a night over two weeks")},
		fact{"Fatigue", marker(d.Markers.Fatigue, 1, "of 10")},
		fact{"Hunger", marker(d.Markers.Hunger, 1, "of 10")},
	)
}
