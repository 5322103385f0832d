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
	// ByMuscle is what Muscles is made of, in the same order.
	ByMuscle []MuscleVolume `json:"by_muscle"`
	Reps     RepsSplit      `json:"reps"`
	Effort   EffortSplit    `json:"effort"`
}

// MuscleVolume is a week's work of one muscle.
type MuscleVolume struct {
	Muscle athlete.Muscle `json:"muscle"`
	// Direct and Indirect are hard sets, each counted whole: those that train the
	// muscle directly, and those in which it assists.
	Direct    float64 `json:"direct"`
	Indirect  float64 `json:"indirect"`
	TonnageKg float64 `json:"tonnage_kg"` // of all sets, by the share that a set counts
}

// RepsSplit is the hard sets by repetitions to failure, those in reserve counted.
// By the table of percentages in use, 5 repetitions are some 87 % of a maximum and
// 12 some 70 % (coaches' tables; they differ beyond 10).
type RepsSplit struct {
	Heavy  float64 `json:"reps_1_to_5"`
	Middle float64 `json:"reps_6_to_12"`
	Light  float64 `json:"reps_13_up"`
}

// EffortSplit is the hard sets by repetitions in reserve.
type EffortSplit struct {
	Near    float64 `json:"rir_0_to_1"`
	Short   float64 `json:"rir_2_to_4"`
	Unknown float64 `json:"rir_unknown"` // not logged; taken as hard
}

// Bounds of the splits, repetitions.
const (
	heavyReps  = 5
	middleReps = 12
	nearRIR    = 1
)

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
			w.ByMuscle = append(w.ByMuscle, MuscleVolume{Muscle: m})
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
	kg := s.WeightKg * float64(s.Reps)
	w.TonnageKg += kg
	count := countOf(s)
	hard := isHard(s)
	if hard {
		w.HardSets++
		w.split(s, count)
	}
	if m == nil {
		return
	}
	for _, share := range m.Exercise.Muscles {
		i := slices.Index(athlete.Muscles(), share.Muscle)
		by := &w.ByMuscle[i]
		by.TonnageKg += kg * share.Share
		switch {
		case !hard:
			continue
		case share.Share >= Direct:
			by.Direct += count
		default:
			by.Indirect += count
		}
		w.Muscles[i].Sets += count * share.Share
	}
}

func isHard(s *athlete.Set) bool { return s.RIR == nil || *s.RIR <= hardRIR }

// countOf is what a set counts: half where it is one side of two.
func countOf(s *athlete.Set) float64 {
	if s.Side != "" {
		return 0.5
	}
	return 1
}

// split sorts a hard set by repetitions to failure and by those in reserve.
func (w *WeekVolume) split(s *athlete.Set, count float64) {
	reserve := assumedRIR
	switch {
	case s.RIR == nil:
		w.Effort.Unknown += count
	case *s.RIR <= nearRIR:
		w.Effort.Near += count
	default:
		w.Effort.Short += count
	}
	if s.RIR != nil {
		reserve = *s.RIR
	}
	switch toFailure := float64(s.Reps) + reserve; {
	case toFailure <= heavyReps:
		w.Reps.Heavy += count
	case toFailure <= middleReps:
		w.Reps.Middle += count
	default:
		w.Reps.Light += count
	}
}

// keyOf is what tells one exercise from another in a log.
func keyOf(exercise string) string { return strings.Join(wordsOf(exercise), " ") }
