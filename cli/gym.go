package cli

import (
	"cmp"
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/phrase"
)

type gymOptions struct{ minutes, rpe float64 }

func newGym(s *session) *cobra.Command {
	var o gymOptions
	c := s.athleteArg(&cobra.Command{
		Use:   "gym ATHLETE",
		Short: "Show what is due at the gym on a date, or log how the session felt",
		Long: `Show the sessions that the programme has for a date, with what was done of each exercise
last and what waits for a clinician's word, and what is logged. With --minutes and --rpe
it logs how the whole session felt, from 0 (rest) to 10 (the hardest there is).`,
		Example: `  glidepath gym priya --as-of 2026-03-02
  glidepath gym priya --as-of 2026-03-02 --minutes 70 --rpe 7
  glidepath gym dmitri --json`,
		RunE: func(cmd *cobra.Command, args []string) error {
			logs := cmd.Flags().Changed("minutes")
			if logs != cmd.Flags().Changed("rpe") {
				return usage("How a session felt needs both --minutes and --rpe.")
			}
			return s.runGym(cmd.Context(), args[0], o, logs)
		},
	})
	c.Flags().Float64Var(&o.minutes, "minutes", 0, "how many `minutes` the session took")
	c.Flags().Float64Var(&o.rpe, "rpe", 0, "how hard the whole of it was, a `number` from 0 to 10")
	return c
}

func (s *session) runGym(ctx context.Context, name string, o gymOptions, logs bool) error {
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	if logs {
		felt := athlete.Session{Date: at.on, Minutes: o.minutes, RPE: o.rpe}
		if _, err := at.Record(ctx, at.athlete.ID, app.Batch{Sessions: []athlete.Session{felt}}, s.source("form")); err != nil {
			return err
		}
	}
	g, err := at.GymDay(ctx, at.athlete.ID, at.on)
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(g)
	}
	p := s.page()
	s.showGym(p, at, g)
	return p.flush()
}

func (s *session) showGym(p *page, at *opened, g *app.GymDay) {
	p.line("%s, %s.", at.athlete.Name, longDate(g.Date))
	if g.Programme == 0 {
		p.line("No programme is in force. Add one with glidepath programme add %s FILE.", at.athlete.ID)
	} else {
		p.line("Week %d of %q (version %d)%s.", g.Week, g.Name, g.Programme, map[bool]string{true: ", a deload"}[g.Deload])
		if len(g.Sessions) == 0 {
			p.line("No session falls on this day.")
		}
	}
	s.cautions(p, g.Cautions)
	for i := range g.Sessions {
		s.showDue(p, at, &g.Sessions[i])
	}
	if len(g.Logged) > 0 {
		p.heading("Logged")
		p.gap()
		s.showSets(p, s.notation(at.athlete.Units), g.Logged)
	}
	if f := g.Session; f != nil {
		p.para("The session took %s min and felt like %s of 10.", whole(f.Minutes), plainNumber(f.RPE))
	}
}

func (s *session) showDue(p *page, at *opened, due *app.DueSession) {
	p.heading("%s", due.Name)
	if due.Notes != "" {
		p.line("%s", due.Notes)
	}
	p.gap()
	n := s.notation(at.athlete.Units)
	rows := make([][]string, 0, len(due.Exercises))
	for i := range due.Exercises {
		e := &due.Exercises[i]
		said := []string{"not logged yet"}
		if len(e.Last) > 0 {
			said[0] = setsLine(n, e.Last) + " on " + p.date(e.LastOn)
		}
		for _, more := range []string{phrase.Sentence(e.Notes), e.Stop} {
			if more != "" {
				said = append(said, more)
			}
		}
		rows = append(rows, append(doseCells(&e.PlannedExercise), strings.Join(said, "\n")))
	}
	p.table(append(doseColumns(), column{head: "Last time", flex: true}), rows)
}

func doseColumns() []column {
	return []column{{head: "Exercise", left: true}, {head: "Sets"}, {head: "Reps"}, {head: "RIR"}, {head: "Rest s"}}
}

// doseCells are what to do of an exercise.
func doseCells(e *athlete.PlannedExercise) []string {
	reps := fmt.Sprint(e.RepsLow)
	if e.RepsHigh != e.RepsLow {
		reps += "–" + fmt.Sprint(e.RepsHigh)
	}
	rir, rest := "–", "–"
	if e.RIR != nil {
		rir = plainNumber(*e.RIR)
	}
	if e.RestSeconds > 0 {
		rest = fmt.Sprint(e.RestSeconds)
	}
	return []string{cmp.Or(strings.TrimSpace(e.Exercise), "–"), fmt.Sprint(e.Sets), reps, rir, rest}
}
