package scenario

import (
	"strings"

	"glidepath/athlete"
	"glidepath/civil"
)

// programmes are what the coach writes for the gym: one for each phase of the plan,
// and where a phase has gone on for long, a block of three weeks and a deload that
// began some weeks before the demo's date. Its lifts are those that the gym logs, at the
// sets and reserve that it aims at.
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

// title is a programme's name, as in "Prep, main lifts".
func (s *Spec) title(phase athlete.PhaseKind) string {
	return strings.ToUpper(string(phase[:1])) + string(phase[1:]) + ", main lifts"
}

// mainRest is the rest between sets, seconds (common practice, no source).
const mainRest = 180

// note is what the coach says of a session in a phase.
func note(phase athlete.PhaseKind) string {
	switch phase {
	case athlete.Prep, athlete.PrePrep:
		return "keep the load on the bar; small lifts after these go unlogged"
	case athlete.PeakWeek, athlete.Recovery:
		return "easy; nothing else after these"
	}
	return "small lifts after these go unlogged"
}

// week is a week of the sessions whose sets are logged. The others have no place in
// it: what is written and what is logged would not be of the same training.
func (s *Spec) week(phase athlete.PhaseKind) athlete.ProgrammeWeek {
	a := &s.Athlete
	var w athlete.ProgrammeWeek
	halves := sessionDays(a)
	for _, day := range trainingDays(a) {
		half := halves[day]
		if half == noSession {
			continue
		}
		session := athlete.PlannedSession{Day: &day, Name: "Main lifts " + string(rune('A'+half)), Notes: note(phase)}
		for _, l := range liftsOf(a) {
			if l.session == half {
				session.Exercises = append(session.Exercises, athlete.PlannedExercise{
					Exercise: l.name, Sets: workSets, RepsLow: aimReps - 2, RepsHigh: aimReps + 2, RIR: new(float64(aimRIR)), RestSeconds: mainRest,
				})
			}
		}
		w.Sessions = append(w.Sessions, session)
	}
	return w
}
