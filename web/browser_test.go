package web_test

import (
	"context"
	_ "embed"
	"fmt"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"glidepath/account"
	"glidepath/browsertest"
)

//go:embed testdata/axe/axe.min.js
var axe string

// js runs a script in the page and gives what it gives.
func js[T any](t *testing.T, ctx context.Context, script string) T {
	t.Helper()
	return browsertest.Run(t, ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
}

func open(t *testing.T, ctx context.Context, address string) {
	t.Helper()
	if err := chromedp.Do(ctx, chromedp.Navigate(address)); err != nil {
		t.Fatal(err)
	}
}

// looks sets the width of the window and the theme.
func looks(t *testing.T, ctx context.Context, width int64, theme string) {
	t.Helper()
	themed(t, ctx, theme)
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 900, chromedp.EmulateScale(1))); err != nil {
		t.Fatal(err)
	}
}

// themed sets the theme alone.
func themed(t *testing.T, ctx context.Context, theme string) {
	t.Helper()
	browsertest.Emulate(t, ctx, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
		{Name: "prefers-color-scheme", Value: theme}, {Name: "prefers-reduced-motion", Value: "reduce"},
	}})
}

// signedIn gives the tab the session of a reader.
func signedIn(t *testing.T, ctx context.Context, b *browser) {
	t.Helper()
	for _, c := range b.cookies() {
		if c.Name == account.CookieName {
			if _, err := chromedp.Call(ctx, network.SetCookie, network.SetCookieParams{Name: c.Name, Value: c.Value, URL: b.w.URL, HTTPOnly: new(true)}); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// layout is what the page's own measuring finds wrong: width, text on text,
// targets too small to touch.
const layout = `document.fonts.ready.then(() => {
  const wrong = [];
  if (document.documentElement.scrollWidth > innerWidth) {
    wrong.push('the page is wider than the window: ' + document.documentElement.scrollWidth);
    for (const e of document.querySelectorAll('body *')) if (e.getBoundingClientRect().right > innerWidth + 1 && !e.closest('.scroll')) { wrong.push('  by ' + e.outerHTML.slice(0, 120)); break; }
  }
  for (const svg of document.querySelectorAll('svg')) {
    if (!svg.checkVisibility()) continue;
    const texts = [...svg.querySelectorAll('text')].map(t => [t, t.getBoundingClientRect()]);
    texts.forEach(([a, ra], i) => { for (const [b, rb] of texts.slice(i + 1)) {
      const dx = Math.min(ra.right, rb.right) - Math.max(ra.left, rb.left), dy = Math.min(ra.bottom, rb.bottom) - Math.max(ra.top, rb.top);
      if (dx > 1 && dy > 4) wrong.push('text on text: ' + a.textContent + ' / ' + b.textContent);
    } });
  }
  const boxes = [...document.querySelectorAll('h1,h2,h3,p,li,dt,dd,label,legend,button,input,select,textarea,summary,th,td,output,.hint')]
    .filter(e => e.checkVisibility() && !e.closest('svg') && e.innerText !== '' && !e.matches('.skip'))
    .map(e => [e, e.getBoundingClientRect()]).filter(([, r]) => r.width > 1 && r.height > 1);
  boxes.forEach(([a, ra], i) => { for (const [b, rb] of boxes.slice(i + 1)) {
    if (a.contains(b) || b.contains(a)) continue;
    const dx = Math.min(ra.right, rb.right) - Math.max(ra.left, rb.left), dy = Math.min(ra.bottom, rb.bottom) - Math.max(ra.top, rb.top);
    if (dx > 2 && dy > 4) wrong.push('one on another: ' + a.tagName + ' ' + a.textContent.slice(0, 40) + ' / ' + b.tagName + ' ' + b.textContent.slice(0, 40));
  } });
  for (const e of document.querySelectorAll('summary, button, .button, input:not([type=hidden]):not([type=checkbox]):not([type=radio]), select, nav a'))
    if (e.checkVisibility() && e.getBoundingClientRect().height < 43.5) wrong.push('a touch target of ' + e.getBoundingClientRect().height + ' px: ' + e.outerHTML.slice(0, 80));
  if (![...document.fonts].some(f => f.status === 'loaded')) wrong.push('the font is not there');
  return wrong;
})`

// violations runs axe-core (4.14.1) in the page.
const violations = `axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']}).then(r => r.violations.map(v => v.id + ': ' + v.nodes.map(n => n.target.join(' ') + ' ' + (n.any[0]?.message ?? '')).slice(0, 3).join(' | ')))`

// watch lists what the page asks for elsewhere, and what the browser refuses or
// complains of.
func watch(t *testing.T, ctx context.Context, own string) func() []string {
	t.Helper()
	var mu sync.Mutex
	var asked []string
	err := chromedp.Listen(ctx, func(event any) {
		mu.Lock()
		defer mu.Unlock()
		if e, ok := event.(*network.EventRequestWillBeSent); ok && !strings.HasPrefix(e.Request.URL, own) && !strings.HasPrefix(e.Request.URL, "data:") {
			asked = append(asked, e.Request.URL)
		}
		if e, ok := event.(*network.EventResponseReceived); ok && e.Response.Status >= 400 && e.Type != network.ResourceTypeDocument {
			asked = append(asked, fmt.Sprint(e.Response.Status, " ", e.Response.URL))
		}
		if e, ok := event.(*network.EventLoadingFailed); ok && !e.Canceled {
			asked = append(asked, "refused: "+e.ErrorText+" "+string(e.BlockedReason))
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

// Every page holds together on a phone, a tablet and a desk, in light and dark,
// and asks nothing of anybody else; axe-core finds nothing wrong with any.
func TestInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := filled(t)
	b := w.owner()
	asked := watch(t, ctx, w.URL)
	signedIn(t, ctx, b)
	b.settled("/")
	changing, blocked := "aroha-jensen", "saoirse-whitlock-tan"
	for _, p := range browserPages(changing, blocked) {
		inspect(t, ctx, w.URL, p)
	}
	for _, a := range asked() {
		t.Errorf("a page asked for %q", a)
	}
}

// inspect looks at a page on a phone, a tablet and a desk, in light and dark.
func inspect(t *testing.T, ctx context.Context, server string, p browserPage) {
	t.Helper()
	for _, width := range []int64{360, 768, 1280} {
		for _, theme := range []string{"light", "dark"} {
			looks(t, ctx, width, theme)
			open(t, ctx, server+p.path)
			if p.before != "" {
				js[any](t, ctx, p.before)
			}
			at := fmt.Sprintf("%s, %d px, %s", p.name, width, theme)
			if theme == "light" {
				for _, wrong := range js[[]string](t, ctx, layout) {
					t.Errorf("%s: %s", at, wrong)
				}
			}
			if width != 768 {
				// The page's own policy refuses a script of another; the browser's tools may.
				js[any](t, ctx, axe+"; null")
				for _, wrong := range js[[]string](t, ctx, violations) {
					t.Errorf("%s: axe: %s", at, wrong)
				}
			}
			if *browsertest.Shots != "" && width != 768 {
				browsertest.Keep(t, fmt.Sprintf("%s-%d-%s.png", p.name, width, theme), browsertest.Run(t, ctx, chromedp.FullScreenshot(100)))
			}
		}
	}
}

// So do the pages before anybody has signed in, of a desk that is in use and of a
// new one.
func TestBeforeSigningInInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	used := filled(t)
	used.owner()
	inspect(t, ctx, used.URL, browserPage{"sign-in", "/sign-in", ""})
	inspect(t, ctx, serve(t, nil).URL, browserPage{"first-owner", "/first-owner", ""})
}

// browserPage is a page to be looked at, with what is done to it first.
type browserPage struct{ name, path, before string }

// openAll opens everything that is folded.
const openAll = `document.querySelectorAll('details').forEach(d => d.open = true)`

func browserPages(changing, other string) []browserPage {
	base := "/athletes/" + changing
	return []browserPage{
		{"roster", "/", ""},
		{"athlete", base, ""},
		{"athlete-open", base, openAll},
		{"review", base + "/review", ""},
		{"review-edited", base + "/review?energy=1000&steps=12000", openAll},
		{"message", base + "/message", ""},
		{"season", base + "/season", ""},
		{"season-what-if", base + "/season?show_id=may-classic-2026&show_date=2026-07-18&event_from=2026-04-01&event_to=2026-04-07", ""},
		{"profile", base + "/profile", ""},
		{"profile-open", base + "/profile", openAll},
		{"prescriptions", base + "/prescriptions", openAll},
		{"import", base + "/import", ""},
		{"erase", base + "/erase", ""},
		{"other", "/athletes/" + other, ""},
		{"add", "/athletes/new", ""},
		{"help", "/help", ""},
		{"missing", "/nowhere", ""},
		{"refused", base + "/season?target=6", ""},
	}
}

// The pages of every invented athlete hold together on a phone and a desk.
func TestEveryAthleteInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := filled(t)
	signedIn(t, ctx, w.owner())
	for i := range demo().Seasons {
		id := demo().Seasons[i].Athlete.ID
		for _, page := range []string{"", "/season", "/review"} {
			for _, width := range widths {
				looks(t, ctx, width, "light")
				open(t, ctx, w.URL+"/athletes/"+id+page)
				js[any](t, ctx, openAll)
				for _, wrong := range js[[]string](t, ctx, layout) {
					t.Errorf("%s%s, %d px: %s", id, page, width, wrong)
				}
				shoot(t, ctx, id+strings.ReplaceAll(page, "/", "-"), width)
			}
		}
	}
}
