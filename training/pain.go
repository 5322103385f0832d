package training

import (
	"fmt"
	"slices"
	"strings"

	"glidepath/athlete"
	"glidepath/civil"
)

// Pain from which a clinician is asked: once as bad as painBad of 10, or on painOften
// days of two weeks. Judgement, on the careful side: supervised rehabilitation lets
// tendon pain rise to 5 of 10 (Thomee 1997, from memory), but nobody supervises here.
const (
	painBad   = 4.0
	painOften = 3
	painDays  = 14
)

// Pain is what hurts, by the profile and the logs of two weeks.
type Pain struct {
	Injuries []athlete.Region // open ones
	Places   []PainPlace      // in order of first appearance
	Bone     bool             // a check-in says that a bone hurts and goes on hurting
}

// PainPlace is where it hurt, how often and how badly.
type PainPlace struct {
	Where athlete.Region // empty where it was not said
	Days  int
	Worst float64 // of 10
}

// GatherPain looks at the 14 days to a date, that day included.
func GatherPain(days []athlete.Day, checkIns []athlete.CheckIn, injuries []athlete.Region, asOf civil.Date) Pain {
	p := Pain{Injuries: injuries}
	recent := func(on civil.Date) bool { return on <= asOf && on > asOf.AddDays(-painDays) }
	for i := range days {
		d := &days[i]
		if d.Pain == nil || *d.Pain <= 0 || !recent(d.Date) {
			continue
		}
		at := slices.IndexFunc(p.Places, func(x PainPlace) bool { return x.Where == d.PainWhere })
		if at < 0 {
			at = len(p.Places)
			p.Places = append(p.Places, PainPlace{Where: d.PainWhere})
		}
		p.Places[at].Days++
		p.Places[at].Worst = max(p.Places[at].Worst, *d.Pain)
	}
	for i := range checkIns {
		p.Bone = p.Bone || recent(checkIns[i].Date) && slices.Contains(checkIns[i].Signs, athlete.BonePain)
	}
	return p
}

func (p *PainPlace) defers() bool { return p.Worst >= painBad || p.Days >= painOften }

func (p *PainPlace) words() string {
	where := "somewhere (it is not said where)"
	if p.Where != "" {
		where = fmt.Sprintf("at the %s", p.Where)
	}
	times := fmt.Sprintf("on %d of the last %d days", p.Days, painDays)
	return fmt.Sprintf("Pain %s %s, at worst %.0f of 10", where, times, p.Worst)
}

// small lists the regions of pain that does not wait for a clinician.
func (p *Pain) small() (out []athlete.Region) {
	for i := range p.Places {
		if x := &p.Places[i]; !x.defers() && x.Where != "" {
			out = append(out, x.Where)
		}
	}
	return out
}

// deferral is what waits for a clinician: the reasons, and the regions, none where it
// is not said where it hurts.
func (p *Pain) deferral() (reasons []string, regions []athlete.Region) {
	for _, r := range p.Injuries {
		reasons = append(reasons, fmt.Sprintf("An injury of the %s is open.", r))
		regions = append(regions, r)
	}
	for i := range p.Places {
		if x := &p.Places[i]; x.defers() {
			reasons = append(reasons, x.words()+".")
			if x.Where != "" && !slices.Contains(regions, x.Where) {
				regions = append(regions, x.Where)
			}
		}
	}
	if p.Bone {
		reasons = append(reasons, "The check-in tells of bone pain that stays.")
	}
	return reasons, regions
}

// defers leaves what hurts to a clinician, and reports whether anything does.
func (s *Situation) defers(p *Proposal) bool {
	reasons, regions := s.Pain.deferral()
	if len(reasons) == 0 {
		return false
	}
	p.Action, p.Reasons = Defer, reasons
	for i := range s.Doing {
		if d := &s.Doing[i]; loadsAny(&d.Exercise, regions) {
			p.Waits = append(p.Waits, d.Name)
		}
	}
	named := make([]string, len(regions))
	for i, r := range regions {
		named[i] = string(r)
	}
	where := "what hurts"
	if len(named) > 0 {
		where = "the " + strings.Join(named, ", the ")
	}
	p.Sentence = fmt.Sprintf("What loads %s is for a clinician or physiotherapist to say before sets change; nothing else changes meanwhile.", where)
	if len(p.Waits) > 0 {
		p.say("Until they have spoken, leave out %s.", strings.Join(p.Waits, ", "))
	}
	p.Cautions = append(p.Cautions, "Do not train through pain that is sharp, spreads, wakes at night or follows a fall.")
	if s.Pain.Bone {
		p.Cautions = append(p.Cautions, "Bone pain that stays can be a stress fracture, more so where energy availability is low: stop what loads it, and see a doctor before training on.")
	}
	p.ChangesMind = []string{"A clinician's word on what may be trained, and how; an injury is closed with their name."}
	return true
}

// mentionSmallPain warns of pain that does not wait for a clinician.
func (s *Situation) mentionSmallPain(p *Proposal) {
	for i := range s.Pain.Places {
		if x := &s.Pain.Places[i]; !x.defers() {
			p.Cautions = append(p.Cautions, x.words()+": keep an eye on it; from "+
				fmt.Sprintf("%.0f of 10, or on %d days, ask a clinician.", painBad, painOften))
		}
	}
}
