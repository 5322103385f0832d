package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/sheet"
)

type importOptions struct {
	athlete             string
	maps, answers       []string
	sheetName, encoding string
	headerRow           int
	partial, dryRun     bool
	fresh               bool
	rejected            string
	names               []string
}

const importHelp = `The headings are matched with fields, and the match is shown. What the file leaves
open, such as 03/04 in either order, is asked on a terminal; elsewhere the command
fails with the questions and the flag that answers each. The match is remembered for
the next file with the same headings.

All rows are taken or none: every bad row is named. With --partial the good rows are
taken and the bad ones are written to a file beside the input, to be mended and
imported again. Importing the same again changes nothing; a different value takes the place of
the older one, which is kept as a correction.`

func newImport(s *session) *cobra.Command {
	return subcommands("import", "Take in logs from CSV and XLSX files",
		"Take in an athlete's logs from your own tables, with your own headings.\n\n"+importHelp,
		newImportOne(s, "days", sheet.Days, "Take in daily logs: weight, food, steps, cardio, sleep", `  glidepath import days march.csv --athlete priya
  glidepath import days march.xlsx --sheet Log --athlete priya --dry-run
  glidepath import days march.csv --athlete priya --answer date-order=dmy --map "Kcals=energy:kcal" --map "Mood="`),
		newImportOne(s, "sets", sheet.Training, "Take in the training log, set by set", `  glidepath import sets gym.csv --athlete dmitri
  glidepath import sets gym.csv --athlete dmitri --answer weight-unit=lb
  glidepath import sets gym.xlsx --athlete dmitri --name "my row=cable row" --name "yoke carry="`),
		newImportOne(s, "measurements", sheet.Measurements, "Take in body fat, skinfolds and girths", `  glidepath import measurements folds.csv --athlete hana
  glidepath import measurements folds.csv --athlete hana --answer method="calipers 7-site"
  glidepath import measurements tape.csv --athlete marcus --map "Belly=girth.waist:in"`))
}

func newImportOne(s *session, name string, kind sheet.Kind, short, example string) *cobra.Command {
	var o importOptions
	c := &cobra.Command{
		Use: name + " FILE", Short: short, Long: short + ".\n\n" + importHelp + namesHelp[kind], Example: example,
		Args: exactly(1, "Name one file, as in %s march.csv --athlete priya."),
		RunE: func(cmd *cobra.Command, args []string) error { return s.runImport(cmd.Context(), kind, args[0], o) },
	}
	f := c.Flags()
	f.StringVar(&o.athlete, "athlete", "", "`ID` of the athlete")
	f.StringArrayVar(&o.maps, "map", nil, "make a column a field, as `\"Heading=field:unit\"`; \"Heading=\" leaves it out")
	f.StringArrayVar(&o.answers, "answer", nil, "answer a `question=choice`")
	f.StringVar(&o.sheetName, "sheet", "", "`name` of the sheet in a workbook")
	f.StringVar(&o.encoding, "encoding", "", "`name` of a CSV file's encoding, such as windows-1252")
	f.IntVar(&o.headerRow, "header-row", 0, "`number` of the row with the headings")
	f.BoolVar(&o.fresh, "fresh", false, "match the headings anew, whatever is remembered")
	f.BoolVar(&o.partial, "partial", false, "take the good rows, write the bad ones to a file")
	f.StringVar(&o.rejected, "rejected", "", "`file` for the bad rows (default FILE-rejected.csv)")
	f.BoolVar(&o.dryRun, "dry-run", false, "read and show, change nothing")
	if kind == sheet.Training {
		f.StringArrayVar(&o.names, "name", nil, "settle what an exercise's name means, as `\"name=exercise\"`; \"name=\" keeps it as a lift of its own")
	}
	_ = c.RegisterFlagCompletionFunc("athlete", func(cmd *cobra.Command, _ []string, begin string) ([]string, cobra.ShellCompDirective) {
		return s.completeAthlete(cmd, nil, begin)
	})
	return c
}

type importResult struct {
	Athlete    who            `json:"athlete"`
	File       string         `json:"file"`
	Kind       sheet.Kind     `json:"kind"`
	Remembered bool           `json:"remembered"` // the mapping was that of an earlier file
	Columns    []sheet.Line   `json:"columns"`
	Notes      []string       `json:"notes"`
	Good       int            `json:"good"` // days, measurements or sets
	Bad        []*fault.Error `json:"bad"`
	Rejected   string         `json:"rejected,omitempty"`
	DryRun     bool           `json:"dry_run"`
	Recorded   app.Recorded   `json:"recorded"`
	// Names are those of exercises that are not sure, with what they are taken for.
	Names []app.NameSeen `json:"names,omitempty"`
}

