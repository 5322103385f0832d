package cli

import (
	"context"
	"strings"

	"github.com/spf13/cobra"
)

const rootHelp = `Glidepath brings a physique athlete to a contest date: it reads the daily logs,
says how much room there is, forecasts show day, and each week proposes the
smallest change that keeps the athlete on the way.

It works on one file on this computer and needs no network. To look round, begin
with the invented roster:

  glidepath demo --keep demo.db
  glidepath roster --data demo.db --as-of 2026-03-02

An athlete is named by ID, or by the beginning of one: priya for priya-raghunath.
Every number comes with its 90 % interval in brackets, unless it says otherwise.

Glidepath plans food, walking, cardio and training. It is no medical advice, and
it never advises on drugs, diuretics or cutting water.

Exit statuses
  0  done
  1  a failure inside the program
  2  the command was called wrongly
  3  the input is wrong
  4  there is no such athlete, date or file
  5  it clashes with what is stored
  6  refused: it would go beyond a safety floor
  7  unclear: a question must be answered first`

// Groups of commands in the help.
const (
	groupStart  = "start"
	groupRecord = "record"
	groupLook   = "look"
	groupWeek   = "week"
	groupShare  = "share"
	groupKeep   = "keep"
)

func newRoot(s *session) *cobra.Command {
	root := &cobra.Command{
		Use:           "glidepath",
		Short:         "Bring a physique athlete to a contest date",
		Long:          rootHelp,
		SilenceErrors: true,
		SilenceUsage:  true,
		PersistentPreRunE: func(cmd *cobra.Command, _ []string) error {
			s.path = cmd.CommandPath()
			if _, err := s.units(); err != nil {
				return err
			}
			_, err := s.asOf()
			return err
		},
	}
	root.SetOut(s.stdout)
	root.SetErr(s.stderr)
	root.SetIn(s.stdin)
	f := root.PersistentFlags()
	f.StringVar(&s.data, "data", "", "data `file` (default $GLIDEPATH_DATA, else glidepath.db in your data directory)")
	f.StringVar(&s.asOfText, "as-of", "", "`date` to reckon for, from what was known by then (default today)")
	f.BoolVar(&s.json, "json", false, "write JSON, errors too")
	f.StringVar(&s.unitsText, "units", "", "`system` of units, metric or imperial, whatever the athlete's own is")
	f.StringVar(&s.who, "who", "", "your `name`, for the record (default $GLIDEPATH_WHO)")
	f.IntVar(&s.futures, "futures", 0, "`number` of futures in a forecast (default 4000)")
	f.Float64Var(&s.confidence, "confidence", 0, "`probability`, 0.5 to 0.99, with which what a review asks leaves time (default 0.8)")
	root.AddGroup(
		&cobra.Group{ID: groupStart, Title: "Start"},
		&cobra.Group{ID: groupRecord, Title: "Record"},
		&cobra.Group{ID: groupLook, Title: "Look"},
		&cobra.Group{ID: groupWeek, Title: "Decide the week"},
		&cobra.Group{ID: groupShare, Title: "Let others in"},
		&cobra.Group{ID: groupKeep, Title: "Look after the data"},
	)
	add := func(group string, commands ...*cobra.Command) {
		for _, c := range commands {
			c.GroupID = group
			root.AddCommand(c)
		}
	}
	add(groupStart, newDemo(s), newAthlete(s), newContest(s), newEvent(s), newScreen(s), newClear(s), newLimit(s), newInjury(s), newExercise(s))
	add(groupRecord, newImport(s), newLog(s), newSet(s), newNote(s), newMeasure(s), newSettle(s), newCorrections(s))
	add(groupLook, newServe(s), newRoster(s), newRead(s), newAppraise(s), newMap(s), newForecast(s), newGym(s), newStrength(s), newCardio(s), newReport(s))
	add(groupWeek, newReview(s), newDecide(s), newPrescription(s), newProgramme(s))
	add(groupShare, newAccount(s), newToken(s), newAudit(s))
	add(groupKeep, newExport(s), newRestore(s), newErase(s), newBackup(s), newDoctor(s), newVersion(s))
	root.SetHelpCommandGroupID(groupKeep)
	root.SetCompletionCommandGroupID(groupKeep)
	root.SetUsageTemplate(strings.ReplaceAll(root.UsageTemplate(), "Global Flags:", "Flags of every command:"))
	return root
}

// athleteArg takes one athlete and offers the IDs to the shell's completion.
func (s *session) athleteArg(c *cobra.Command) *cobra.Command {
	c.Args = exactly(1, "Name one athlete, as in %s priya.")
	c.ValidArgsFunction = s.completeAthlete
	return c
}

func (s *session) completeAthlete(cmd *cobra.Command, args []string, begin string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveDefault
	}
	a, err := s.open(cmd.Context())
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	people, err := a.Athletes(cmd.Context())
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var out []string
	for i := range people {
		if strings.HasPrefix(people[i].ID, begin) {
			out = append(out, people[i].ID+"\t"+people[i].Name)
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

// exactly checks the number of arguments and says what is wanted.
func exactly(n int, wanted string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) == n {
			return nil
		}
		return usage("%s", strings.ReplaceAll(wanted, "%s", cmd.CommandPath()))
	}
}

// subcommands makes a command that only groups others.
func subcommands(use, short, long string, children ...*cobra.Command) *cobra.Command {
	c := &cobra.Command{
		Use: use, Short: short, Long: long,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usage("There is no command %q.", cmd.CommandPath()+" "+args[0])
			}
			return cmd.Help()
		},
	}
	c.AddCommand(children...)
	return c
}

// withAthlete opens the data file and finds the athlete.
func (s *session) withAthlete(ctx context.Context, text string) (*opened, error) {
	a, err := s.open(ctx)
	if err != nil {
		return nil, err
	}
	p, err := find(ctx, a, text)
	if err != nil {
		return nil, err
	}
	on, err := s.asOf()
	if err != nil {
		return nil, err
	}
	s.about(p.ID)
	return &opened{a, p, on}, nil
}
