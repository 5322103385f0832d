package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"glidepath/lab"
)

// laboratory runs the program.
func laboratory(t *testing.T, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	code = run(t.Context(), args, &out, &errs)
	return code, out.String(), errs.String()
}

func TestRunPrintsWhatHolds(t *testing.T) {
	dir := t.TempDir()
	code, out, errs := laboratory(t, "run", "--athletes", "3", "--seed", "4", "--policies", "product,thumb", "--out", dir)
	if code != 0 {
		t.Fatalf("exit %d: %s", code, errs)
	}
	for _, want := range []string{
		"3 athletes; in truth the target could be reached by", "Seasons of the feasible", "Told at the appraisal",
		"weight in 4 weeks", "What must hold", "never",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	if strings.Contains(out, "%!") {
		t.Errorf("a broken format in\n%s", out)
	}
	for _, name := range []string{"errors", "ranks", "coverage", "reliability"} {
		if _, err := os.Stat(filepath.Join(dir, name+".svg")); err != nil {
			t.Error(err)
		}
	}
	if !strings.Contains(errs, "3 athletes, 2 policies") {
		t.Errorf("no progress told: %q", errs)
	}
}

func TestRunAsJSON(t *testing.T) {
	code, out, errs := laboratory(t, "run", "--athletes", "2", "--policies", "thumb", "--no-intervals", "--json")
	var got struct {
		Report lab.Report
		Trial  lab.Trial
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil || code != 0 {
		t.Fatalf("exit %d, %v: %s", code, err, errs)
	}
	if len(got.Trial.Outcomes[lab.Thumb]) != 2 || len(got.Report.Rows) != 1 || got.Trial.Outcomes[lab.Thumb][0].StagePct <= 0 {
		t.Errorf("%+v", got)
	}
}

// Without the product nothing is promised; with three athletes hardly anything
// holds.
func TestStrict(t *testing.T) {
	if code, _, errs := laboratory(t, "run", "--athletes", "3", "--policies", "thumb", "--strict"); code != 0 {
		t.Errorf("exit %d with nothing to hold: %s", code, errs)
	}
	if code, _, _ := laboratory(t, "run", "--athletes", "3", "--policies", "product", "--strict"); code != 2 {
		t.Errorf("exit %d, want 2: the intervals of three athletes cannot hold between 47 and 53 %%, all of them", code)
	}
}

func TestWhatCannotBeRun(t *testing.T) {
	for _, c := range []struct{ args, says string }{
		{"run --athletes 0", "at least one"},
		{"run --measuring tape", "scan, calipers, eye"},
		{"run --truth easy", "as-is"},
		{"run --policies product,nobody", "clairvoyant"},
		{"run here", "unknown command"},
		{"document --page nowhere.md", "nowhere.md"},
	} {
		code, out, errs := laboratory(t, strings.Fields(c.args)...)
		if code != 1 || out != "" || !strings.Contains(errs, c.says) {
			t.Errorf("%s: exit %d, %q, %q; want %q", c.args, code, out, errs, c.says)
		}
	}
}

// The real page has a place for each table, which can be made again and again.
func TestDocumentFillsThePage(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "docs", "laboratory.md"))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	page := filepath.Join(dir, "laboratory.md")
	if err := os.WriteFile(page, text, 0o644); err != nil {
		t.Fatal(err)
	}
	code, _, errs := laboratory(t, "document", "--athletes", "1", "--seed", "5", "--page", page, "--commit", "a test")
	if code != 0 {
		t.Fatalf("exit %d: %s", code, errs)
	}
	made, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	last := string(made)
	again, err := replaceBlock(last, "measured", "another time\n")
	if err != nil || !strings.Contains(again, "another time") || strings.Contains(again, "Measured on") {
		t.Errorf("made again, %v:\n%s", err, again[:min(len(again), 300)])
	}
	for _, want := range []string{"Measured on a test with seed 5. 1 athletes", "| what | wanted | scan | calipers | eye |", "| intake never logged |"} {
		if !strings.Contains(last, want) {
			t.Errorf("no %q on the page", want)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, "laboratory-ranks.svg")); err != nil {
		t.Error(err)
	}
}

func TestWhatOnlySomeColumnsHaveStandsThere(t *testing.T) {
	a := &lab.Report{Verdicts: []lab.Verdict{{What: "first", Wanted: "at least 95 %", Brief: "96 %", Holds: true}, {What: "last", Wanted: "never", Brief: "1"}}}
	b := &lab.Report{Verdicts: []lab.Verdict{
		{What: "first", Brief: "94 %"},
		{What: "between", Wanted: "under 9 kcal", Whose: "the other's", Brief: "8 kcal (9)", Holds: true},
		{What: "last", Brief: "0", Holds: true},
	}}
	got := side([]column{{"a", a}, {"b", b}})
	want := `| what | wanted | a | b |
| --- | --- | --- | --- |
| first | at least 95 % | 96 % | **94 %** |
| between | under the other's |  | 8 kcal (9) |
| last | never | **1** | 0 |
`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
