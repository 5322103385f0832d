package report_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/chart/charttest"
	"glidepath/report"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/net/html"
)

var update = flag.Bool("update", false, "write the golden files")

// documents are the pages under golden test.
func documents() map[string]report.Document {
	imperial := season()
	imperial.Notation = chart.Notation{Units: athlete.Imperial}
	return map[string]report.Document{
		"season":   season(),
		"imperial": imperial,
		"empty":    {},
		"newcomer": {Name: "Tove Ålund", AsOf: charttest.LogFrom, LogsTo: charttest.LogFrom, Invented: true},
	}
}

func write(t *testing.T, d report.Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := report.Write(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

var (
	styleElement = regexp.MustCompile(`(?s)<style>.*?</style>`)
	svgElement   = regexp.MustCompile(`(?s)<svg.*?</svg>`)
	styleHash    = regexp.MustCompile(`sha256-(?:[^&']|&#43;)*`) // a + of base64 is escaped
)

// abridged leaves out what has golden files of its own or is a font.
func abridged(page string) string {
	page = styleElement.ReplaceAllString(page, "<style>[style]</style>")
	page = styleHash.ReplaceAllString(page, "sha256-[hash]")
	return svgElement.ReplaceAllString(page, "[drawing]")
}

func TestGolden(t *testing.T) {
	for name, d := range documents() {
		page := write(t, d)
		if again := write(t, d); again != page {
			t.Errorf("%s: two pages of one document differ", name)
		}
		checkPage(t, name, page)
		got := abridged(page)
		file := filepath.Join("testdata", name+".html")
		if *update {
			if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
			t.Errorf("%s differs from its golden file (-want +got):\n%s", name, diff)
		}
	}
}

// checkPage asserts what must be true of any page: small enough to send, no
// script, nothing asked for over the network, well-formed drawings, no number
// that is not one, every id once, every section opened by a sentence.
func checkPage(t *testing.T, name, page string) {
	t.Helper()
	if n := len(page); n > 600_000 {
		t.Errorf("%s: the page has %d bytes, over 600 kB", name, n)
	}
	bare := styleElement.ReplaceAllString(page, "")
	if strings.Contains(bare, "NaN") || strings.Contains(bare, "Inf") || strings.Contains(bare, "ZgotmplZ") {
		t.Errorf("%s: NaN, Inf or a value that the template refused", name)
	}
	for _, svg := range svgElement.FindAllString(page, -1) {
		if err := wellFormed(svg); err != nil {
			t.Errorf("%s: a drawing is not XML: %v", name, err)
		}
	}
	root, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	ids := map[string]bool{}
	sections, opened := 0, 0
	for n := range root.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		switch n.Data {
		case "script", "link", "iframe", "object", "embed", "img", "form", "base":
			t.Errorf("%s: the page has a <%s>", name, n.Data)
		case "section":
			sections++
		}
		for _, a := range n.Attr {
			switch {
			case a.Key == "id" && ids[a.Val]:
				t.Errorf("%s: the id %q is there twice", name, a.Val)
			case a.Key == "id":
				ids[a.Val] = true
			case a.Key == "class" && a.Val == "opening":
				opened++
			case strings.HasPrefix(a.Key, "on"), a.Key == "style", a.Key == "src", a.Key == "href":
				t.Errorf("%s: <%s> has %s=%q", name, n.Data, a.Key, a.Val)
			}
		}
	}
	// The glossary has no sentence of its own.
	if sections != 16 || opened != sections-1 {
		t.Errorf("%s: %d sections, %d of them opened by a sentence", name, sections, opened)
	}
	for _, url := range regexp.MustCompile(`url\([^)]{0,20}`).FindAllString(page, -1) {
		if !strings.HasPrefix(url, "url(data:font/woff2") && !strings.HasPrefix(url, "url(#") {
			t.Errorf("%s: the page asks for %s", name, url)
		}
	}
}

func wellFormed(s string) error {
	dec := xml.NewDecoder(strings.NewReader(s))
	for {
		if _, err := dec.Token(); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
	}
}

// A name, a note or a reason is data, whatever is in it.
func TestHostileWords(t *testing.T) {
	const hostile = `"><script>alert(1)</script><img src=x onerror=alert(1)>{{.}}]]>'</style></svg>`
	d := season()
	d.Name, d.Lead, d.Show.Name, d.Show.Division = hostile, hostile, hostile, hostile
	d.Corridor.Chart.Marks[0].Label = hostile
	d.Strength.Chart.Lifts[0].Name = hostile
	d.Review.Reasons[0], d.Review.Decision = hostile, report.Decision{State: "edited", Who: hostile, Reason: hostile}
	d.Prescription.InForce.Author = hostile
	d.Appraisal.Alternatives[0].Name = hostile
	d.Cautions = []report.Caution{{Text: hostile, Call: hostile}}
	d.Glossary = []report.Term{{Word: hostile, Meaning: hostile}}
	page := write(t, d)
	checkPage(t, "hostile", page)
	if got := strings.Count(page, "<style>"); got != 1 {
		t.Errorf("%d style elements", got)
	}
	if !strings.Contains(page, "&lt;script&gt;") {
		t.Error("the name is not on the page")
	}
}

// What is not known is a dash, and never NaN.
func TestUnknownNumbers(t *testing.T) {
	nan := math.NaN()
	d := season()
	d.Corridor.Now = est(nan, nan, nan)
	d.Corridor.SlackWeeks = est(1.3, nan, nan)
	d.Chances.Of = []report.Chance{{Of: "On target", P: nan}}
	for i := range d.Corridor.Chart.Trend {
		d.Corridor.Chart.Trend[i].Value = nan
	}
	d.Season.Weeks[0] = report.Week{From: charttest.AsOf}
	page := write(t, d)
	checkPage(t, "unknown", page)
	if !strings.Contains(page, "not known") {
		t.Error("an unknown probability is not said to be unknown")
	}
}

func TestFontSubsets(t *testing.T) {
	for name, c := range map[string]struct{ letters, subset string }{
		"Łukasz Žák": {"Ł", "U+0100-02BA"}, "Ελένη": {"Ε", "U+0370-0377"}, "Олена": {"О", "U+0400-045F"},
	} {
		with, without := write(t, report.Document{Name: name}), write(t, report.Document{Name: "Jane"})
		if !strings.Contains(with, c.subset) {
			t.Errorf("%s: the page lacks the letters of %s", name, c.subset)
		}
		if strings.Contains(without, c.subset) {
			t.Errorf("a page in plain Latin carries the letters of %s", c.subset)
		}
	}
}

// The words are those of Mastrandrea et al. 2010 (IPCC guidance note), table 1.
func TestLikelihoodWords(t *testing.T) {
	for _, c := range []struct {
		p          float64
		word, text string
	}{
		{1, "virtually certain", "over 99\u00a0%"},
		{0.95, "very likely", "95\u00a0%"},
		{0.9, "very likely", "90\u00a0%"},
		{0.66, "likely", "66\u00a0%"},
		{0.5, "about as likely as not", "50\u00a0%"},
		{0.2, "unlikely", "20\u00a0%"},
		{0.05, "very unlikely", "5\u00a0%"},
		{0, "exceptionally unlikely", "under 1\u00a0%"},
	} {
		page := write(t, report.Document{Chances: report.Chances{Of: []report.Chance{{Of: "x", P: c.p}}}})
		if !strings.Contains(page, "<td>"+c.word+"</td>") || !strings.Contains(page, `<span class="value">`+c.text+"</span>") {
			t.Errorf("a probability of %v is not said as %q and %q", c.p, c.word, c.text)
		}
	}
}

func TestDecisionAndCountdown(t *testing.T) {
	d := season()
	d.Review.Decision = report.Decision{State: "declined", Who: "K. Aune", On: charttest.AsOf, Reason: "She travels this week."}
	for show, want := range map[int]string{0: ", today.", 1: ", in 1 day.", 13: ", in 13 days.", 55: ", in 7.9 weeks.", -7: ", 1.0 weeks ago."} {
		d.Show = &report.Show{Name: "Northern Open", Date: d.AsOf.AddDays(show)}
		page := write(t, d)
		if !strings.Contains(page, want) {
			t.Errorf("a show in %d days is not %q", show, want)
		}
		if !strings.Contains(page, "Declined by K. Aune on 5 Jul 2026: She travels this week.") {
			t.Error("the decision is not told")
		}
	}
}
