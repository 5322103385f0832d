package athlete

import (
	"slices"

	"glidepath/civil"
)

// Caution is an answer in the screening that bears on a deficit.
type Caution string

// The cautions. Each blocks a planned deficit until a clinician's clearance is
// recorded.
const (
	Pregnant         Caution = "pregnant or breastfeeding"
	EatingDisorder   Caution = "eating disorder, now or in the past"
	HeartCondition   Caution = "heart condition"
	KidneyCondition  Caution = "kidney condition"
	DiabetesInsulin  Caution = "diabetes with insulin"
	MissedCycles     Caution = "missed three or more cycles"
	Fainting         Caution = "fainting or palpitations"
	BoneStressInjury Caution = "bone stress injury in the past two years"
	OtherMedical     Caution = "other medical condition"
)

// Cautions lists every caution.
func Cautions() []Caution {
	return []Caution{
		Pregnant, EatingDisorder, HeartCondition, KidneyCondition, DiabetesInsulin,
		MissedCycles, Fainting, BoneStressInjury, OtherMedical,
	}
}

// Screening is what the athlete answered, and what clinicians cleared.
type Screening struct {
	AnsweredOn civil.Date  `json:"answered_on"` // zero is never asked
	Cautions   []Caution   `json:"cautions,omitempty"`
	Clearances []Clearance `json:"clearances,omitempty"`
}

// Clearance is a clinician's word that a deficit is acceptable in spite of a
// caution.
type Clearance struct {
	Caution   Caution    `json:"caution"`
	Clinician string     `json:"clinician"`
	Date      civil.Date `json:"date"`
	Until     civil.Date `json:"until"` // zero is without end
	Note      string     `json:"note,omitempty"`
}

// Open lists the cautions that no clearance covers on a date.
func (s *Screening) Open(on civil.Date) []Caution {
	var open []Caution
	for _, c := range s.Cautions {
		if !s.cleared(c, on) {
			open = append(open, c)
		}
	}
	return open
}

func (s *Screening) cleared(c Caution, on civil.Date) bool {
	return slices.ContainsFunc(s.Clearances, func(cl Clearance) bool {
		return cl.Caution == c && cl.Date <= on && (cl.Until.IsZero() || on <= cl.Until)
	})
}

// Validate checks a screening.
func (s *Screening) Validate() error {
	var c checks
	for _, k := range s.Cautions {
		if !slices.Contains(Cautions(), k) {
			c.add("screening.cautions", "the caution %q is not one of %q.", k, Cautions())
		}
	}
	for _, cl := range s.Clearances {
		if cl.Clinician == "" || cl.Date.IsZero() {
			c.add("screening.clearances", "the clearance for %q needs a clinician and a date.", cl.Caution)
		}
	}
	return c.err()
}
