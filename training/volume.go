package training

import (
	"cmp"
	"slices"
	"strings"

	"glidepath/athlete"
	"glidepath/civil"
)

// hardRIR is the most repetitions in reserve that still make a set hard. A set
// without RIR is taken as hard: people log working sets (common practice).
const hardRIR = 4

// WeekVolume is what was trained in one ISO 8601 week.
type WeekVolume struct {
	Monday    civil.Date           `json:"monday"`
	Year      int                  `json:"iso_year"`
	Week      int                  `json:"iso_week"`
	Sets      int                  `json:"sets"`      // all logged
	HardSets  int                  `json:"hard_sets"` // of them hard, whatever the exercise
	TonnageKg float64              `json:"tonnage_kg"`
	Muscles   []athlete.MuscleSets `json:"muscles"` // hard sets, in the order of athlete.Muscles, zeros included
}

// For is the week's hard sets for a muscle.
func (w *WeekVolume) For(m athlete.Muscle) float64 {
	for _, s := range w.Muscles {
		if s.Muscle == m {
			return s.Sets
		}
	}
	return 0
}

// Unknown is an exercise that the catalogue does not know.
type Unknown struct {
	Exercise string `json:"exercise"` // as first typed
	Sets     int    `json:"sets"`
}

// VolumeReport is the volume of some weeks.
type VolumeReport struct {
	Weeks []WeekVolume `json:"weeks"` // every week touched, in order, empty ones included
	// Uncounted exercises add to tonnage, but to no muscle.
	Uncounted []Unknown `json:"uncounted,omitempty"`
}

// Volume counts weekly hard sets per muscle from and to a date, inclusive. A set
// counts 1 for a muscle it trains directly and 0.5 for one that assists (Pelland
// et al. 2024). The first and last week are whole only if from is a Monday and
// to a Sunday. Two sides logged apart count half a set each.
func (c *Catalogue) Volume(sets []athlete.Set, from, to civil.Date) VolumeReport {
	var out VolumeReport
	for monday := from.Monday(); monday <= to; monday = monday.AddDays(7) {
		year, week := monday.Time().ISOWeek()
		w := WeekVolume{Monday: monday, Year: year, Week: week}
		for _, m := range athlete.Muscles() {
			w.Muscles = append(w.Muscles, athlete.MuscleSets{Muscle: m})
		}
		out.Weeks = append(out.Weeks, w)
	}
	unknown := map[string]*Unknown{}
	matches := map[string]*Match{}
	for i := range sets {
		s := &sets[i]
		if s.Date < from || s.Date > to {
			continue
		}
		w := &out.Weeks[s.Date.Monday().DaysSince(out.Weeks[0].Monday)/7]
		m, seen := matches[s.Exercise]
		if !seen {
			if found, ok := c.Lookup(s.Exercise); ok {
				m = &found
			}
			matches[s.Exercise] = m
		}
		w.add(s, m)
		if m == nil {
			key := keyOf(s.Exercise)
			if unknown[key] == nil {
				unknown[key] = &Unknown{Exercise: strings.TrimSpace(s.Exercise)}
			}
			unknown[key].Sets++
		}
	}
	for _, u := range unknown {
		out.Uncounted = append(out.Uncounted, *u)
	}
	slices.SortFunc(out.Uncounted, func(a, b Unknown) int {
		return cmp.Or(cmp.Compare(b.Sets, a.Sets), strings.Compare(a.Exercise, b.Exercise))
	})
	return out
}

func (w *WeekVolume) add(s *athlete.Set, m *Match) {
	w.Sets++
	w.TonnageKg += s.WeightKg * float64(s.Reps)
	if s.RIR != nil && *s.RIR > hardRIR {
		return
	}
	w.HardSets++
	if m == nil {
		return
	}
	count := 1.0
	if s.Side != "" {
		count = 0.5
	}
	for _, share := range m.Exercise.Muscles {
		i := slices.Index(athlete.Muscles(), share.Muscle)
		w.Muscles[i].Sets += count * share.Share
	}
}

// keyOf is what tells one exercise from another in a log.
func keyOf(exercise string) string { return strings.Join(wordsOf(exercise), " ") }
