package cli

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

func newProgramme(s *session) *cobra.Command {
	return subcommands("programme", "Write, show and export an athlete's training programme",
		"A programme is weeks of sessions that follow each other from a Monday on and begin again\n"+
			"after the last. It is written as plain text or as a table; each is a version, and the newest\n"+
			"that has begun and is for the phase in force, or for any, is the one that stands.",
		newProgrammeShow(s), newProgrammeList(s), newProgrammeAdd(s), newProgrammeCopy(s), newProgrammeExport(s))
}

// programmes are all versions, with the one that stands on the date reckoned for; 0
// is none.
func (s *session) programmes(ctx context.Context, at *opened) (all []athlete.Programme, stands int, err error) {
	if all, err = at.Programmes(ctx, at.athlete.ID, farAhead); err != nil {
		return nil, 0, err
	}
	g, err := at.GymDay(ctx, at.athlete.ID, at.on)
	if err != nil {
		return nil, 0, err
	}
	return all, g.Programme, nil
}

// farAhead is after any programme's beginning.
var farAhead = civil.Of(9999, 12, 31)

// programme is a version, 0 being the one that stands, or else the last.
func (s *session) programme(ctx context.Context, at *opened, version int) (*athlete.Programme, error) {
	all, stands, err := s.programmes(ctx, at)
	if err != nil {
		return nil, err
	}
	if len(all) == 0 {
		return nil, fault.New(fault.NotFound, "%s has no programme.", at.athlete.Name).
			WithHint("Add one with glidepath programme add %s FILE.", at.athlete.ID)
	}
	if version == 0 {
		if version = stands; stands == 0 {
			version = all[len(all)-1].Version
		}
	}
	if i := slices.IndexFunc(all, func(p athlete.Programme) bool { return p.Version == version }); i >= 0 {
		return &all[i], nil
	}
	return nil, fault.New(fault.NotFound, "%s has no version %d of a programme.", at.athlete.Name, version).
		WithHint("See glidepath programme list %s.", at.athlete.ID)
}

func versionFlag(c *cobra.Command, into *int) {
	c.Flags().IntVar(into, "version", 0, "`number` of the version (default the one that stands)")
}

func newProgrammeShow(s *session) *cobra.Command {
	var version int
	c := s.athleteArg(&cobra.Command{
		Use:   "show ATHLETE",
		Short: "Show the programme that stands, week by week",
		Long:  "Show the programme that stands on the date reckoned for, or another version. What is due on\na day, with what was done last, is shown by glidepath gym.",
		Example: `  glidepath programme show priya --as-of 2026-03-02
  glidepath programme show priya --version 1
  glidepath programme show dmitri --json`,
		RunE: func(cmd *cobra.Command, args []string) error {
			return s.runProgrammeShow(cmd.Context(), args[0], version)
		},
	})
	versionFlag(c, &version)
	return c
}

func (s *session) runProgrammeShow(ctx context.Context, name string, version int) error {
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	v, err := s.programme(ctx, at, version)
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(v)
	}
	p := s.page()
	p.line("%s: %s.", at.athlete.Name, programmeText(v))
	showProgramme(p, v)
	return p.flush()
}

func programmeText(v *athlete.Programme) string {
	text := fmt.Sprintf("%q, from %s, for %s", v.Name, longDate(v.From), forPhase(v.Phase))
	if v.Version > 0 {
		text += fmt.Sprintf("; version %d", v.Version)
	}
	if v.Author != "" {
		text += ", by " + v.Author
	}
	return text
}

func forPhase(k athlete.PhaseKind) string {
	if k == "" {
		return "any phase"
	}
	return string(k)
}

// showProgramme writes the weeks; those like an earlier one in a line.
func showProgramme(p *page, v *athlete.Programme) {
	if v.Notes != "" {
		p.para("%s", v.Notes)
	}
	for i := range v.Weeks {
		w := &v.Weeks[i]
		deload := map[bool]string{true: ", deload"}[w.Deload]
		like := slices.IndexFunc(v.Weeks[:i], func(o athlete.ProgrammeWeek) bool { return reflect.DeepEqual(o, *w) })
		switch {
		case len(w.Sessions) == 0:
			p.para("Week %d%s: no session.", i+1, deload)
			continue
		case like >= 0:
			p.para("Week %d%s: as week %d.", i+1, deload, like+1)
			continue
		}
		p.heading("Week %d%s", i+1, deload)
		for j := range w.Sessions {
			showSession(p, &w.Sessions[j])
		}
	}
}

