package main

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"glidepath/lab"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/spf13/cobra"
)

// documentOptions: where and how large.
type documentOptions struct {
	athletes, workers int
	seed              uint64
	page, commit      string
}

func newDocument() *cobra.Command {
	var o documentOptions
	c := &cobra.Command{
		Use:   "document",
		Short: "Live every cohort of docs/laboratory.md, and write its tables and figures",
		Args:  cobra.NoArgs,
		RunE:  func(c *cobra.Command, _ []string) error { return o.run(c) },
	}
	f := c.Flags()
	f.IntVar(&o.athletes, "athletes", 500, "how many athletes in each cohort")
	f.Uint64Var(&o.seed, "seed", 100, "of the cohorts")
	f.StringVar(&o.page, "page", filepath.Join("docs", "laboratory.md"), "the page; figures are written beside it")
	f.StringVar(&o.commit, "commit", "a commit that was not named", "what the page says was measured")
	f.IntVar(&o.workers, "workers", runtime.GOMAXPROCS(0), "cores to use")
	return c
}

// cohortOfPage is one of the cohorts on the page.
type cohortOfPage struct {
	name  string // heading of its column
	plain bool   // one of the three ways of measuring, in the truth as it is
	runOptions
}

// cohortsOfPage are every cohort on the page, the main one first. Where the truth
// is twisted, the policies are those that a promise is judged against.
var cohortsOfPage = []cohortOfPage{
	{"scan", true, runOptions{measuring: "scan", policies: "all", truth: "as-is"}},
	{"calipers", true, runOptions{measuring: "calipers", policies: "all", truth: "as-is"}},
	{"eye", true, runOptions{measuring: "eye", policies: "all", truth: "as-is"}},
	{"lean loss halved", false, runOptions{measuring: "scan", policies: against, truth: "lean-half"}},
	{"lean loss + half", false, runOptions{measuring: "scan", policies: against, truth: "lean-more"}},
	{"adaptation halved", false, runOptions{measuring: "scan", policies: against, truth: "adapt-half"}},
	{"adaptation + half", false, runOptions{measuring: "scan", policies: against, truth: "adapt-more"}},
	{"intake never logged", false, runOptions{measuring: "scan", policies: against, truth: "as-is", noIntake: true}},
}

const against = "product,clairvoyant,thumb"

func (o *documentOptions) run(c *cobra.Command) error {
	text, err := os.ReadFile(o.page)
	if err != nil {
		return err
	}
	var reports []*lab.Report
	for i := range cohortsOfPage {
		k := cohortsOfPage[i]
		k.athletes, k.seed, k.workers = o.athletes, o.seed, o.workers
		cohort, names, err := k.cohort()
		if err != nil {
			return err
		}
		trial, err := try(c.Context(), cohort, names, c.ErrOrStderr(), fmt.Sprintf("%d of %d: %s", i+1, len(cohortsOfPage), k.name))
		if err != nil {
			return err
		}
		reports = append(reports, trial.Report())
		if i == 0 {
			if err := writeFigures(trial, filepath.Dir(o.page), "laboratory-"); err != nil {
				return err
			}
		}
	}
	page := string(text)
	for _, b := range o.blocks(reports) {
		if page, err = replaceBlock(page, b.name, b.text); err != nil {
			return err
		}
	}
	return os.WriteFile(o.page, []byte(page), 0o644)
}

type block struct{ name, text string }

func (o *documentOptions) blocks(reports []*lab.Report) []block {
	main := reports[0]
	measured := fmt.Sprintf("Measured on %s with seed %d. %s", o.commit, o.seed, opening(main))
	var plain, twisted []column
	for i, k := range cohortsOfPage {
		col := column{k.name, reports[i]}
		if k.plain {
			plain = append(plain, col)
		} else {
			twisted = append(twisted, col)
		}
	}
	return []block{
		{"measured", measured + "\n"},
		{"verdicts", markdown(verdictTable(main))},
		{"policies", markdown(policyTable(main))},
		{"appraisal", markdown(appraisalTable(main))},
		{"intervals", markdown(coverageTable(main)) + "\n" + markdown(reliabilityTable(main))},
		{"methods", side(plain)},
		{"robust", side(twisted)},
	}
}

// column is a report in a table of several.
type column struct {
	name   string
	report *lab.Report
}

// side is a table of promises with a column for each report.
func side(columns []column) string {
	header := []any{"what", "wanted"}
	var rows []lab.Verdict
	for _, c := range columns {
		header = append(header, c.name)
		after := 0 // what only some columns have stands where they have it
		for _, v := range c.report.Verdicts {
			at := slices.IndexFunc(rows, func(r lab.Verdict) bool { return r.What == v.What })
			if at < 0 {
				at = after
				rows = slices.Insert(rows, at, v)
			}
			after = at + 1
		}
	}
	t := newTable("", header...)
	for _, v := range rows {
		wanted := v.Wanted
		if v.Whose != "" { // a bound that differs from column to column stands in the cells
			word, _, _ := strings.Cut(wanted, " ")
			if word == "at" {
				word = strings.Join(strings.Fields(wanted)[:2], " ")
			}
			wanted = word + " " + v.Whose
		}
		line := table.Row{v.What, wanted}
		for _, c := range columns {
			line = append(line, cell(c.report, v.What))
		}
		t.AppendRow(line)
	}
	return markdown(t)
}

func cell(r *lab.Report, what string) string {
	for _, v := range r.Verdicts {
		switch {
		case v.What != what:
		case v.Holds:
			return v.Brief
		default:
			return "**" + v.Brief + "**"
		}
	}
	return ""
}

// markdown writes a table without its title.
func markdown(t table.Writer) string {
	t.SetTitle("")
	return t.RenderMarkdown() + "\n"
}

// replaceBlock puts text between the two markers of a block.
func replaceBlock(page, name, text string) (string, error) {
	from, to := "<!-- "+name+": made by the laboratory -->\n", "<!-- end of "+name+" -->"
	before, rest, ok := strings.Cut(page, from)
	_, after, ok2 := strings.Cut(rest, to)
	if !ok || !ok2 {
		return "", fmt.Errorf("the page has no place for %q", name)
	}
	return before + from + "\n" + text + "\n" + to + after, nil
}
