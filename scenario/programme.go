package scenario

import (
	"fmt"
	"strings"

	"glidepath/athlete"
	"glidepath/civil"
)

// programmes are what the coach writes for the gym: one for each phase of the plan,
// and where a phase has gone on for long, a block of three weeks and a deload that
// began some weeks before the demo's date. The lifts of the two sessions whose sets
// are logged are those that the gym logs, at the sets and reserve that it aims at.
func (s *Spec) programmes(newBlock int) []athlete.Programme {
	var out []athlete.Programme
	add := func(from civil.Date, phase athlete.PhaseKind, name string, weeks ...athlete.ProgrammeWeek) {
		out = append(out, athlete.Programme{
			Version: len(out) + 1, From: from, Phase: phase, Name: name, Weeks: weeks, Author: coachName,
		})
	}
	if len(s.Plan) == 0 {
		add(s.From, "", "To begin with", s.week(""))
	}
	var phase athlete.PhaseKind
	var since civil.Date
	for i := range s.Plan {
		if step := &s.Plan[i]; step.Phase != phase {
			phase, since = step.Phase, step.From
			add(since, phase, s.title(phase), s.week(phase))
		}
	}
	const longPhase = 8 // weeks
	if from := weeksBefore(newBlock); phase != "" && since < weeksBefore(longPhase) {
		block := s.week(phase)
		add(from, phase, s.title(phase)+", block of "+from.Format("January"), block, block.Copy(), block.Copy(), block.AsDeload())
	}
	return out
}

// title is a programme's name, as in "Prep, 4 days".
func (s *Spec) title(phase athlete.PhaseKind) string {
	return fmt.Sprintf("%s%s, %d days", strings.ToUpper(string(phase[:1])), phase[1:], len(trainingDays(&s.Athlete)))
}

// accessorySets are the sets of each small exercise in a phase (judgement: fewer
// where less is eaten, fewest before and after a show).
func accessorySets(phase athlete.PhaseKind) int {
	switch phase {
	case athlete.OffSeason, athlete.PrePrep:
		return 4
	case athlete.Prep:
		return 3
	}
	return 2
}

// Rests between sets, seconds (common practice, no source).
const (
	bigRest   = 180
	smallRest = 90
)

// The small exercises of the days whose sets are not logged, by turns.
var (
	maleAccessories = [][]string{
		{"lateral raise", "leg extension", "cable fly", "triceps pushdown", "dumbbell curl"},
		{"seated leg curl", "rear delt fly", "standing calf raise", "hammer curl", "cable crunch"},
	}
	femaleAccessories = [][]string{
		{"lateral raise", "seated leg curl", "cable row", "triceps pushdown", "cable crunch"},
		{"hip abduction", "leg extension", "rear delt fly", "dumbbell curl", "standing calf raise"},
	}
)

// week is a week of sessions on the training days.
func (s *Spec) week(phase athlete.PhaseKind) athlete.ProgrammeWeek {
	a := &s.Athlete
	logged, accessories := liftsOf(a), maleAccessories
	if a.Sex == athlete.Female {
		accessories = femaleAccessories
	}
	var w athlete.ProgrammeWeek
	halves := sessionDays(a)
	small := 0
	for _, d := range trainingDays(a) {
		day := d
		session := athlete.PlannedSession{Day: &day}
		if half := halves[d]; half != noSession {
			session.Name = "Main lifts " + string(rune('A'+half))
			for _, l := range logged {
				if l.session == half {
					session.Exercises = append(session.Exercises, athlete.PlannedExercise{
						Exercise: l.name, Sets: workSets, RepsLow: aimReps - 2, RepsHigh: aimReps + 2, RIR: new(float64(aimRIR)), RestSeconds: bigRest,
					})
				}
			}
		} else {
			session.Name = "Small lifts " + string(rune('A'+small%len(accessories)))
			for _, name := range accessories[small%len(accessories)] {
				session.Exercises = append(session.Exercises, athlete.PlannedExercise{
					Exercise: name, Sets: accessorySets(phase), RepsLow: 10, RepsHigh: 15, RIR: new(1.0), RestSeconds: smallRest,
				})
			}
			small++
		}
		w.Sessions = append(w.Sessions, session)
	}
	return w
}