func showSession(p *page, s *athlete.PlannedSession) {
	day := "on a training day"
	if s.Day != nil {
		day = "on " + time.Weekday(*s.Day).String()
	}
	p.para("%s, %s", s.Name, day)
	if s.Notes != "" {
		p.line("%s", s.Notes)
	}
	rows := make([][]string, 0, len(s.Exercises))
	for i := range s.Exercises {
		rows = append(rows, append(doseCells(&s.Exercises[i]), s.Exercises[i].Notes))
	}
	p.table(append(doseColumns(), column{head: "", flex: true}), rows)
}

func newProgrammeList(s *session) *cobra.Command {
	return s.athleteArg(&cobra.Command{
		Use:   "list ATHLETE",
		Short: "List the versions of an athlete's programme",
		Long:  "List every version of an athlete's programme, and which one stands on the date reckoned for.",
		Example: `  glidepath programme list priya --as-of 2026-03-02
  glidepath programme list hana
  glidepath programme list hana --json`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runProgrammeList(cmd.Context(), args[0]) },
	})
}

type programmesResult struct {
	Athlete    who                 `json:"athlete"`
	Stands     int                 `json:"stands"` // version; 0 is none
	Programmes []athlete.Programme `json:"programmes"`
}

func (s *session) runProgrammeList(ctx context.Context, name string) error {
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	all, stands, err := s.programmes(ctx, at)
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(programmesResult{whoOf(at.athlete), stands, append([]athlete.Programme{}, all...)})
	}
	p := s.page()
	if len(all) == 0 {
		p.line("%s has no programme yet.", at.athlete.Name)
		return p.flush()
	}
	p.line("The programmes of %s, on %s.", at.athlete.Name, longDate(at.on))
	p.gap()
	rows := make([][]string, 0, len(all))
	for i := range all {
		v := &all[i]
		rows = append(rows, []string{
			fmt.Sprint(v.Version), date(v.From), forPhase(v.Phase), fmt.Sprint(len(v.Weeks)),
			map[bool]string{true: "stands"}[v.Version == stands], v.Name,
		})
	}
	p.table([]column{{head: "No."}, {head: "From"}, {head: "For", left: true}, {head: "Weeks"}, {head: "", left: true}, {head: "Name", flex: true}}, rows)
	return p.flush()
}

type programmeCopyOptions struct {
	to, from, phase, title string
	version                int
}

func newProgrammeCopy(s *session) *cobra.Command {
	var o programmeCopyOptions
	c := s.athleteArg(&cobra.Command{
		Use:   "copy ATHLETE",
		Short: "Begin a programme anew, for the same athlete or another",
		Long: `Keep a copy of a programme as a new version that begins with its first week on a date:
for the same athlete in another phase, or for another athlete. To change it on the way,
export it, edit the text, and add that.`,
		Example: `  glidepath programme copy priya --to lucia --from 2026-03-09 --who Wren
  glidepath programme copy priya --version 1 --from 2026-06-22 --phase recovery --who Wren
  glidepath programme copy dmitri --from 2026-03-09 --title "Second block" --who Wren`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runProgrammeCopy(cmd.Context(), args[0], o) },
	})
	versionFlag(c, &o.version)
	f := c.Flags()
	f.StringVar(&o.to, "to", "", "`ID` of the athlete to have it (default the same)")
	f.StringVar(&o.from, "from", "", "`date` from which it holds")
	f.StringVar(&o.phase, "phase", "", "`phase` that it is for (default as it was; \"any\" for every one)")
	f.StringVar(&o.title, "title", "", "its `name` (default as it was)")
	return c
}

func (s *session) runProgrammeCopy(ctx context.Context, name string, o programmeCopyOptions) error {
	if o.from == "" {
		return usage("Say from when with --from.")
	}
	person, err := s.person()
	if err != nil {
		return err
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	v, err := s.programme(ctx, at, o.version)
	if err != nil {
		return err
	}
	if o.to != "" {
		if at.athlete, err = find(ctx, at.App, o.to); err != nil {
			return err
		}
		s.about(at.athlete.ID)
	}
	next := *v
	if err := programmeFlags(&next, o.title, o.from, o.phase); err != nil {
		return err
	}
	return s.keepProgramme(ctx, at, next, person, nil)
}

// programmeFlags puts what flags say over what a programme says itself.
func programmeFlags(v *athlete.Programme, title, from, phase string) (err error) {
	if title != "" {
		v.Name = title
	}
	if from != "" {
		if v.From, err = dateFlag("from", from); err != nil {
			return err
		}
	}
	switch k := athlete.PhaseKind(phase); {
	case phase == "any":
		v.Phase = ""
	case phase != "" && !k.Valid():
		return usage("--phase takes %s or any, not %q.", list(athlete.PhaseKinds()), phase)
	case phase != "":
		v.Phase = k
	}
	return nil
}
