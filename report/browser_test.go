package report_test

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"glidepath/browsertest"
	"glidepath/report"
)

// layout is what the page's own measuring finds wrong.
const layout = `document.fonts.ready.then(() => {
  const wrong = [];
  if (document.documentElement.scrollWidth > innerWidth) wrong.push('the page is wider than the window: ' + document.documentElement.scrollWidth);
  for (const svg of document.querySelectorAll('svg')) {
    if (!svg.checkVisibility()) continue;
    const texts = [...svg.querySelectorAll('text')].map(t => [t, t.getBoundingClientRect(), parseFloat(getComputedStyle(t).fontSize) * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width]);
    texts.forEach(([a, ra, size], i) => {
      if (size < 10) wrong.push('text under 10 px: ' + a.textContent + ' ' + size);
      for (const [b, rb] of texts.slice(i + 1)) {
        const dx = Math.min(ra.right, rb.right) - Math.max(ra.left, rb.left), dy = Math.min(ra.bottom, rb.bottom) - Math.max(ra.top, rb.top);
        if (dx > 1 && dy > 4) wrong.push('text on text: ' + a.textContent + ' / ' + b.textContent);
      }
    });
  }
  if (!matchMedia('print').matches) for (const s of document.querySelectorAll('summary')) if (s.getBoundingClientRect().height < 44) wrong.push('a touch target under 44 px: ' + s.textContent);
  if (![...document.fonts].some(f => f.status === 'loaded')) wrong.push('the font is not there');
  return wrong;
})`

// The page holds together on a phone, a tablet and a desk, in light and dark, and
// asks for nothing over the network.
func TestInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	file := filepath.Join(t.TempDir(), "page.html")
	if err := os.WriteFile(file, []byte(write(t, season())), 0o600); err != nil {
		t.Fatal(err)
	}
	watch := watchNetwork(t, ctx)
	address := (&url.URL{Scheme: "file", Path: file}).String()
	for _, width := range []int64{320, 360, 700, 768, 1280} {
		for _, theme := range []string{"light", "dark"} {
			browsertest.Emulate(t, ctx, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: theme}}})
			err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 900, chromedp.EmulateScale(1.5)), chromedp.Navigate(address))
			if err != nil {
				t.Fatal(err)
			}
			wrong := browsertest.Run(t, ctx, chromedp.Evaluate[[]string](layout, chromedp.EvalAwaitPromise))
			for _, w := range wrong {
				t.Errorf("%d px, %s: %s", width, theme, w)
			}
			if *browsertest.Shots != "" {
				browsertest.Keep(t, fmt.Sprintf("%d-%s.png", width, theme), browsertest.Run(t, ctx, chromedp.FullScreenshot(100)))
			}
		}
	}
	printed(t, ctx)
	if asked := watch(); len(asked) > 0 {
		t.Errorf("the page asked for %q", asked)
	}
}

// watchNetwork lists the addresses that the page asks for, besides its own file
// and what is within it, and what the browser refused.
func watchNetwork(t *testing.T, ctx context.Context) func() []string {
	t.Helper()
	var mu sync.Mutex
	var asked []string
	err := chromedp.Listen(ctx, func(event any) {
		mu.Lock()
		defer mu.Unlock()
		switch e := event.(type) {
		case *network.EventRequestWillBeSent:
			if !strings.HasPrefix(e.Request.URL, "data:") && !strings.HasPrefix(e.Request.URL, "file:") {
				asked = append(asked, e.Request.URL)
			}
		case *network.EventLoadingFailed:
			asked = append(asked, "refused: "+e.ErrorText)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Call(ctx, network.Enable, network.EnableParams{}); err != nil {
		t.Fatal(err)
	}
	return func() []string {
		mu.Lock()
		defer mu.Unlock()
		return asked
	}
}

// printed makes the PDFs of the two papers and checks that what is folded on the
// screen is open on paper, and that the letters are not too small there.
func printed(t *testing.T, ctx context.Context) {
	t.Helper()
	browsertest.Emulate(t, ctx, emulation.SetEmulatedMediaParams{Media: "print"})
	for name, paper := range map[string]chromedp.PaperSize{"a4": chromedp.PaperA4, "letter": chromedp.PaperLetter} {
		// The paper less the page's margins of 16 mm either side, at 96 px an inch.
		width := int64(96 * (paper.Width - 2*16/25.4))
		if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 900)); err != nil {
			t.Fatal(err)
		}
		for _, w := range browsertest.Run(t, ctx, chromedp.Evaluate[[]string](layout, chromedp.EvalAwaitPromise)) {
			t.Errorf("%s: %s", name, w)
		}
		folded := browsertest.Run(t, ctx, chromedp.Evaluate[int](`[...document.querySelectorAll('details > :not(summary)')].filter(e => e.getBoundingClientRect().height < 20).length`))
		if folded > 0 {
			t.Errorf("%s: %d tables stay folded on paper", name, folded)
		}
		pdf := browsertest.Run(t, ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper), chromedp.PDFPrintBackground(),
			func(p *page.PrintToPDFParams) { p.PreferCSSPageSize = new(true) }))
		if !strings.HasPrefix(string(pdf), "%PDF-") {
			t.Errorf("%s: not a PDF", name)
		}
		browsertest.Keep(t, name+".pdf", pdf)
	}
}

// The pages of the invented roster hold together too, on a phone and a desk.
func TestRosterInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	dir := t.TempDir()
	for _, d := range dossiers(t) {
		id := d.Athlete.ID
		file := filepath.Join(dir, id+".html")
		if err := os.WriteFile(file, []byte(write(t, report.FromDossier(d, report.Settings{Invented: true}))), 0o600); err != nil {
			t.Fatal(err)
		}
		for _, width := range []int64{360, 1280} {
			for _, theme := range []string{"light", "dark"} {
				browsertest.Emulate(t, ctx, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: theme}}})
				err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 900, chromedp.EmulateScale(1)),
					chromedp.Navigate((&url.URL{Scheme: "file", Path: file}).String()))
				if err != nil {
					t.Fatal(err)
				}
				for _, w := range browsertest.Run(t, ctx, chromedp.Evaluate[[]string](layout, chromedp.EvalAwaitPromise)) {
					t.Errorf("%s, %d px: %s", id, width, w)
				}
				if *browsertest.Shots != "" {
					browsertest.Keep(t, fmt.Sprintf("%s-%d-%s.png", id, width, theme), browsertest.Run(t, ctx, chromedp.FullScreenshot(100)))
				}
				if *browsertest.Shots == "" {
					break // the themes differ in colour alone
				}
			}
		}
	}
}
