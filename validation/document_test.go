package validation

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the tables and figures of docs/validation.md")

const docs = "../docs"

// The tables and figures of docs/validation.md are what the engine gives today,
// to within 0.15 in a number of the text and 5 points in a drawing. A change of
// the engine that moves them more has to rewrite them:
//
//	go test ./validation -run TestDocument -update
func TestDocument(t *testing.T) {
	all := leadAll()
	figures := map[string][]byte{
		"validation-residuals.svg": residualFigure(t, all),
		"validation-halliday.svg":  hallidayFigure(t),
		"validation-series.svg":    seriesFigure(t),
	}
	page := filepath.Join(docs, "validation.md")
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	fresh := string(text)
	for name, table := range map[string]string{
		"led": ledTable(all), "fed": fedTable(), "series": seriesTable(t), "sources": sources(),
	} {
		fresh = replaceBlock(t, fresh, name, table)
	}
	if *update {
		if err := os.WriteFile(page, []byte(fresh), 0o644); err != nil {
			t.Fatal(err)
		}
		for name, svg := range figures {
			if err := os.WriteFile(filepath.Join(docs, name), svg, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		return
	}
	const hint = "; if that is meant, run: go test ./validation -run TestDocument -update"
	if d := differs(string(text), fresh, 0.15); d != "" {
		t.Errorf("validation.md is behind the engine: %s%s", d, hint)
	}
	for name, svg := range figures {
		was, err := os.ReadFile(filepath.Join(docs, name))
		if err != nil {
			t.Fatal(err)
		}
		if d := differs(string(was), string(svg), 5); d != "" {
			t.Errorf("%s is behind the engine: %s%s", name, d, hint)
		}
	}
}

// replaceBlock puts a table between its two markers.
func replaceBlock(t *testing.T, text, name, table string) string {
	t.Helper()
	from, to := "<!-- "+name+": made by the tests -->\n", "<!-- end of "+name+" -->"
	before, rest, ok := strings.Cut(text, from)
	_, after, ok2 := strings.Cut(rest, to)
	if !ok || !ok2 {
		t.Fatalf("validation.md has no place for the table %q", name)
	}
	return before + from + "\n" + table + "\n" + to + after
}

var number = regexp.MustCompile(`[-+]?\d+(\.\d+)?`)

// differs tells the first place where two texts differ by more than numbers
// within a tolerance, empty where they do not.
func differs(a, b string, tolerance float64) string {
	x, y := number.FindAllString(a, -1), number.FindAllString(b, -1)
	restA, restB := number.Split(a, -1), number.Split(b, -1)
	if len(restA) != len(restB) {
		return fmt.Sprintf("%d numbers, now %d", len(x), len(y))
	}
	for i := range restA {
		if restA[i] != restB[i] {
			return fmt.Sprintf("%q, now %q", restA[i], restB[i])
		}
		if i == len(x) {
			break
		}
		p, _ := strconv.ParseFloat(x[i], 64)
		q, _ := strconv.ParseFloat(y[i], 64)
		if math.Abs(p-q) > tolerance {
			return fmt.Sprintf("%s after %q, now %s", x[i], tail(restA[i]), y[i])
		}
	}
	return ""
}

func tail(s string) string { return s[max(0, len(s)-40):] }

func TestDiffers(t *testing.T) {
	for _, c := range []struct {
		a, b string
		same bool
	}{
		{"fat +1.02 kg", "fat +1.1 kg", true},
		{"fat +1.02 kg", "fat +1.4 kg", false},
		{"fat 0.05 kg", "fat -0.05 kg", true},
		{"fat 1 kg", "lean 1 kg", false},
		{"1 2", "1 2 3", false},
	} {
		if got := differs(c.a, c.b, 0.15) == ""; got != c.same {
			t.Errorf("%q and %q: same is %v", c.a, c.b, got)
		}
	}
}

func ledTable(all []led) string {
	var b strings.Builder
	b.WriteString("| study | people | weeks | weight, kg | fat, kg | fat, predicted | off | Forbes off | own k |\n|---|---|---|---|---|---|---|---|---|\n")
	last := role("")
	for i := range all {
		l := &all[i]
		if l.role != last {
			fmt.Fprintf(&b, "| **%s** | | | | | | | | |\n", l.role)
			last = l.role
		}
		mark := ""
		if l.assumed != "" {
			mark = " \\*"
		}
		own := "none"
		if l.ownScale > 0 {
			own = fmt.Sprintf("%.2f", l.ownScale)
		}
		fmt.Fprintf(&b, "| %s%s | %s | %g | %.1f to %.1f | %.1f to %.1f | %.1f | %+.1f | %+.1f | %s |\n",
			l.key, mark, l.people, l.weeks, l.weight0, l.weight1, l.fat0, l.fat1, l.trained, l.residual(), l.forbesResidual(), own)
	}
	b.WriteString("\n| root mean square, kg | trained | Forbes |\n|---|---|---|\n")
	for _, r := range []role{calibration, trained, outside} {
		fmt.Fprintf(&b, "| %s | %.2f | %.2f |\n", r, rms(all, (*led).residual, r), rms(all, (*led).forbesResidual, r))
	}
	b.WriteString("\nRobinson with another guess of the fat he began with:")
	for _, fat0 := range []float64{10, 13, 18} {
		s := *studyOf("Robinson")
		s.fat0, s.fat1 = fat0, fat0-6.7
		l := s.lead()
		fmt.Fprintf(&b, " %g kg, off by %+.1f;", fat0, l.residual())
	}
	got, want := regain()
	fmt.Fprintf(&b, " reported fat loss 6.7 kg.\nRegain (Trexler): fat %.1f kg predicted, %.1f reported.\n\n\\* Assumed:\n\n", got, want)
	for i := range all {
		if all[i].assumed != "" {
			fmt.Fprintf(&b, "- %s: %s.\n", all[i].key, all[i].assumed)
		}
	}
	b.WriteString("\nWhy they differ, as far as we can say:\n\n")
	for i := range all {
		if all[i].why != "" {
			fmt.Fprintf(&b, "- %s: %s.\n", all[i].key, all[i].why)
		}
	}
	return b.String()
}

func fedTable() string {
	var b strings.Builder
	b.WriteString("| study | weeks | intake, kcal | weight, kg | predicted | off | fat at the end, kg | off |\n|---|---|---|---|---|---|---|---|\n")
	for i := range fedStudies {
		o := fedStudies[i].eat()
		fat, off := "not known", ""
		if o.fat1 > 0 {
			fat, off = fmt.Sprintf("%.1f", o.fat1), fmt.Sprintf("%+.1f", o.fatResidual())
		}
		intake := fmt.Sprintf("%.0f in blocks", 0.67*o.baseline)
		if o.intake != nil {
			sum, days := 0.0, int(7*o.weeks)
			for d := range days {
				sum += o.intake(d) / float64(days)
			}
			intake = fmt.Sprintf("%.0f to %.0f", o.baseline, sum)
		}
		fmt.Fprintf(&b, "| %s | %g | %s | %.1f to %.1f | %.1f | %+.1f | %s | %s |\n",
			o.key, o.weeks, intake, o.weight0, o.weight1, o.weight[len(o.weight)-1], o.weightResidual(), fat, off)
	}
	b.WriteString("\nAssumed, and why they differ:\n\n")
	for i := range fedStudies {
		f := &fedStudies[i]
		fmt.Fprintf(&b, "- %s: %s", f.key, f.assumed)
		if f.why != "" {
			fmt.Fprintf(&b, ". %s%s", strings.ToUpper(f.why[:1]), f.why[1:])
		}
		b.WriteString(".\n")
	}
	return b.String()
}

func seriesTable(t *testing.T) string {
	t.Helper()
	all := wtloss(t)
	var b strings.Builder
	b.WriteString("| | days ahead | weigh-ins | mean absolute error, kg | bias, kg | 90 % interval score, kg | inside |\n|---|---|---|---|---|---|---|\n")
	for _, c := range contenders {
		for h, s := range contest(all, c.rival) {
			name := c.name
			if h > 0 {
				name = ""
			}
			fmt.Fprintf(&b, "| %s | %s | %.0f | %.1f | %+.1f | %.0f | %.0f %% |\n",
				name, strings.TrimSuffix(horizons[h].name, " days"), s.n, s.absolute/s.n, s.bias/s.n, s.interval/s.n, 100*s.inside/s.n)
		}
	}
	return b.String()
}

// sources are the studies of the first table, each once.
func sources() string {
	var out []string
	for i := range studies {
		s := studies[i].source + ", " + studies[i].doi
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	slices.Sort(out)
	return strings.Join(out, ".\n") + ".\n"
}
