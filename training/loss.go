package training

import (
	"fmt"
	"strings"

	"glidepath/civil"
)

// Loss is whether strength as a whole has really dropped from the baseline.
type Loss struct {
	// Found: the chance that more than 2.5 % is lost is at least 2/3, and was at least
	// 0.6 before the last day of training, so that no single day can tell it. From one
	// lift alone it takes 0.7.
	Found  bool    `json:"found"`
	Chance float64 `json:"chance"` // of more than 2.5 % lost
	// Since is the week's end from which strength has stood below 97.5 % ever since;
	// nil unless found.
	Since *civil.Date `json:"since,omitempty"`
	// BodyWeight says that a loss is found which a lighter body may explain: without
	// it none would be.
	BodyWeight bool `json:"body_weight,omitempty"`
	// In are the lifts, then the muscles, of which a loss of their own is found.
	In       []string `json:"in,omitempty"`
	Sentence string   `json:"sentence"`
}

// longDate is a date in a sentence, which everybody reads alike.
const longDate = "2 January 2006"

// likelyLost is the chance of more than 2.5 % lost from which several lifts tell of a
// loss. In simulation it finds a true drop of 5 % within three weeks of two sessions
// in nine of ten lifters with four big lifts, and six in a hundred are told of
// one over a whole prep who have lost nothing (docs/training.md).
const (
	likelyLost = 2. / 3
	beforeLost = 0.6
)

// reckonLoss says whether strength has really dropped.
func (r *StrengthReport) reckonLoss() {
	if r.Overall == nil {
		return
	}
	l := Loss{Found: r.Overall.Lost, Chance: r.Overall.LossOver2p5}
	if r.earlier != nil {
		l.Found = l.Chance >= likelyLost && r.earlier.LossOver2p5 >= beforeLost
	}
	for i := range r.Lifts {
		if kept := r.Lifts[i].Retention; kept != nil && kept.Lost {
			l.In = append(l.In, r.Lifts[i].Exercise)
		}
	}
	for i := range r.Muscles {
		if r.Muscles[i].Retention.Lost {
			l.In = append(l.In, string(r.Muscles[i].Muscle))
		}
	}
	if l.Found {
		l.Since = r.lostSince()
		l.BodyWeight = r.Beyond != nil && r.Beyond.LossOver2p5 < likelyLost && r.Relative.BodyKg < r.Relative.BaselineBodyKg
	}
	l.Sentence = r.lossSentence(&l)
	r.Loss = &l
}

// lostSince is the first point of the overall series from which none stands above
// 97.5 %.
func (r *StrengthReport) lostSince() *civil.Date {
	series := r.OverallSeries()
	first := len(series) - 1
	for first > 0 && series[first-1].Pct.Value < 97.5 {
		first--
	}
	return &series[first].Date
}

func (r *StrengthReport) lossSentence(l *Loss) string {
	chance := fmt.Sprintf("the chance that more than 2.5 %% is lost is %s", percent(l.Chance))
	switch {
	case !l.Found && len(l.In) > 0:
		return fmt.Sprintf("No real loss of strength as a whole is found (%s); taken alone, %s would tell of one.", chance, strings.Join(l.In, ", "))
	case !l.Found:
		return fmt.Sprintf("No real loss of strength is found; %s.", chance)
	case l.BodyWeight:
		return fmt.Sprintf("Strength has really dropped since about %s (%s); body weight is %.0f %% lower, and a lighter body may explain it.",
			l.Since.Format(longDate), chance, 100*(1-r.Relative.BodyKg/r.Relative.BaselineBodyKg))
	}
	return fmt.Sprintf("Strength has really dropped since about %s: %s.", l.Since.Format(longDate), chance)
}

// percent writes a chance, which is never none and never sure.
func percent(chance float64) string {
	switch {
	case chance >= 0.995:
		return "over 99 %"
	case chance < 0.005:
		return "under 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*chance)
}
