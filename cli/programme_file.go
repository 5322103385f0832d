package cli

import (
	"bytes"
	"context"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/fault"
	"glidepath/sheet"
)

type programmeAddOptions struct {
	importOptions
	from, phase, title string
}

func newProgrammeAdd(s *session) *cobra.Command {
	var o programmeAddOptions
	c := &cobra.Command{
		Use:   "add ATHLETE FILE",
		Short: "Keep a programme that you wrote as text or as a table",
		Long: `Keep a programme as the next version. The file is plain text in the trade's own
notation:

  programme: Four days, prep
  from: 2026-03-02
  phase: prep

  week 1
    monday: Lower A
      back squat: 3 x 6-8, 2 RIR, rest 150 s  # pause at the bottom
      leg curl: 3 x 10-12, RPE 8, rest 90 s
    session: Upper A
      bench press: 4 x 6-8, 2 RIR, rest 2 min
  week 2 = week 1
  week 3 = deload of week 1

or a table, CSV or XLSX, with a row for each exercise: week, day, session, exercise,
sets, reps, RIR or RPE, rest and notes, under the headings you use. A table has no place
for a name, a date and a phase: give them with --title, --from and --phase, which also go
over what a text says. A deload of a week is half its sets, rounded up, two more in
reserve, the same loads. With - for the file it reads the standard input.`,
		Example: `  glidepath programme add priya prep.txt --who Wren
  glidepath programme add priya prep.xlsx --from 2026-03-09 --phase prep --who Wren
  glidepath programme add priya prep.csv --from 2026-03-09 --map "Pause=rest:s" --dry-run`,
		Args:              exactly(2, "Name an athlete and a file, as in %s priya prep.txt."),
		ValidArgsFunction: s.completeAthlete,
		RunE: func(cmd *cobra.Command, args []string) error {
			return s.runProgrammeAdd(cmd.Context(), args[0], args[1], o)
		},
	}
	f := c.Flags()
	f.StringVar(&o.title, "title", "", "its `name`")
	f.StringVar(&o.from, "from", "", "`date` from which it holds")
	f.StringVar(&o.phase, "phase", "", "`phase` that it is for; \"any\" for every one")
	f.StringArrayVar(&o.maps, "map", nil, "of a table: make a column a field, as `\"Heading=field:unit\"`")
	f.StringArrayVar(&o.answers, "answer", nil, "of a table: answer a `question=choice`")
	f.StringVar(&o.sheetName, "sheet", "", "`name` of the sheet in a workbook")
	f.IntVar(&o.headerRow, "header-row", 0, "`number` of the row with the headings of a table")
	f.BoolVar(&o.fresh, "fresh", false, "match the headings anew, whatever is remembered")
	f.BoolVar(&o.dryRun, "dry-run", false, "read and show, change nothing")
	return c
}

type programmeResult struct {
	Athlete   who               `json:"athlete"`
	Programme athlete.Programme `json:"programme"`
	Notes     []string          `json:"notes,omitempty"` // what was left out of a table
	Names     []app.NameSeen    `json:"names,omitempty"` // of exercises that are not sure
	DryRun    bool              `json:"dry_run,omitempty"`
}

