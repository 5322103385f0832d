package report

import (
	"fmt"
	"strings"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/phrase"
)

// Message drafts what a coach may write to the athlete about a week: where they
// stand and what is asked, in plain words made from the figures. p is the
// prescription that it tells of, nil where there is none. It neither praises
// eating less nor blames; the coach edits it before it goes.
func Message(d *app.Dossier, p *athlete.Prescription, from string) string {
	b := builder{Dossier: d, n: chart.Notation{Units: d.Athlete.Units}}
	b.name, _, _ = strings.Cut(d.Athlete.Name, " ")
	b.now = &d.Reading.Daily[len(d.Reading.Daily)-1]
	b.limits = d.Athlete.EffectiveLimits()
	var out []string
	add := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	add("Hello %s,", b.name)
	if b.silent() {
		add("There is nothing in your log yet. A weight on most mornings, before eating, and what you ate are enough to begin with.")
	} else {
		s := fmt.Sprintf("your trend weight is %s, %s", b.weight(of(b.now.TrendKg)), rateWords(b.now.RatePct))
		if b.Show != nil {
			s += fmt.Sprintf("; it is %s to %s", weeks(b.Show.Date.DaysSince(b.AsOf)), b.Show.Name)
		}
		add("%s.", phrase.Capital(s))
	}
	switch {
	case b.Blocked != nil:
		add("I plan nothing that makes you lose weight at present: %s %s", uncapital(sentence(b.Blocked.Message)), b.Blocked.Hint)
	case p != nil:
		add("%s", b.askedOf(p))
	}
	for _, q := range b.questions() {
		add("One thing to ask you: %s", q)
	}
	add("If you feel faint, have palpitations, sleep badly for several nights or miss a cycle, tell me at once and see your doctor; the plan can wait.")
	if from != "" {
		add("%s", from)
	}
	return strings.ReplaceAll(strings.Join(out, "\n\n")+"\n", nbsp, " ")
}

func (b *builder) questions() []string {
	if b.Proposal == nil {
		return nil
	}
	var out []string
	for _, q := range b.Proposal.Questions {
		out = append(out, sentence(q))
	}
	return out
}

// askedOf is a prescription in plain words, with what is new in it.
func (b *builder) askedOf(p *athlete.Prescription) string {
	var lines []string
	same := b.Current != nil && unchanged(b.Current, p)
	if same {
		lines = append(lines, "Nothing changes this week. As a reminder:")
	} else {
		lines = append(lines, fmt.Sprintf("From %s, %s:", p.From.Weekday(), b.n.Date(p.From)))
	}
	for _, d := range p.Days {
		lines = append(lines, fmt.Sprintf("- %s days (%d a week): %s, with %s g of protein, %s g of carbohydrate, %s g of fat and at least %s g of fibre",
			phrase.Capital(string(d.Type)), d.PerWeek, kcal(d.EnergyKcal), chart.Number(d.ProteinG, 0), chart.Number(d.CarbohydrateG, 0), chart.Number(d.FatG, 0), chart.Number(d.FibreG, 0)))
	}
	lines = append(lines, "- Steps: "+chart.Number(p.Steps, 0)+" a day"+b.was(same, func(c *athlete.Prescription) float64 { return c.Steps }, p.Steps))
	cardio := "none asked"
	if len(p.Cardio) > 0 {
		cardio = (&view{Document: Document{Notation: b.n}}).CardioText(p.Cardio)
	}
	lines = append(lines, "- Cardio: "+cardio+b.was(same, (*athlete.Prescription).CardioMinutes, p.CardioMinutes()))
	if !same && len(p.Reasons) > 0 && p.Reasons[0] != "" {
		lines = append(lines, "", "Why: "+sentence(p.Reasons[0]))
	}
	return strings.Join(lines, "\n")
}

// was says what a lever stood at, where it moves.
func (b *builder) was(same bool, of func(*athlete.Prescription) float64, now float64) string {
	if same || b.Current == nil || chart.Number(of(b.Current), 0) == chart.Number(now, 0) {
		return ""
	}
	return " (was " + chart.Number(of(b.Current), 0) + ")"
}

// unchanged reports whether two prescriptions ask the same.
func unchanged(a, p *athlete.Prescription) bool {
	if len(a.Days) != len(p.Days) || a.Steps != p.Steps || a.CardioMinutes() != p.CardioMinutes() {
		return false
	}
	for i := range a.Days {
		if a.Days[i] != p.Days[i] {
			return false
		}
	}
	return true
}