func (s *session) runImport(ctx context.Context, kind sheet.Kind, path string, o importOptions) error {
	if o.athlete == "" {
		return usage("Say whose log it is with --athlete.")
	}
	at, err := s.withAthlete(ctx, o.athlete)
	if err != nil {
		return err
	}
	if o.dryRun {
		s.concerns = nil // nothing of the athlete's is seen or changed
	}
	t, err := s.table(path, o)
	if err != nil {
		return err
	}
	m, remembered, err := s.mapping(ctx, at, t, kind, o)
	if err != nil {
		return err
	}
	l, err := sheet.ReadLog(t, m)
	if err != nil {
		return err
	}
	out := importResult{
		Athlete: whoOf(at.athlete), File: path, Kind: kind, Remembered: remembered, Columns: sheet.DescribeMapping(m),
		Notes: append(append([]string{}, t.Notes...), l.Notes...), Good: l.Good, Bad: append([]*fault.Error{}, l.Bad...), DryRun: o.dryRun,
	}
	out.Notes = append(out.Notes, future(l, at.on)...)
	p := s.page()
	if !s.json {
		showMapping(p, at, out)
	}
	if len(l.Bad) > 0 && !o.partial {
		if err := p.flush(); err != nil {
			return err
		}
		return refuseRows(path, l.Bad)
	}
	if out.Names, err = s.settleNames(ctx, at.App, l.Sets, o.names, o.dryRun); err != nil {
		return err
	}
	if !o.dryRun {
		batch := app.Batch{Days: l.Days, Measurements: l.Measurements, Sets: l.Sets, Sessions: l.Sessions}
		if out.Rejected, err = writeRejected(path, t, m, l.Bad, o); err != nil {
			return err
		}
		if out.Recorded, err = at.Record(ctx, at.athlete.ID, batch, s.source(path)); err != nil {
			return err
		}
		if err := keepMapping(ctx, at, t, m); err != nil {
			return err
		}
	}
	if s.json {
		return s.emit(out)
	}
	showRecorded(p, out)
	showNames(p, out.Names)
	if kind == sheet.Days && !o.dryRun {
		s.askAbout(ctx, p, at)
	}
	return p.flush()
}

// table opens the file. - is the standard input.
func (s *session) table(path string, o importOptions) (*sheet.Table, error) {
	content, err := s.readFile(path)
	if err != nil {
		return nil, err
	}
	return sheet.Open(path, bytes.NewReader(content), sheet.Options{Sheet: o.sheetName, Encoding: o.encoding, HeaderRow: o.headerRow})
}

// mapping recalls or guesses how the table is to be read, and has what it leaves
// open answered.
func (s *session) mapping(ctx context.Context, at *opened, t *sheet.Table, kind sheet.Kind, o importOptions) (m sheet.Mapping, remembered bool, err error) {
	if !o.fresh && len(o.maps) == 0 {
		if m, remembered, err = recall(ctx, at.App, t, kind); err != nil {
			return m, false, err
		}
	}
	if !remembered {
		hint := sheet.Hint{WeightKg: at.athlete.WeightKg, Units: at.athlete.Units, On: at.on, Columns: o.maps}
		if m, err = sheet.Guess(t, kind, hint); err != nil {
			return m, false, err
		}
	}
	for _, a := range o.answers {
		id, choice, ok := strings.Cut(a, "=")
		if !ok {
			return m, false, usage("--answer takes question=choice, as in date-order=dmy, not %q.", a)
		}
		if err := m.Answer(id, choice); err != nil {
			return m, false, err
		}
	}
	for len(m.Questions) > 0 {
		if !s.asks() {
			return m, false, openQuestions(t.Name, m.Questions)
		}
		q := m.Questions[0]
		choice, err := s.choose(q)
		if err != nil {
			return m, false, err
		}
		if err := m.Answer(q.ID, choice); err != nil {
			return m, false, err
		}
	}
	return m, remembered, nil
}

func recall(ctx context.Context, a *app.App, t *sheet.Table, kind sheet.Kind) (m sheet.Mapping, ok bool, err error) {
	text, ok, err := a.Mapping(ctx, mappingKey(t, kind))
	if err != nil || !ok {
		return m, false, err
	}
	// One that another version of the program made may not do: then guess anew.
	fits := json.Unmarshal(text, &m) == nil && m.Kind == kind && m.Fits(t) && len(m.Questions) == 0
	if !fits {
		return sheet.Mapping{}, false, nil
	}
	return m, true, nil
}

func mappingKey(t *sheet.Table, kind sheet.Kind) string {
	return string(kind) + ":" + sheet.Signature(t)
}

func keepMapping(ctx context.Context, at *opened, t *sheet.Table, m sheet.Mapping) error {
	text, err := json.Marshal(m)
	if err != nil {
		return err
	}
	return at.KeepMapping(ctx, mappingKey(t, m.Kind), text)
}