func (s *session) runProgrammeAdd(ctx context.Context, name, path string, o programmeAddOptions) error {
	person := ""
	var err error
	if !o.dryRun {
		if person, err = s.person(); err != nil {
			return err
		}
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	v, notes, err := s.readProgramme(ctx, at, path, o)
	if err != nil {
		return err
	}
	if err := programmeFlags(&v, o.title, o.from, o.phase); err != nil {
		return err
	}
	if v.Name == "" {
		v.Name = strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
	}
	if v.From.IsZero() {
		return usage("The programme does not say from when: give --from.")
	}
	if !o.dryRun {
		return s.keepProgramme(ctx, at, v, person, notes)
	}
	if err := v.Validate(); err != nil {
		return err
	}
	return s.tellProgramme(ctx, at, programmeResult{Athlete: whoOf(at.athlete), Programme: v, Notes: notes, DryRun: true})
}

// unnamedSheet is a name that a spreadsheet program gives (from memory).
var unnamedSheet = regexp.MustCompile(`^$|^(?i:sheet|tabelle|feuil|hoja|foglio|planilha|blad|ark|arkusz|taul)\s?\d*$`)

// readProgramme reads a file, plain text or a table.
func (s *session) readProgramme(ctx context.Context, at *opened, path string, o programmeAddOptions) (athlete.Programme, []string, error) {
	data, err := s.readFile(path)
	if err != nil {
		return athlete.Programme{}, nil, err
	}
	options := sheet.Options{Sheet: o.sheetName, HeaderRow: o.headerRow}
	t, err := sheet.ProgrammeTable(path, data, options)
	if err == nil && t == nil && len(o.maps) > 0 { // the flags say that it is one
		t, err = sheet.Open(path, bytes.NewReader(data), options)
	}
	if err != nil {
		return athlete.Programme{}, nil, err
	}
	if t == nil {
		v, err := sheet.ReadProgramme(string(data))
		for _, f := range fault.All(err) {
			f.File = filepath.Base(path)
		}
		return v, nil, err
	}
	m, _, err := s.mapping(ctx, at, t, sheet.Programmes, o.importOptions)
	if err != nil {
		return athlete.Programme{}, nil, err
	}
	v, notes, err := sheet.ReadProgrammeTable(t, m)
	if err == nil && !o.dryRun {
		err = keepMapping(ctx, at, t, m)
	}
	if !unnamedSheet.MatchString(t.Sheet) {
		v.Name = t.Sheet
	}
	return v, slices.Concat(t.Notes, notes), err
}

// keepProgramme keeps a programme as the next version and tells it.
func (s *session) keepProgramme(ctx context.Context, at *opened, v athlete.Programme, person string, notes []string) error {
	version, err := at.AddProgramme(ctx, at.athlete.ID, v, person)
	if err != nil {
		return err
	}
	v.Version, v.Author = version, person
	return s.tellProgramme(ctx, at, programmeResult{Athlete: whoOf(at.athlete), Programme: v, Notes: notes})
}

func (s *session) tellProgramme(ctx context.Context, at *opened, out programmeResult) error {
	seen, err := at.NamesSeen(ctx, plannedSets(&out.Programme))
	if err != nil {
		return err
	}
	out.Names = slices.DeleteFunc(seen, func(n app.NameSeen) bool { return n.Sure })
	if s.json {
		return s.emit(out)
	}
	p := s.page()
	p.line("%s: %s.", at.athlete.Name, programmeText(&out.Programme))
	showProgramme(p, &out.Programme)
	section(p, "Notes", out.Notes)
	showNames(p, out.Names)
	if out.DryRun {
		p.para("This was a trial; nothing was changed.")
	}
	return p.flush()
}

// plannedSets are the sets of one round of a programme, by their exercises.
func plannedSets(v *athlete.Programme) (out []athlete.Set) {
	for i := range v.Weeks {
		for _, session := range v.Weeks[i].Sessions {
			for _, e := range session.Exercises {
				for range e.Sets {
					out = append(out, athlete.Set{Exercise: e.Exercise})
				}
			}
		}
	}
	return out
}

type programmeExportOptions struct {
	out, form string
	version   int
	force     bool
}

func newProgrammeExport(s *session) *cobra.Command {
	var o programmeExportOptions
	c := s.athleteArg(&cobra.Command{
		Use:   "export ATHLETE",
		Short: "Write a programme as text, CSV or XLSX",
		Long: `Write the programme that stands, or another version, as the plain text that glidepath
programme add takes, or as a table. Without --out it goes to the standard output. The
form is that of the file's name, or as --form says; a table has no place for the name, the
date and the phase.`,
		Example: `  glidepath programme export priya --as-of 2026-03-02
  glidepath programme export priya --out prep.xlsx
  glidepath programme export priya --version 1 --form csv`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runProgrammeExport(cmd.Context(), args[0], o) },
	})
	versionFlag(c, &o.version)
	f := c.Flags()
	f.StringVar(&o.out, "out", "", "`file` to write (default the standard output)")
	f.StringVar(&o.form, "form", "", "`form` of it: text, csv or xlsx")
	f.BoolVar(&o.force, "force", false, "overwrite the file")
	return c
}

func (s *session) runProgrammeExport(ctx context.Context, name string, o programmeExportOptions) error {
	form := o.form
	if form == "" {
		form = strings.TrimPrefix(strings.ToLower(filepath.Ext(o.out)), ".")
		if form != "csv" && form != "xlsx" {
			form = "text"
		}
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	v, err := s.programme(ctx, at, o.version)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	switch form {
	case "text":
		b.WriteString(sheet.WriteProgramme(*v))
	case "csv":
		err = sheet.WriteProgrammeCSV(&b, *v)
	case "xlsx":
		if o.out == "" {
			return usage("A workbook is written to a file: name it with --out.")
		}
		err = sheet.WriteProgrammeWorkbook(&b, *v)
	default:
		return usage("--form takes text, csv or xlsx, not %q.", o.form)
	}
	if err != nil {
		return err
	}
	if o.out == "" && s.json {
		return s.emit(v)
	}
	if o.out == "" {
		_, err := s.stdout.Write(b.Bytes())
		return err
	}
	if err := writeFile(o.out, b.Bytes(), o.force); err != nil {
		return err
	}
	if s.json {
		return s.emit(map[string]any{"athlete": whoOf(at.athlete), "version": v.Version, "file": o.out})
	}
	p := s.page()
	p.line("The programme of %s is in %s: %s.", at.athlete.Name, o.out, programmeText(v))
	return p.flush()
}
