package athlete

import (
	"slices"
	"time"

	"glidepath/civil"
)

// Sign is something that an athlete notices and a physician should hear of
// before the deficit goes on.
type Sign string

// The signs that a check-in asks about.
const (
	Dizzy       Sign = "dizziness"
	Fainted     Sign = "fainting"
	Pounding    Sign = "a racing or skipping heart"
	CycleMissed Sign = "a missed cycle"
	BonePain    Sign = "bone pain that stays"
	FoodFear    Sign = "fear of food, bingeing or vomiting"
)

// Signs lists the signs that apply to an athlete.
func Signs(sex Sex) []Sign {
	all := []Sign{Dizzy, Fainted, Pounding, CycleMissed, BonePain, FoodFear}
	return slices.DeleteFunc(all, func(s Sign) bool { return s == CycleMissed && sex != Female })
}

// CheckIn is what an athlete tells the coach once a week, besides what they
// measured.
type CheckIn struct {
	Date   civil.Date `json:"date"`
	Words  string     `json:"words,omitempty"` // how it goes
	Signs  []Sign     `json:"signs,omitempty"`
	SentAt time.Time  `json:"sent_at"`
	Who    string     `json:"who,omitempty"`
}

// Says reports whether two check-ins say the same, whenever they were sent.
func (k *CheckIn) Says(o *CheckIn) bool {
	return k.Date == o.Date && k.Words == o.Words && slices.Equal(k.Signs, o.Signs)
}

// maxWords is the longest text of a check-in, bytes.
const maxWords = 8000

// Validate checks a check-in.
func (k *CheckIn) Validate() error {
	var c checks
	if k.Date.IsZero() {
		c.add("date", "the check-in has no date.")
	}
	if len(k.Words) > maxWords {
		c.add("words", "the text is longer than %d characters.", maxWords)
	}
	for _, s := range k.Signs {
		if !slices.Contains(Signs(Female), s) {
			c.add("signs", "the sign %q is not one of %q.", s, Signs(Female))
		}
	}
	return c.err()
}

// Pose is how an athlete stands in a photo.
type Pose string

// The poses.
const (
	FromFront Pose = "front"
	FromSide  Pose = "side"
	FromBack  Pose = "back"
)

// Poses lists every pose.
func Poses() []Pose { return []Pose{FromFront, FromSide, FromBack} }

// Photo is a picture of an athlete, one a date and pose. The picture itself is a
// JPEG without metadata.
type Photo struct {
	Date    civil.Date `json:"date"`
	Pose    Pose       `json:"pose"`
	Width   int        `json:"width"` // pixels
	Height  int        `json:"height"`
	AddedAt time.Time  `json:"added_at"`
}

// MaxPhotoSide is the longest side that a photo is kept with, pixels.
const MaxPhotoSide = 1600

// Validate checks a photo's description.
func (p *Photo) Validate() error {
	var c checks
	if p.Date.IsZero() {
		c.add("date", "the photo has no date.")
	}
	if !slices.Contains(Poses(), p.Pose) {
		c.add("pose", "the pose %q is not one of %q.", p.Pose, Poses())
	}
	c.within("width", float64(p.Width), 1, MaxPhotoSide, "pixels")
	c.within("height", float64(p.Height), 1, MaxPhotoSide, "pixels")
	return c.err()
}
