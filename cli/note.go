package cli

import (
	"context"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"glidepath/access"
	"glidepath/athlete"
	"glidepath/fault"
)

type noteOptions struct {
	on     string
	remove int
}

func newNote(s *session) *cobra.Command {
	var o noteOptions
	c := &cobra.Command{
		Use:   "note ATHLETE [TEXT]",
		Short: "Write a note about a day, or show the notes",
		Long: `Write down a note about a day, for the coach's side alone: the athlete does not see
it, and the report is without it. It is marked in the corridor on the pages, goes
with the export, and is erased with the athlete. Without a text it shows the notes.`,
		Example: `  glidepath note aroha "flat at posing practice" --on 2026-03-01 --who Wren
  glidepath note aroha --as-of 2026-03-02
  glidepath note aroha --remove 3`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) < 1 || len(args) > 2 {
				return usage("Name one athlete and the text in quotes, as in %s priya \"slept badly\".", cmd.CommandPath())
			}
			return nil
		},
		ValidArgsFunction: s.completeAthlete,
		RunE: func(cmd *cobra.Command, args []string) error {
			return s.runNote(cmd.Context(), args[0], strings.Join(args[1:], ""), len(args) == 2, o)
		},
	}
	c.Flags().StringVar(&o.on, "on", "", "`date` that it is about (default the date reckoned for)")
	c.Flags().IntVar(&o.remove, "remove", 0, "remove the note of this `number`, for good")
	return c
}

type noteResult struct {
	Athlete who            `json:"athlete"`
	Notes   []athlete.Note `json:"notes"`
}

func (s *session) runNote(ctx context.Context, name, text string, write bool, o noteOptions) error {
	if write && o.remove != 0 {
		return usage("Write a note or remove one, not both.")
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	switch {
	case o.remove != 0:
		s.deed = &deed{do: access.Decide, words: "removed a note"}
		if err := at.RemoveNote(ctx, at.athlete.ID, o.remove); err != nil {
			return err
		}
		if s.json {
			return s.emit(map[string]any{"athlete": whoOf(at.athlete), "removed": o.remove})
		}
		p := s.page()
		p.line("The note is gone for good.")
		return p.flush()
	case write:
		return s.writeNote(ctx, at, strings.TrimSpace(text), o.on)
	}
	return s.showNotes(ctx, at)
}

func (s *session) writeNote(ctx context.Context, at *opened, text, day string) error {
	s.deed = &deed{do: access.Draft, words: "wrote a note"}
	person, err := s.person()
	if err != nil {
		return err
	}
	on := at.on
	if day != "" {
		if on, err = dateFlag("on", day); err != nil {
			return err
		}
	}
	if on > at.on {
		return fault.New(fault.Invalid, "%s is after %s.", longDate(on), longDate(at.on)).WithField("on").
			WithHint("Put the note on a day that has been; --as-of says which date it is.")
	}
	n, err := at.AddNote(ctx, at.athlete.ID, athlete.Note{Date: on, Text: text, Who: person})
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(noteResult{whoOf(at.athlete), []athlete.Note{*n}})
	}
	p := s.page()
	p.line("The note about %s on %s is kept, as number %d.", at.athlete.Name, longDate(on), n.Number)
	return p.flush()
}

func (s *session) showNotes(ctx context.Context, at *opened) error {
	notes, err := at.Notes(ctx, at.athlete.ID, at.on)
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(noteResult{whoOf(at.athlete), append([]athlete.Note{}, notes...)})
	}
	p := s.page()
	if len(notes) == 0 {
		p.line("Nobody has written a note about %s.", at.athlete.Name)
		return p.flush()
	}
	rows := make([][]string, 0, len(notes))
	for i := range notes {
		n := &notes[i]
		rows = append(rows, []string{date(n.Date), strconv.Itoa(n.Number), n.Who, strings.Join(strings.Fields(n.Text), " ")})
	}
	p.line("Notes about %s; the athlete does not see them.", at.athlete.Name)
	p.gap()
	p.table([]column{{head: "About"}, {head: "No."}, {head: "By", left: true}, {head: "Note", flex: true}}, rows)
	return p.flush()
}
