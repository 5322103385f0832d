package web_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"glidepath/athlete"
	"glidepath/browsertest"
	"glidepath/civil"
)

// widths are a phone's and a desk's.
var widths = []int64{360, 1280}

// says waits until the page says something. A page that is just being left
// answers nothing.
func says(t *testing.T, ctx context.Context, text string) {
	t.Helper()
	const whole = `document.readyState === 'complete' ? document.body.innerText + [...document.querySelectorAll('textarea')].map(e => e.value).join(' ') : ''`
	last := ""
	for range 1200 { // half a minute: the machine may be busy
		got, err := chromedp.Run(ctx, chromedp.Evaluate[string](whole))
		if err == nil {
			if last = got; strings.Contains(got, text) {
				return
			}
		}
		time.Sleep(25 * time.Millisecond)
	}
	t.Fatalf("the page does not say %q but: %s", text, last)
}

// press clicks a button or a link by its words and waits for the next page.
func press(t *testing.T, ctx context.Context, words, then string) {
	t.Helper()
	if !js[bool](t, ctx, fmt.Sprintf(`(() => { const e = [...document.querySelectorAll('button, a')].find(e => e.checkVisibility() && e.textContent.trim() === %q); if (!e) return false; setTimeout(() => e.click()); return true; })()`, words)) {
		t.Fatalf("there is no %q to press", words)
	}
	says(t, ctx, then)
}

// types fills inputs by their ids.
func types(t *testing.T, ctx context.Context, pairs ...string) {
	t.Helper()
	for i := 0; i+1 < len(pairs); i += 2 {
		if err := chromedp.Do(ctx, chromedp.SetValue(chromedp.CSS("#in-"+pairs[i]), pairs[i+1])); err != nil {
			t.Fatal(err)
		}
	}
}

// The first quarter of an hour: an owner, an athlete, a log.
func TestFirstRunInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	for _, width := range widths {
		w := serve(t, nil)
		looks(t, ctx, width, "light")
		open(t, ctx, w.URL+"/")
		says(t, ctx, "Whose desk is this?")
		shoot(t, ctx, "first-owner", width)
		types(t, ctx, "name", "Wren Cadwallader", "login", "wren@example.org", "password", password)
		press(t, ctx, "Begin", "An empty desk")
		shoot(t, ctx, "first-run", width)
		press(t, ctx, "Add an athlete", "What the reckoning needs")
		types(t, ctx, "name", "Mara Lindqvist", "sex", "female", "birth_date", "1994-05-17", "height", "5 ft 6 in", "weight", "143 lb",
			"training_years", "7", "steps_per_day", "9000", "cardio_minutes_per_week", "60", "cardio_minutes_max", "300")
		press(t, ctx, "Add", "The athlete is on the roster")
		press(t, ctx, "Import", "Send a table of your own")
		file := filepath.Join(t.TempDir(), "february.csv")
		table := "Day,Morning weight,Kcals,Mood,Steps\n20/02/2026,143.1,2100,7,9000\n21/02/2026,142.8,2050,6,8800\n22/02/2026,heavy,2050,6,8800\n"
		if err := os.WriteFile(file, []byte(table), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := chromedp.Do(ctx, chromedp.SetUploadFiles(chromedp.CSS("#in-file"), []string{file})); err != nil {
			t.Fatal(err)
		}
		press(t, ctx, "Read it", "Nothing is stored yet")
		if open := js[bool](t, ctx, `document.querySelector('.ask input[value=lb]') !== null`); open {
			js[any](t, ctx, `document.querySelector('.ask input[value=lb]').click()`)
			press(t, ctx, "Read it so", "can be read from")
		}
		shoot(t, ctx, "import-preview", width)
		hold(t, ctx, "import-preview", width)
		if n := len(w.days("mara-lindqvist")); n != 0 {
			t.Fatalf("%d days were stored before they were confirmed", n)
		}
		js[any](t, ctx, `document.querySelector('[name=partial]').click()`)
		press(t, ctx, "Take 2 days in", "Taken in")
		if n := len(w.days("mara-lindqvist")); n != 2 {
			t.Errorf("%d days are stored", n)
		}
		shoot(t, ctx, "newcomer", width)
		hold(t, ctx, "newcomer", width)
	}
}

// hold checks the layout and what axe-core finds of the page as it is, in light and
// dark; it leaves it light.
func hold(t *testing.T, ctx context.Context, name string, width int64) {
	t.Helper()
	for _, wrong := range js[[]string](t, ctx, layout) {
		t.Errorf("%s, %d px: %s", name, width, wrong)
	}
	js[any](t, ctx, axe+"; null")
	for _, theme := range []string{"dark", "light"} {
		themed(t, ctx, theme)
		for _, wrong := range js[[]string](t, ctx, violations) {
			t.Errorf("%s, %d px, %s: axe: %s", name, width, theme, wrong)
		}
	}
}

