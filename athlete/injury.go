package athlete

import (
	"slices"

	"glidepath/civil"
)

// Region is a part of the body that can hurt.
type Region string

// The regions.
const (
	Neck      Region = "neck"
	Shoulder  Region = "shoulder"
	Elbow     Region = "elbow"
	Wrist     Region = "wrist"
	UpperBack Region = "upper back"
	LowerBack Region = "lower back"
	Hip       Region = "hip"
	Knee      Region = "knee"
	Ankle     Region = "ankle"
	Foot      Region = "foot"
)

// Regions lists every region, from the head down.
func Regions() []Region {
	return []Region{Neck, Shoulder, Elbow, Wrist, UpperBack, LowerBack, Hip, Knee, Ankle, Foot}
}

// Valid reports whether r is a known region.
func (r Region) Valid() bool { return slices.Contains(Regions(), r) }

// Injury is a hurt that a clinician should judge before training on it goes on.
type Injury struct {
	From  civil.Date `json:"from"`
	Where Region     `json:"where"`
	What  string     `json:"what,omitempty"`
	// Until is the last day on which it bounds training; zero is still open. It
	// ends with a clinician's word.
	Until     civil.Date `json:"until,omitzero"`
	Clinician string     `json:"clinician,omitempty"` // who said that it is over
}

// OpenOn reports whether the injury bounds training on a date.
func (i *Injury) OpenOn(on civil.Date) bool {
	return i.From <= on && (i.Until.IsZero() || on <= i.Until)
}

// Validate checks an injury.
func (i *Injury) Validate() error {
	var c checks
	if i.From.IsZero() {
		c.add("injuries.from", "the injury has no date to start from.")
	}
	if !i.Where.Valid() {
		c.add("injuries.where", "the region %q is not one of %q.", i.Where, Regions())
	}
	if len(i.What) > maxWords {
		c.add("injuries.what", "the text is longer than %d characters.", maxWords)
	}
	switch {
	case i.Until.IsZero():
	case i.Until < i.From:
		c.add("injuries.until", "the injury ends on %s, before it starts on %s.", i.Until, i.From)
	case i.Clinician == "":
		c.add("injuries.clinician", "an injury is over when a clinician says so; give their name.")
	}
	return c.err()
}

// Hurt lists the regions of injuries that are open on a date, each once.
func (a *Athlete) Hurt(on civil.Date) []Region {
	var out []Region
	for i := range a.Injuries {
		if inj := &a.Injuries[i]; inj.OpenOn(on) && !slices.Contains(out, inj.Where) {
			out = append(out, inj.Where)
		}
	}
	return out
}
