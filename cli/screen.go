package cli

import (
	"context"
	"slices"
	"strings"

	"charm.land/huh/v2"
	"github.com/spf13/cobra"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

type screenOptions struct {
	cautions []string
	none     bool
}

func newScreen(s *session) *cobra.Command {
	var o screenOptions
	c := s.athleteArg(&cobra.Command{
		Use:   "screen ATHLETE",
		Short: "Keep the answers of the health screening",
		Long: `Keep the answers of the health screening, in place of the earlier ones. Each caution
keeps a deficit from being planned until a clinician's clearance is recorded with
glidepath clear. The cautions, any part of which is enough:

  ` + strings.Join(cautionWords(), "\n  "),
		Example: `  glidepath screen saoirse --caution fainting --as-of 2026-03-02
  glidepath screen mara --none
  glidepath screen mara --caution "heart" --caution "kidney"`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runScreen(cmd.Context(), args[0], o) },
	})
	c.Flags().StringArrayVar(&o.cautions, "caution", nil, "a `caution` that was answered with yes; may be repeated")
	c.Flags().BoolVar(&o.none, "none", false, "every question was answered with no")
	return c
}

func cautionWords() []string {
	var out []string
	for _, c := range athlete.Cautions() {
		out = append(out, string(c))
	}
	return out
}

// cautionOf finds the caution that a part of its words names.
func cautionOf(text string) (athlete.Caution, error) {
	var found []string
	for _, c := range cautionWords() {
		if strings.EqualFold(c, text) {
			return athlete.Caution(c), nil
		}
		if text != "" && strings.Contains(c, strings.ToLower(text)) {
			found = append(found, c)
		}
	}
	switch len(found) {
	case 1:
		return athlete.Caution(found[0]), nil
	case 0:
		return "", fault.New(fault.Invalid, "%q is none of the cautions.", text).WithField("caution").
			WithHint("They are: %s.", strings.Join(cautionWords(), "; "))
	}
	return "", fault.New(fault.Unclear, "%q may be %s.", text, strings.Join(found, " or ")).WithField("caution")
}

func (s *session) runScreen(ctx context.Context, name string, o screenOptions) error {
	if o.none && len(o.cautions) > 0 {
		return usage("Give --none or cautions, not both.")
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	if !o.none && len(o.cautions) == 0 {
		if !s.asks() {
			return usage("Give each caution with --caution, or --none.")
		}
		if o.cautions, err = s.askCautions(at.athlete); err != nil {
			return err
		}
	}
	cautions := []athlete.Caution{}
	for _, text := range o.cautions {
		c, err := cautionOf(text)
		if err != nil {
			return err
		}
		if !slices.Contains(cautions, c) {
			cautions = append(cautions, c)
		}
	}
	if err := at.Screen(ctx, at.athlete.ID, at.on, cautions); err != nil {
		return err
	}
	return s.showStanding(ctx, at)
}

func (s *session) askCautions(a *athlete.Athlete) ([]string, error) {
	var chosen []string
	for _, c := range a.Screening.Cautions {
		chosen = append(chosen, string(c))
	}
	pick := huh.NewMultiSelect[string]().Title("Which of these hold for " + a.Name + "?").
		Description("Space marks, enter ends. None is an answer too.").
		Options(huh.NewOptions(cautionWords()...)...).Height(len(cautionWords()) + 2).Value(&chosen)
	err := s.form(huh.NewGroup(pick))
	return chosen, err
}

// showStanding says how the screening stands after a change.
func (s *session) showStanding(ctx context.Context, at *opened) error {
	a, err := at.Athlete(ctx, at.athlete.ID)
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(a.Screening)
	}
	p := s.page()
	p.line("The screening of %s is kept.", a.Name)
	if block := a.DeficitBlock(at.on); block != nil {
		s.cautions(p, []string{plainFault(block)})
	} else {
		p.line("A deficit may be planned.")
	}
	return p.flush()
}

func showScreening(p *page, a *athlete.Athlete, on civil.Date) {
	sc := &a.Screening
	if sc.AnsweredOn.IsZero() {
		section(p, "Screening", []string{"not answered yet: glidepath screen " + a.ID})
		return
	}
	open := sc.Open(on)
	items := []string{"answered on " + date(sc.AnsweredOn)}
	for _, c := range sc.Cautions {
		state := "cleared"
		if slices.Contains(open, c) {
			state = "open"
		}
		items = append(items, string(c)+": "+state)
	}
	for _, c := range sc.Clearances {
		until := ""
		if !c.Until.IsZero() {
			until = " until " + date(c.Until)
		}
		items = append(items, "cleared by "+c.Clinician+" on "+date(c.Date)+until+": "+string(c.Caution))
	}
	section(p, "Screening", items)
}

type clearOptions struct{ caution, clinician, on, until, note string }

func newClear(s *session) *cobra.Command {
	var o clearOptions
	c := s.athleteArg(&cobra.Command{
		Use:   "clear ATHLETE",
		Short: "Record a clinician's clearance of a caution",
		Long: `Record that a clinician holds a deficit acceptable in spite of a caution. It is the
clinician's word and name that are kept; a coach cannot clear a caution.`,
		Example: `  glidepath clear saoirse --caution fainting --clinician "Dr Amara Voss" --on 2026-03-05
  glidepath clear saoirse --caution fainting --clinician "Dr Amara Voss" --on 2026-03-05 --until 2026-09-05
  glidepath athlete view saoirse`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runClear(cmd.Context(), args[0], o) },
	})
	f := c.Flags()
	f.StringVar(&o.caution, "caution", "", "the `caution`, or a part of its words")
	f.StringVar(&o.clinician, "clinician", "", "`name` of the clinician")
	f.StringVar(&o.on, "on", "", "`date` of the clearance (default the date reckoned for)")
	f.StringVar(&o.until, "until", "", "`date` on which it ends (default it does not)")
	f.StringVar(&o.note, "note", "", "a `word` on it")
	return c
}

func (s *session) runClear(ctx context.Context, name string, o clearOptions) error {
	if o.caution == "" || o.clinician == "" {
		return usage("A clearance needs --caution and --clinician.")
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	c, err := o.clearance(at)
	if err != nil {
		return err
	}
	if err := at.AddClearance(ctx, at.athlete.ID, c); err != nil {
		return err
	}
	return s.showStanding(ctx, &opened{at.App, at.athlete, max(at.on, c.Date)})
}

func (o *clearOptions) clearance(at *opened) (c athlete.Clearance, err error) {
	c = athlete.Clearance{Clinician: o.clinician, Date: at.on, Note: o.note}
	if c.Caution, err = cautionOf(o.caution); err != nil {
		return c, err
	}
	if o.on != "" {
		if c.Date, err = dateFlag("on", o.on); err != nil {
			return c, err
		}
	}
	if o.until != "" {
		c.Until, err = dateFlag("until", o.until)
	}
	return c, err
}
