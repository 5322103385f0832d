package athlete

import (
	"strings"

	"glidepath/civil"
	"glidepath/fault"
)

// MinimumBMI is the body-mass index under which no deficit is planned without a
// clinician's clearance (WHO: underweight below 18.5).
const MinimumBMI = 18.5

// DeficitBlock tells why no deficit may be planned for the athlete on a date,
// nil where one may. The fault is Refused and says whom to see.
func (a *Athlete) DeficitBlock(on civil.Date) *fault.Error {
	if age := a.BirthDate.YearsUntil(on); age < Adult {
		return fault.New(fault.Refused,
			"%s is %d: no deficit is planned for anybody under %d.", a.Name, age, Adult).
			WithField("birth_date").
			WithHint("Growing bodies need a paediatrician or a sports dietitian who works with adolescents, together with a parent; train, eat enough and let the show wait.")
	}
	if open := a.Screening.Open(on); len(open) > 0 {
		words := make([]string, len(open))
		for i, c := range open {
			words[i] = string(c)
		}
		return fault.New(fault.Refused,
			"no deficit is planned for %s: the screening says %s, and no clinician's clearance is recorded.",
			a.Name, strings.Join(words, "; ")).
			WithField("screening").
			WithHint("Ask the athlete's doctor; record the clearance with the clinician's name and date.")
	}
	m := a.HeightCm / 100
	if bmi := a.WeightKg / (m * m); bmi < MinimumBMI && !a.Screening.cleared(OtherMedical, on) {
		return fault.New(fault.Refused,
			"no deficit is planned for %s: a body-mass index of %.1f is under %.1f.", a.Name, bmi, MinimumBMI).
			WithField("weight_kg").
			WithHint("Ask the athlete's doctor; a recorded clearance for %q lifts this.", OtherMedical)
	}
	return nil
}
