package main

import (
	"fmt"
	"strings"

	"glidepath/lab"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// tables writes a report for a terminal.
func tables(r *lab.Report) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d athletes; the target was feasible in truth for %d; for %d it was a matter of half a week either way.\n\n",
		r.Athletes, r.Feasible, r.Borderline)
	for _, t := range []table.Writer{policyTable(r), appraisalTable(r), coverageTable(r), verdictTable(r)} {
		if t.Length() > 0 {
			b.WriteString(t.Render())
			b.WriteString("\n\n")
		}
	}
	return strings.TrimRight(b.String(), "\n")
}

func newTable(title string, header ...any) table.Writer {
	t := table.NewWriter()
	t.SetStyle(table.StyleLight)
	t.Style().Format.Header = text.FormatDefault
	t.SetTitle(title)
	t.AppendHeader(header)
	return t
}

func policyTable(r *lab.Report) table.Writer {
	t := newTable("Seasons of the feasible", "policy", "on target", "on own scale", "inside class", "median off", "lean lost, kg",
		"too fast, weeks", "planned under floor", "under by truth, weeks", "changes", "size, kcal", "lowest, kcal")
	for i := range r.Rows {
		w := &r.Rows[i]
		t.AppendRow(table.Row{
			w.Policy, w.On, w.OnOwn, w.Class, fmt.Sprintf("%.2f", w.MedianOff), fmt.Sprintf("%.2f", w.LeanLostKg), w.TooFast,
			fmt.Sprintf("%.1f %%", 100*w.Planned.Value), w.TrueBelow,
			fmt.Sprintf("%.1f", w.Changes), fmt.Sprintf("%.0f", w.ChangeKcal), fmt.Sprintf("%.0f", w.LowestKcal),
		})
	}
	return t
}

func appraisalTable(r *lab.Report) table.Writer {
	t := newTable("Told at the appraisal", "policy", "infeasible: told so", "feasible: told no time", "the first, not borderline",
		"the second, not borderline", "the first, own scale", "the second, own scale")
	for i := range r.Rows {
		w := &r.Rows[i]
		if w.Recall.Of+w.False.Of > 0 {
			t.AppendRow(table.Row{w.Policy, w.Recall, w.False, w.RecallOut, w.FalseOut, w.RecallOwn, w.FalseOwn})
		}
	}
	return t
}

func coverageTable(r *lab.Report) table.Writer {
	t := newTable("What the product's intervals held", "interval of", "reviews", "50 %", "90 %", "bias", "p of even ranks")
	for _, c := range r.Coverage {
		t.AppendRow(table.Row{c.What, c.Checks, c.In50, c.In90, fmt.Sprintf("%+.2f", c.Bias), fmt.Sprintf("%.3f", c.Even)})
	}
	return t
}

func verdictTable(r *lab.Report) table.Writer {
	t := newTable("What must hold", "what", "wanted", "got", "holds")
	for _, v := range r.Verdicts {
		holds := "NO"
		if v.Holds {
			holds = "yes"
		}
		t.AppendRow(table.Row{v.What, v.Wanted, v.Got, holds})
	}
	return t
}
