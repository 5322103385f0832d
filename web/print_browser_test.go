package web_test

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/browsertest"
)

// onPaper is what is wrong with a page as it is printed: what is of use on a screen
// only, what does not fit the width of the paper, and text on text.
const onPaper = `document.fonts.ready.then(() => {
  const wrong = [];
  for (const e of document.querySelectorAll('nav, form:not([data-effect]), button, .button, .skip, input, select, textarea, .tag, .cursor'))
    if (e.checkVisibility() && e.getBoundingClientRect().height > 0) wrong.push('not for paper: ' + e.outerHTML.slice(0, 100));
  if (document.documentElement.scrollWidth > innerWidth) wrong.push('wider than the paper: ' + document.documentElement.scrollWidth);
  for (const e of document.querySelectorAll('.scroll, .chart, table, dl')) if (e.checkVisibility() && e.getBoundingClientRect().right > innerWidth + 1) wrong.push('cut at the edge: ' + e.outerHTML.slice(0, 100));
  for (const e of document.querySelectorAll('details > :not(summary)')) if (!e.checkVisibility() && !(e.parentElement.querySelector('form') && !e.parentElement.querySelector('.notes'))) wrong.push('folded: ' + e.outerHTML.slice(0, 100));
  for (const svg of document.querySelectorAll('svg')) {
    if (!svg.checkVisibility()) continue;
    const texts = [...svg.querySelectorAll('text')].map(t => [t, t.getBoundingClientRect()]);
    texts.forEach(([a, ra], i) => { for (const [b, rb] of texts.slice(i + 1)) {
      const dx = Math.min(ra.right, rb.right) - Math.max(ra.left, rb.left), dy = Math.min(ra.bottom, rb.bottom) - Math.max(ra.top, rb.top);
      if (dx > 1 && dy > 4) wrong.push('text on text: ' + a.textContent + ' / ' + b.textContent);
    } });
  }
  return wrong;
})`

// The pages that a coach prints hold what is to be read and nothing that is to be
// pressed, whole, on both papers; -shots keeps them to look at, and as one sees them
// who sees no colour.
func TestOnPaper(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := filled(t)
	w.travelling()
	b := w.role(w.owner(), access.Coach, demoIDs()...)
	if _, err := w.app.AddNote(t.Context(), changing, athlete.Note{Date: w.today.AddDays(-10), Text: "flat at posing practice", Who: "Wren"}); err != nil {
		t.Fatal(err)
	}
	day := []athlete.Day{{Date: w.today.AddDays(-1), Notes: "Slept badly."}}
	if _, err := w.app.Record(t.Context(), changing, app.Batch{Days: day}, app.Source{Name: "test"}); err != nil {
		t.Fatal(err)
	}
	signedIn(t, ctx, b)
	b.settled("/")
	base := "/athletes/" + changing
	for name, path := range map[string]string{
		"roster": "/", "athlete": base, "review": base + "/review", "season": base + "/season",
		"season-what-if": base + "/season?show_id=may-classic-2026&show_date=2026-06-20", "profile": base + "/profile", "prescriptions": base + "/prescriptions",
		"training": base + "/training", "programme": base + "/programme", "cardio": base + "/cardio",
	} {
		for paperName, paper := range map[string]chromedp.PaperSize{"a4": chromedp.PaperA4, "letter": chromedp.PaperLetter} {
			browsertest.Emulate(t, ctx, emulation.SetEmulatedMediaParams{Media: "print"})
			// The paper less the page's margins of 16 mm either side, at 96 px an inch.
			width := int64(96 * (paper.Width - 2*16/25.4))
			if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 900, chromedp.EmulateScale(1))); err != nil {
				t.Fatal(err)
			}
			open(t, ctx, w.URL+path)
			if name == "season" {
				until(t, ctx, "the tags", "document.querySelector('.tag[aria-valuetext]')")
			}
			for _, wrong := range js[[]string](t, ctx, onPaper) {
				t.Errorf("%s on %s: %s", name, paperName, wrong)
			}
			pdf := browsertest.Run(t, ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper), func(p *page.PrintToPDFParams) { p.PreferCSSPageSize = new(true) }))
			if !strings.HasPrefix(string(pdf), "%PDF-") {
				t.Errorf("%s on %s: not a PDF", name, paperName)
			}
			browsertest.Keep(t, name+"-"+paperName+".pdf", pdf)
		}
		if *browsertest.Shots != "" {
			looks(t, ctx, 1280, "light")
			see := emulation.SetEmulatedVisionDeficiencyParams{Type: emulation.SetEmulatedVisionDeficiencyTypeAchromatopsia}
			if _, err := chromedp.Call(ctx, emulation.SetEmulatedVisionDeficiency, see); err != nil {
				t.Fatal(err)
			}
			open(t, ctx, w.URL+path)
			browsertest.Keep(t, name+"-grey.png", browsertest.Run(t, ctx, chromedp.FullScreenshot(100)))
			see.Type = emulation.SetEmulatedVisionDeficiencyTypeNone
			if _, err := chromedp.Call(ctx, emulation.SetEmulatedVisionDeficiency, see); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// demoIDs are the invented athletes.
func demoIDs() []string {
	var out []string
	for i := range demo().Seasons {
		out = append(out, demo().Seasons[i].Athlete.ID)
	}
	return out
}
