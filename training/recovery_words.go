package training

import (
	"fmt"
	"math"

	"glidepath/phrase"
)

// sign is what a marker says of the last week.
func (s *recoverySign) sign(l *markerLog, k int, usual, effect float64) MarkerSign {
	out := MarkerSign{Marker: s.name, Usual: usual, Effect: effect}
	var sum float64
	for t := len(l.days) - 7; t < len(l.days); t++ {
		if v := l.days[t][k]; !math.IsNaN(v) {
			sum += v
			out.Days++
		}
	}
	if out.Days > 0 {
		out.Lately = new(sum / float64(out.Days))
	}
	out.Words = s.words(&out)
	return out
}

// smallEffect is what is not worth a word.
const smallEffect = 0.1

func (s *recoverySign) words(m *MarkerSign) string {
	if m.Lately == nil {
		return fmt.Sprintf("%s is not logged this week.", phrase.Capital(s.name))
	}
	effect := "which says little"
	switch {
	case m.Effect <= -smallEffect:
		effect = fmt.Sprintf("which lowers the state by %.1f", -m.Effect)
	case m.Effect >= smallEffect:
		effect = fmt.Sprintf("which raises the state by %.1f", m.Effect)
	}
	return fmt.Sprintf("%s is %.*f %s against a usual %.*f, %s.", phrase.Capital(s.name), s.decimals, *m.Lately, s.unit, s.decimals, m.Usual, effect)
}

// thinDays is the least days with a marker in the last 14 to go by.
const thinDays = markerLeast

// Told reports whether there is enough of a log to go by.
func (r *RecoveryState) Told() bool { return r.Logged >= thinDays }

// tell writes what is so, and what cannot be told.
func (r *RecoveryState) tell() {
	if !r.Told() {
		r.Sentence = fmt.Sprintf("How the athlete recovers is hardly known: a marker is logged on %d of the last 14 days.", r.Logged)
		r.Cannot = append(r.Cannot, fmt.Sprintf("Recovery takes sleep, fatigue or another marker on at least %d of 14 days.", thinDays))
	} else {
		r.Sentence = fmt.Sprintf("Over the last week recovery stands at %.1f where 0 is usual for this athlete (90 %% between %.1f and %.1f); the chance that it is short, under %.1f, is %s.",
			r.Week.Value, r.Week.Low90, r.Week.High90, ShortRecovery, chance(r.Short))
	}
	if !r.Usual.OffSeason && len(r.Markers) > 0 {
		r.Cannot = append(r.Cannot, fmt.Sprintf("What is usual is taken from the first weeks of the log, %s to %s, which may have been hard already: no off-season is logged before the diet.", r.Usual.From, r.Usual.To))
	}
}

// chance is a probability in words; certainty is never claimed.
func chance(p float64) string {
	switch {
	case p > 0.99:
		return "over 99 %"
	case p < 0.01:
		return "under 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}
