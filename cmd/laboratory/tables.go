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
	b.WriteString(opening(r) + "\n\n")
	for _, t := range all(r) {
		if t.Length() > 0 {
			b.WriteString(t.Render() + "\n\n")
		}
	}
	return strings.TrimRight(b.String(), "\n")
}

func all(r *lab.Report) []table.Writer {
	return []table.Writer{policyTable(r), appraisalTable(r), timeTable(r), coverageTable(r), reliabilityTable(r), verdictTable(r)}
}

// opening is the sentence above the tables.
func opening(r *lab.Report) string {
	return fmt.Sprintf("%d athletes; in truth the target could be reached by %d, by another %d only its tolerance.",
		r.Athletes, r.Feasible, r.Borderline)
}

func newTable(title string, header ...any) table.Writer {
	t := table.NewWriter()
	t.SetStyle(table.StyleLight)
	t.Style().Format.Header = text.FormatDefault
	if title != "" {
		t.SetTitle(title)
	}
	t.AppendHeader(header)
	return t
}

// measure is a line of a table with a column for each policy.
type measure struct {
	name string
	of   func(*lab.Row) string
}

func number(format string, of func(*lab.Row) float64) func(*lab.Row) string {
	return func(r *lab.Row) string { return fmt.Sprintf(format, of(r)) }
}

var seasonMeasures = []measure{
	{"on target within 1 point", func(r *lab.Row) string { return r.On.String() }},
	{"the same of the borderline", func(r *lab.Row) string { return r.OnEdge.String() }},
	{"true body fat within 1 point", func(r *lab.Row) string { return r.OnInTruth.String() }},
	{"median distance, points", number("%.2f", func(r *lab.Row) float64 { return r.MedianOff })},
	{"inside the class limit", func(r *lab.Row) string { return r.Class.String() }},
	{"lean lost, kg", number("%.2f", func(r *lab.Row) float64 { return r.LeanLostKg })},
	{"four weeks beyond 1.1 x the permitted rate", func(r *lab.Row) string { return r.TooFast4.String() }},
	{"weeks beyond 1.1 x the permitted rate", func(r *lab.Row) string { return r.TooFast.String() }},
	{"weeks beyond the permitted rate", func(r *lab.Row) string { return r.Beyond.String() }},
	{"athletes ever planned below the EA floor", func(r *lab.Row) string { return r.Planned.String() }},
	{"weeks below the floor by the true body", func(r *lab.Row) string { return r.TrueBelow.String() }},
	{"changes in a season", number("%.1f", func(r *lab.Row) float64 { return r.Changes })},
	{"size of a change, kcal a day", number("%.0f", func(r *lab.Row) float64 { return r.ChangeKcal })},
	{"lowest energy, kcal a day", number("%.0f", func(r *lab.Row) float64 { return r.LowestKcal })},
}

var appraisalMeasures = []measure{
	{"infeasible, told that there is or may be no time", func(r *lab.Row) string { return r.Recall.String() }},
	{"infeasible, told that there is none", func(r *lab.Row) string { return r.Outright.String() }},
	{"feasible, told that there is no time", func(r *lab.Row) string { return r.False.String() }},
	{"feasible, told that there is or may be none", func(r *lab.Row) string { return r.Doubted.String() }},
	{"borderline, told that there is no time", func(r *lab.Row) string { return r.EdgeToldNo.String() }},
}

func byPolicy(title string, measures []measure, rows []lab.Row) table.Writer {
	header := []any{""}
	for i := range rows {
		header = append(header, string(rows[i].Policy))
	}
	t := newTable(title, header...)
	if len(rows) == 0 {
		return t
	}
	for _, m := range measures {
		line := table.Row{m.name}
		for i := range rows {
			line = append(line, m.of(&rows[i]))
		}
		t.AppendRow(line)
	}
	return t
}

func policyTable(r *lab.Report) table.Writer {
	return byPolicy("Seasons of the feasible", seasonMeasures, r.Rows)
}

func appraisalTable(r *lab.Report) table.Writer {
	var said []lab.Row
	for _, w := range r.Rows {
		if w.Recall.Of+w.False.Of > 0 {
			said = append(said, w)
		}
	}
	return byPolicy("Told at the appraisal", appraisalMeasures, said)
}

func coverageTable(r *lab.Report) table.Writer {
	t := newTable("What the product's intervals held", "interval of", "reviews", "50 %", "90 %", "bias", "p of ranks as uneven by chance")
	for _, c := range r.Coverage {
		t.AppendRow(table.Row{c.What, c.Checks, c.In50, c.In90, fmt.Sprintf("%+.2f", c.Bias), fmt.Sprintf("%.3f", c.Even)})
	}
	return t
}

func reliabilityTable(r *lab.Report) table.Writer {
	return reliable("The product's chance to be on target", "forecasts", r.Reliability)
}

func timeTable(r *lab.Report) table.Writer {
	return reliable("The product's chance, at the appraisal, that there is time", "athletes", r.TimeReliability)
}

func reliable(title, of string, rows []lab.Reliable) table.Writer {
	t := newTable(title, "said", "mean said", "came true", of)
	for _, b := range rows {
		t.AppendRow(table.Row{
			fmt.Sprintf("%.0f to %.0f %%", 100*b.From, 100*b.To), fmt.Sprintf("%.0f %%", 100*b.Said), b.Came, fmt.Sprintf("%.0f", b.Came.Of),
		})
	}
	return t
}

func yes(holds bool) string {
	if holds {
		return "yes"
	}
	return "NO"
}

func verdictTable(r *lab.Report) table.Writer {
	t := newTable("What must hold", "what", "wanted", "got", "holds")
	for _, v := range r.Verdicts {
		wanted := v.Wanted
		if v.Whose != "" {
			wanted += ", " + v.Whose
		}
		t.AppendRow(table.Row{v.What, wanted, v.Got, yes(v.Holds)})
	}
	return t
}
