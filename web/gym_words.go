package web

import (
	"fmt"
	"strings"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
)

// hardness are the words of the session's rating (Foster et al. 2001, J Strength Cond
// Res 15:109; as printed in Egan et al. 2006, J Sports Sci Med 5:289, table 1).
var hardness = []option{
	{"", "choose"},
	{"0", "0 rest"},
	{"1", "1 very, very easy"},
	{"2", "2 easy"},
	{"3", "3 moderate"},
	{"4", "4 somewhat hard"},
	{"5", "5 hard"},
	{"6", "6"},
	{"7", "7 very hard"},
	{"8", "8"},
	{"9", "9"},
	{"10", "10 maximal"},
}

// painCare is the pain, 0 to 10, from which on a caution stands (judgement).
const painCare = 4

func hurtWords(where string) string {
	return fmt.Sprintf("It loads the %s, where you note pain: leave it out today.", where)
}

// gymLink are the words of the link to a day's session.
func gymLink(g *app.GymDay, today bool) string {
	var names []string
	for _, s := range g.Sessions {
		names = append(names, s.Name)
	}
	link, of := "Log a session", "The session: "
	if today {
		of = "Today’s session: "
	}
	if len(names) > 0 {
		link = of + strings.Join(names, " and ")
		if g.Deload {
			link += ", deload"
		}
	}
	if n := len(g.Logged); n > 0 {
		link += " (" + howMany(n, "set") + " logged)"
	}
	return link
}

// gymLead says what the day is.
func gymLead(g *app.GymDay) string {
	exercises, sets := 0, 0
	for _, s := range g.Sessions {
		exercises += len(s.Exercises)
		for _, e := range s.Exercises {
			sets += e.Sets
		}
	}
	switch {
	case len(g.Sessions) > 0:
		return fmt.Sprintf("%s, %s; week%s%d of %s.", howMany(exercises, "exercise"), howMany(sets, "set"), nbsp, g.Week, g.Name)
	case g.Programme > 0:
		return "No session is due on this day. What you do all the same can be logged here."
	}
	return "No programme is written for you yet. Log what you do: the sets of last time are offered."
}

func howMany(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d%s%s", n, nbsp, what)
}

// planWords say what is planned of an exercise; "" where nothing is.
func planWords(e *athlete.PlannedExercise, scale athlete.EffortScale) string {
	if e.Sets == 0 {
		return ""
	}
	reps := fmt.Sprint(e.RepsLow)
	if e.RepsHigh > e.RepsLow {
		reps = fmt.Sprintf("%d to %d", e.RepsLow, e.RepsHigh)
	}
	out := fmt.Sprintf("%s of %s", howMany(e.Sets, "set"), reps)
	switch {
	case e.RIR == nil:
	case scale == athlete.Exertion:
		out += " at RPE" + nbsp + shortNumber(scale.OfRIR(*e.RIR))
	default:
		out += ", leaving " + shortNumber(*e.RIR) + " in reserve"
	}
	if e.RestSeconds > 0 {
		out += "; rest " + minutesWords(e.RestSeconds)
	}
	return out + "."
}

func minutesWords(seconds int) string {
	const minute = 60
	if seconds%minute == 0 {
		return fmt.Sprintf("%d%smin", seconds/minute, nbsp)
	}
	return fmt.Sprintf("%d:%02d%smin", seconds/minute, seconds%minute, nbsp)
}

// beforeWords say what was done of an exercise last, as of a date; "" where nothing
// was.
func beforeWords(asOf, on civil.Date, sets []athlete.Set, a *athlete.Athlete) string {
	if len(sets) == 0 {
		return ""
	}
	var parts []string
	for i := range sets {
		s := &sets[i]
		one := gymWeight(s.WeightKg, a.Units) + nbsp + a.Units.WeightUnit() + nbsp + "×" + nbsp + fmt.Sprint(s.Reps)
		switch {
		case s.RIR == nil:
		case a.Effort == athlete.Exertion:
			one += nbsp + "@" + nbsp + shortNumber(a.Effort.OfRIR(*s.RIR))
		default:
			one += nbsp + "(" + shortNumber(*s.RIR) + nbsp + "RIR)"
		}
		if s.Side != "" {
			one += nbsp + s.Side
		}
		parts = append(parts, one)
	}
	const season = 300 // days after which a date needs its year
	when := notation(a).ShortDate(on)
	if asOf.DaysSince(on) > season {
		when = notation(a).Date(on)
	}
	return when + ": " + strings.Join(parts, ", ") + "."
}