// openQuestions is a fault for each question, with the flags that answer it.
func openQuestions(file string, questions []sheet.Question) error {
	var errs []error
	for _, q := range questions {
		e := fault.New(fault.Unclear, "%s", q.Text)
		e.File, e.Field = file, q.ID
		ways := make([]string, 0, len(q.Choices))
		for _, c := range q.Choices {
			value := c.Value
			if strings.Contains(value, " ") {
				value = `"` + value + `"`
			}
			ways = append(ways, fmt.Sprintf("--answer %s=%s (%s)", q.ID, value, c.Text))
		}
		if len(ways) == 0 {
			ways = []string{fmt.Sprintf("--answer %s=...", q.ID)}
		}
		e.Hint = "Answer with " + strings.Join(ways, " or ") + "."
		errs = append(errs, e)
	}
	return errors.Join(errs...)
}

// future notes dates that have not come yet: most often day and month are swapped.
func future(l *sheet.Log, on civil.Date) []string {
	late := l.After(on)
	if len(late) == 0 {
		return nil
	}
	return []string{fmt.Sprintf("%s after %s, the last on %s: are day and month in the right order?",
		count(len(late), "date is", "dates are"), date(on), date(slices.Max(late)))}
}

// refuseRows names every bad row and says that nothing was taken.
func refuseRows(path string, bad []*fault.Error) error {
	errs := make([]error, 0, len(bad)+1)
	for _, f := range bad {
		errs = append(errs, f)
	}
	last := fault.New(fault.Invalid, "nothing was taken: %s.", count(sheet.BadRows(bad), "row is bad", "rows are bad")).
		WithHint("Mend the file, or take the good rows with --partial.")
	last.File = filepath.Base(path)
	return errors.Join(append(errs, last)...)
}

func writeRejected(path string, t *sheet.Table, m sheet.Mapping, bad []*fault.Error, o importOptions) (string, error) {
	if len(bad) == 0 {
		return "", nil
	}
	name := o.rejected
	if name == "" {
		name = strings.TrimSuffix(path, filepath.Ext(path)) + "-rejected.csv"
		if path == "-" {
			name = "rejected.csv"
		}
	}
	var b bytes.Buffer
	if err := sheet.WriteRejected(&b, t, m, bad); err != nil {
		return "", err
	}
	err := writeFile(name, b.Bytes(), false)
	for _, f := range fault.All(err) {
		if f.Kind == fault.Conflict {
			f.Hint = "Move it away, or name another file with --rejected."
		}
	}
	return name, err
}

func showMapping(p *page, at *opened, out importResult) {
	how := "guessed from the headings and values"
	if out.Remembered {
		how = "as you settled it the last time (--fresh matches anew)"
	}
	p.line("%s, for %s: the columns, %s.", filepath.Base(out.File), at.athlete.Name, how)
	p.gap()
	rows := make([][]string, 0, len(out.Columns))
	for _, l := range out.Columns {
		field := l.Field
		if field == "" {
			field = "(left out)"
		}
		rows = append(rows, []string{l.Column, field, l.Unit, l.Sure, l.Example})
	}
	p.table([]column{{head: "Column", left: true}, {head: "Field", left: true}, {head: "Unit", left: true}, {head: "How sure", left: true}, {head: "Example", flex: true}}, rows)
	section(p, "Notes", out.Notes)
	p.gap()
}

var goodWords = map[sheet.Kind][2]string{sheet.Days: {"day", "days"}, sheet.Measurements: {"measurement", "measurements"}, sheet.Training: {"set", "sets"}}

func showRecorded(p *page, out importResult) {
	words := goodWords[out.Kind]
	if n := len(out.Bad); n > 0 {
		for _, f := range out.Bad {
			p.hanging("  ", f.Error())
		}
		p.gap()
	}
	read := count(out.Good, words[0], words[1])
	r := out.Recorded
	total := sum(r.Days, r.Measurements, r.Sets, r.Sessions)
	switch {
	case out.DryRun:
		p.line("%s can be taken in. This was a trial; nothing was changed.", read)
	case total.Added == 0 && total.Corrected == 0:
		p.line("%s read. All of it was there already; nothing was changed.", read)
	default:
		p.line("%s read: %s added, %s as they were, %s.", read, count(total.Added, "value", "values"), whole(float64(total.Same)),
			count(total.Corrected, "corrected", "corrected"))
		if total.Corrected > 0 {
			p.line("The older values are kept: glidepath corrections %s.", out.Athlete.ID)
		}
	}
	if out.Rejected != "" {
		p.line("%s could not be taken and stand in %s, each with the reason. Mend them there and import that file.",
			count(sheet.BadRows(out.Bad), "row", "rows"), out.Rejected)
	}
}

func sum(all ...app.Merge) (m app.Merge) {
	for _, x := range all {
		m.Added, m.Same, m.Corrected = m.Added+x.Added, m.Same+x.Same, m.Corrected+x.Corrected
	}
	return m
}

// askAbout names weights that look like slips, right after they came in. The
// values are kept already, so a reading that fails is left for the read command.
func (s *session) askAbout(ctx context.Context, p *page, at *opened) {
	if d, err := at.Dossier(ctx, at.athlete.ID, at.on, app.Options{Futures: -1, NoReview: true}); err == nil {
		s.showQueries(p, d)
	}
}
