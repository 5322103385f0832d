package report_test

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/report"
)

var pages = flag.String("pages", "", "a folder for the pages of the invented roster, to look at")

// Every athlete of the invented roster has a page on which each section opens
// with a sentence, no number is unknown to its own format, and nothing differs
// when it is made again.
func TestPagesOfTheRoster(t *testing.T) {
	for _, d := range dossiers(t) {
		id := d.Athlete.ID
		doc := report.FromDossier(d, report.Settings{Invented: true})
		page := write(t, doc)
		if again := write(t, report.FromDossier(d, report.Settings{Invented: true})); again != page {
			t.Errorf("%s: two pages of one dossier differ", id)
		}
		if *pages != "" {
			if err := os.WriteFile(filepath.Join(*pages, id+".html"), []byte(page), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		checkPage(t, id, page)
		checkWords(t, id, page)
		if doc.Lead == "" {
			t.Errorf("%s: no lead", id)
		}
	}
}

var oddWords = []*regexp.Regexp{
	regexp.MustCompile(`%!|<nil>|0x[0-9a-f]{6}`), // a format that met the wrong value
	regexp.MustCompile(`\.\.|,,|;;|: ;|\( | \)|\(\)`),
	regexp.MustCompile(`-\d+\.\d`), // a hyphen where a minus sign should be
	regexp.MustCompile(`[^.\d]1 (weeks|days) `),
}

func checkWords(t *testing.T, id, page string) {
	t.Helper()
	text := wordsOf(t, page)
	for _, odd := range oddWords {
		for _, at := range odd.FindAllStringIndex(text, 3) {
			t.Errorf("%s: %q in %q", id, text[at[0]:at[1]], text[max(0, at[0]-60):min(len(text), at[1]+60)])
		}
	}
}

// wordsOf is all the text of a page outside its drawings and styles.
func wordsOf(t *testing.T, page string) string {
	t.Helper()
	root, err := html.Parse(strings.NewReader(svgElement.ReplaceAllString(styleElement.ReplaceAllString(page, ""), "")))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for n := range root.Descendants() {
		if n.Type == html.TextNode {
			b.WriteString(n.Data + "\n")
		}
	}
	return b.String()
}

// Where no deficit may be planned, nothing is planned, and the page says why and
// whom to see.
func TestPageOfSomebodyBlocked(t *testing.T) {
	d := dossier(t, "saoirse-whitlock-tan")
	doc := report.FromDossier(d, report.Settings{})
	if len(doc.Cautions) != 1 || doc.Cautions[0].Call == "" {
		t.Fatalf("cautions %v", doc.Cautions)
	}
	if len(doc.Corridor.Chart.Edges)+len(doc.Corridor.Chart.Plan)+len(doc.Corridor.Chart.Forecast) > 0 || doc.Review.Proposal != "" || len(doc.Season.Weeks) > 0 || len(doc.Chances.Of) > 0 {
		t.Error("something is planned")
	}
	for _, p := range doc.Corridor.Chart.Scale {
		if p.Value > 100 {
			t.Errorf("the weight in pounds is drawn: %v", p)
		}
	}
	if !strings.Contains(wordsOf(t, write(t, doc)), "pounds") {
		t.Error("the weight in pounds is not asked about")
	}
}

// The page is in the dossier's unit, throughout.
func TestPageInPounds(t *testing.T) {
	d := *dossier(t, "marcus-oyelaran")
	if d.Athlete.Units != athlete.Imperial {
		t.Fatalf("units %q", d.Athlete.Units)
	}
	text := wordsOf(t, write(t, report.FromDossier(&d, report.Settings{})))
	if m := regexp.MustCompile(`.{0,40}\d[\s\x{a0}]kg\b[^ ]{0,3} .{0,20}`).FindString(text); m != "" && !strings.Contains(m, "kcal") {
		t.Errorf("kilograms on a page in pounds: %q", m)
	}
	if !strings.Contains(text, "\u00a0lb") {
		t.Error("no weight in pounds")
	}
}

// A dossier of somebody who was only just taken in makes a page too.
func TestPageWithoutLogs(t *testing.T) {
	d := newcomer(t)
	page := write(t, report.FromDossier(d, report.Settings{}))
	checkPage(t, "newcomer", page)
	checkWords(t, "newcomer", page)
}

// The chart ends where the words say: the fan's last morning is the show's, the
// target bar spans the tolerance, phases follow one another without a gap.
func TestCorridorOfTheRoster(t *testing.T) {
	for _, d := range dossiers(t) {
		ch := report.FromDossier(d, report.Settings{}).Corridor.Chart
		for i := 1; i < len(ch.Phases); i++ {
			if a, b := ch.Phases[i-1], ch.Phases[i]; b.From != a.To.AddDays(1) {
				t.Errorf("%s: %s ends on %s and %s begins on %s", d.Athlete.ID, a.Kind, a.To, b.Kind, b.From)
			}
		}
		if d.Season == nil || d.Show == nil {
			continue
		}
		for name, last := range map[string]int32{
			"fan": int32(ch.Forecast[len(ch.Forecast)-1].Date), "plan": int32(ch.Plan[len(ch.Plan)-1].Date), "edges": int32(ch.Edges[len(ch.Edges)-1].Date),
		} {
			if last != int32(d.Show.Date) {
				t.Errorf("%s: the %s ends %d days after the show", d.Athlete.ID, name, last-int32(d.Show.Date))
			}
		}
		if ch.Target == nil || ch.Target.LowKg >= ch.Target.WeightKg || ch.Target.HighKg <= ch.Target.WeightKg {
			t.Errorf("%s: target %v", d.Athlete.ID, ch.Target)
		}
	}
}

func TestSparks(t *testing.T) {
	ids := map[string]bool{}
	for _, d := range dossiers(t) {
		svg := report.Spark(d)
		if err := wellFormed(svg); err != nil || svg == "" {
			t.Errorf("%s: the spark is not a drawing: %v", d.Athlete.ID, err)
		}
		if len(svg) > 25_000 {
			t.Errorf("%s: a spark of %d bytes", d.Athlete.ID, len(svg))
		}
		for _, m := range regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(svg, -1) {
			if ids[m[1]] {
				t.Errorf("the id %q is there twice", m[1])
			}
			ids[m[1]] = true
		}
	}
}

// What the coach decided on the day's review is told; a review of another day is
// not this one's.
func TestDecisionOnThePage(t *testing.T) {
	d := *dossier(t, "aroha-jensen")
	d.Reviews = []app.Review{
		{Date: d.AsOf.AddDays(-7), Decision: app.Declined, Who: "W. Castellano"},
		{Date: d.AsOf},
	}
	if got := report.FromDossier(&d, report.Settings{}).Review.Decision.State; got != "" {
		t.Errorf("a waiting review is told as %q", got)
	}
	d.Reviews[1] = app.Review{Date: d.AsOf, Decision: app.Accepted, Who: "W. Castellano", DecidedAt: d.AsOf.Time()}
	page := wordsOf(t, write(t, report.FromDossier(&d, report.Settings{})))
	if !strings.Contains(page, "Accepted by W. Castellano on "+d.AsOf.Format("2 Jan 2006")) || strings.Contains(page, "waits for the coach") {
		t.Error("the decision is not told, or is still waited for")
	}
}

// A cycle that has not come for two months, and a body near its floor, bring a
// caution with whom to call.
func TestCautionsWhereTheRiskIs(t *testing.T) {
	d := *dossier(t, "noor-bakhtiari")
	if n := len(report.FromDossier(&d, report.Settings{}).Recovery.Cautions); n > 0 {
		t.Fatalf("%d cautions on recovery as it is", n)
	}
	d.Days = slices.Clone(d.Days)
	for i := range d.Days {
		if d.Days[i].Date > d.AsOf.AddDays(-70) {
			d.Days[i].CycleDay = nil
		}
	}
	if c := report.FromDossier(&d, report.Settings{}).Recovery.Cautions; len(c) != 1 || c[0].Call == "" {
		t.Errorf("cautions on a missing cycle: %v", c)
	}
	lean := *d.Reading
	lean.Daily = slices.Clone(lean.Daily)
	lean.Daily[len(lean.Daily)-1].BodyFatPct.Value = athlete.BodyFatFloorFemalePct + 1
	d.Reading = &lean
	if c := report.FromDossier(&d, report.Settings{}).Composition.Cautions; len(c) != 1 || c[0].Call == "" {
		t.Errorf("cautions near the floor of body fat: %v", c)
	}
}
