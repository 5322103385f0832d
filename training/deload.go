package training

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"glidepath/athlete"
	"glidepath/phrase"
)

// When a deload is due. That it halves the sets and lasts a week is common practice:
// 246 strength and physique athletes deload for 6.4 (SD 1.8) days every 5.8 (3.4)
// weeks, with fewer repetitions and sets; most also lift less (Rogerson et al. 2024,
// Sports Med Open 10:26, read as the preprint), which is not asked here, since the load
// on the bar is what keeps muscle on fewer sets. The weeks are judgement.
const (
	deloadDays     = 7
	deloadShare    = 0.5
	shortAndHeavy  = 2   // weeks of short recovery that are enough where load is high
	shortAlone     = 4   // that are enough by themselves
	loadHigh       = 1.2 // of the four weeks before
	betweenDeloads = 5   // weeks
	easyWeek       = 0.65
)

// deloads proposes a week of half the sets, where it is due.
func (s *Situation) deloads(p *Proposal) bool {
	weeks := s.shortWeeks()
	why := s.heavyLoad()
	if weeks < shortAlone && (weeks < shortAndHeavy || why == "") || s.easyLately() {
		return false
	}
	p.Action, p.Days = Deload, deloadDays
	from, to := 0.0, 0.0
	for i := range s.Doing {
		d := &s.Doing[i]
		n := math.Round(d.Sets)
		if n < 1 {
			continue
		}
		half := math.Ceil(deloadShare * n)
		p.Exercises = append(p.Exercises, ExerciseChange{Exercise: d.Name, SetsFrom: n, SetsTo: half})
		from += n
		to += half
	}
	p.CutPct = 100 * deloadShare
	if from > 0 {
		p.CutPct = 100 * (from - to) / from
	}
	p.Sentence = fmt.Sprintf("Deload: for %d days do half the sets of every exercise with the load that is on the bar, then go back to what stands.", deloadDays)
	p.say("Recovery has been short for %d weeks running%s, and no easy week lies in the last %d.", weeks, why, betweenDeloads)
	p.Expects = []string{"Fatigue and soreness should ease within the week; strength is not lost in one."}
	p.ChangesMind = []string{"If the state is no better a week after, the cause is not the training: look at food, sleep and what else weighs on the athlete."}
	return true
}

// shortWeeks counts the last weeks in a row in which recovery was surely short.
func (s *Situation) shortWeeks() (n int) {
	all := s.Recovery.Weeks
	for n < len(all) && all[len(all)-1-n].Short >= surely {
		n++
	}
	return n
}

// heavyLoad says how the load of the last two whole weeks was high, or nothing.
func (s *Situation) heavyLoad() string {
	for _, w := range s.Loads[max(0, len(s.Loads)-2):] {
		switch {
		case w.Monotony >= MonotonyHigh:
			return fmt.Sprintf(", training was monotonous in the week from %s (%.1f; strain %.0f)", w.From, w.Monotony, w.Strain)
		case w.OfUsual != nil && *w.OfUsual >= loadHigh:
			return fmt.Sprintf(", the load of the week from %s was %.1f times that of the four before", w.From, *w.OfUsual)
		}
	}
	return ""
}

// easyLately reports whether one of the last weeks had far fewer sets than the
// middle one of them.
func (s *Situation) easyLately() bool {
	last := s.Weeks[max(0, len(s.Weeks)-betweenDeloads):]
	if len(last) == 0 {
		return false
	}
	usual := middleSets(last)
	return slices.ContainsFunc(last, func(w WeekVolume) bool { return float64(w.HardSets) < easyWeek*usual })
}

// swaps takes one exercise that loads a region to be spared to a steadier one.
func (s *Situation) swaps(p *Proposal) bool {
	spare := s.spared()
	if len(spare) == 0 {
		return false
	}
	return s.swap(p, spare, func(i int) bool { return loadsAny(&s.Doing[i].Exercise, spare) })
}

// spared lists the regions that are to be spared or hurt a little.
func (s *Situation) spared() []athlete.Region {
	out := slices.Clone(s.Spare)
	for _, r := range s.Pain.small() {
		if !slices.Contains(out, r) {
			out = append(out, r)
		}
	}
	return out
}

// swap takes the most tiring of some exercises to a steadier one that leaves every
// muscle its maintenance dose.
func (s *Situation) swap(p *Proposal, spare []athlete.Region, may func(i int) bool) bool {
	var from *Doing
	var to *athlete.Exercise
	for i := range s.Doing {
		d := &s.Doing[i]
		if d.Sets < 0.5 || !may(i) || from != nil && Tiring(&d.Exercise) <= Tiring(&from.Exercise) {
			continue
		}
		all := s.Catalogue.Swaps(d.Exercise, s.Equipment, spare)
		if at := slices.IndexFunc(all, func(e athlete.Exercise) bool { return s.keepsDoses(d, &e) }); at >= 0 {
			from, to = d, &all[at]
		}
	}
	if from == nil {
		return false
	}
	n := math.Round(from.Sets)
	p.Action = Swap
	p.Exercises = []ExerciseChange{{Exercise: from.Name, SetsFrom: n, SetsTo: n, SwapTo: to.Name}}
	p.Sentence = fmt.Sprintf("Do %s in place of %s, set for set: it is steadier and tires less, and muscle grows alike on either.", to.Name, from.Name)
	if both := loadedOf(&from.Exercise, spare); both != "" {
		p.say("%s loads the %s, which is to be spared; %s does not.", phrase.Capital(from.Name), both, to.Name)
	}
	p.say("A hard set of %s is judged to tire %.1f times as much as one of %s.", from.Name, Tiring(&from.Exercise)/Tiring(to), to.Name)
	if less := lessTrained(&from.Exercise, to); less != "" {
		p.say("It trains the %s less; no muscle falls under its maintenance dose by it.", less)
	}
	p.Expects = []string{fmt.Sprintf("The strength of %s cannot be followed meanwhile; it comes back with a few sessions when the lift does.", from.Name)}
	p.ChangesMind = []string{"A state that is not short for two weeks: the lift may return."}
	return true
}

// keepsDoses reports whether every muscle keeps its maintenance dose with a swap.
func (s *Situation) keepsDoses(d *Doing, to *athlete.Exercise) bool {
	for _, m := range s.Now {
		less := d.Sets * (shareOf(&d.Exercise, m.Muscle) - shareOf(to, m.Muscle))
		if less > 0 && m.Sets-less < s.dose(m).Sets {
			return false
		}
	}
	return true
}

// lessTrained names the muscles that a swap trains less.
func lessTrained(from, to *athlete.Exercise) string {
	var out []string
	for _, m := range from.Muscles {
		if shareOf(to, m.Muscle) < m.Share {
			out = append(out, string(m.Muscle))
		}
	}
	return strings.Join(out, " and the ")
}

func loadedOf(e *athlete.Exercise, spare []athlete.Region) string {
	var out []string
	for _, r := range e.Loads {
		if slices.Contains(spare, r) {
			out = append(out, string(r))
		}
	}
	return strings.Join(out, " and the ")
}