func shoot(t *testing.T, ctx context.Context, name string, width int64) {
	t.Helper()
	if *browsertest.Shots != "" {
		browsertest.Keep(t, fmt.Sprintf("%s-%d-light.png", name, width), browsertest.Run(t, ctx, chromedp.FullScreenshot(100)))
	}
}

func TestAcceptInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	for _, width := range widths {
		w := filled(t)
		signedIn(t, ctx, w.owner())
		looks(t, ctx, width, "light")
		open(t, ctx, w.URL+"/athletes/"+changing+"/review")
		says(t, ctx, "Accept as proposed")
		press(t, ctx, "Accept as proposed", "Hello Aroha")
		if p := w.standing(); p.Origin != athlete.FromProposal {
			t.Errorf("the prescription in force is from %q", p.Origin)
		}
	}
}

func TestWhatIfInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	for _, width := range widths {
		w := filled(t)
		signedIn(t, ctx, w.owner())
		looks(t, ctx, width, "light")
		open(t, ctx, w.URL+"/athletes/"+changing+"/season")
		says(t, ctx, "What if?")
		types(t, ctx, "show-0", "2026-07-18", "event_from", "2026-04-01", "event_to", "2026-04-07")
		press(t, ctx, "Compare", "Side by side")
		hold(t, ctx, "what-if", width)
		if got := w.profile(changing).NextShow(w.today).Date; got == civil.Of(2026, 7, 18) {
			t.Fatal("comparing changed the show")
		}
		press(t, ctx, "Accept this season", "The season is changed")
		if got := w.profile(changing).NextShow(w.today).Date; got != civil.Of(2026, 7, 18) {
			t.Errorf("the show is on %s", got)
		}
	}
}

// tabTo presses Tab until what has the focus says the words, or has them for its id,
// name or label. What has the focus on the way must show it too.
func tabTo(t *testing.T, ctx context.Context, words string) {
	t.Helper()
	const most = 150
	for range most {
		if err := chromedp.Do(ctx, chromedp.KeyEvent(kb.Tab)); err != nil {
			t.Fatal(err)
		}
		at := js[focused](t, ctx, `(e => ({ Names: [e.id, e.name ?? '', e.ariaLabel ?? '', (e.labels?.[0]?.textContent ?? e.textContent).trim()],
			Seen: e === document.body || getComputedStyle(e).outlineStyle !== 'none' }))(document.activeElement)`)
		if !at.Seen {
			t.Errorf("%q has the focus and does not show it", at.Names)
		}
		if slices.Contains(at.Names, words) {
			return
		}
	}
	t.Fatalf("Tab never comes to %q", words)
}

// focused is what has the focus: what it is called, and whether it shows it.
type focused struct {
	Names []string
	Seen  bool
}

func keys(t *testing.T, ctx context.Context, s string) {
	t.Helper()
	if err := chromedp.Do(ctx, chromedp.KeyEvent(s)); err != nil {
		t.Fatal(err)
	}
}

// A review is read, edited and kept with the keyboard alone.
func TestReviewByKeyboard(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := filled(t)
	b := w.owner()
	b.settled("/")
	signedIn(t, ctx, b)
	looks(t, ctx, 1280, "light")
	open(t, ctx, w.URL+"/")
	tabTo(t, ctx, "Aroha Jensen")
	keys(t, ctx, kb.Enter)
	says(t, ctx, "Decide this week’s review")

	tabTo(t, ctx, "day")
	says(t, ctx, "Mon 2 Mar 2026: trend ") // today
	keys(t, ctx, kb.ArrowLeft)
	says(t, ctx, "Sun 1 Mar 2026: trend ")
	says(t, ctx, "; scale ") // the figures of a day
	shoot(t, ctx, "day-by-day", 1280)

	open(t, ctx, w.URL+"/athletes/"+changing)
	tabTo(t, ctx, "Decide this week’s review")
	keys(t, ctx, kb.Enter)
	says(t, ctx, "Accept as proposed")
	tabTo(t, ctx, "in-energy")
	for range 3 {
		keys(t, ctx, kb.ArrowUp)
	}
	says(t, ctx, "As you typed") // reckoned as it is typed
	tabTo(t, ctx, "in-reason")
	keys(t, ctx, "a long week at work")
	tabTo(t, ctx, "Use my numbers")
	keys(t, ctx, kb.Enter)
	says(t, ctx, "Your version is in force")
	p := w.standing()
	if p.Origin != athlete.FromEdit || p.Reasons[0] != "a long week at work" {
		t.Errorf("the prescription in force is %+v", p)
	}
}

// Without a script every page still does its work: a review is accepted.
func TestWithoutAScript(t *testing.T) {
	w := filled(t)
	b := w.owner()
	base := "/athletes/" + changing
	got := b.get(base+"/review?energy=1800&steps=10500&cardio=60").wants(t, 200, "As you typed", `formmethod="get"`)
	b.post(base+"/review", "print", got.hidden(t, "print"), "do", "edit", "energy", "1800", "reason", "work").wants(t, 200, "Your version is in force")
	b.get(base+"?from=2026-01-01&to=2026-02-15").wants(t, 200, "Draw all")
}
