package web_test

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/browsertest"
	"glidepath/civil"
	"glidepath/photo/phototest"
)

// until waits for a condition in the page.
func until(t *testing.T, ctx context.Context, what, condition string) {
	t.Helper()
	const patience = 40 * time.Second
	end := time.Now().Add(patience)
	for {
		// While the page goes on to another there is none to ask.
		ok, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("(async () => !!("+condition+"))()", chromedp.EvalAwaitPromise))
		if err == nil && ok {
			return
		}
		if time.Now().After(end) {
			t.Fatalf("never: %s (%v)\n%s", what, err, js[string](t, ctx, "document.querySelector('main').innerText"))
		}
		time.Sleep(50 * time.Millisecond)
	}
}

// line is the connection between the phone and the desk, which can be cut: for the
// page by the browser's own emulation, and at the server for the worker too, which
// the emulation does not reach in every version.
type line struct {
	off atomic.Bool
	// deaf loses the answers: the desk hears, and the phone does not.
	deaf atomic.Bool
}

func (w *world) line() *line {
	l := &line{}
	inner := w.Config.Handler
	w.Config.Handler = http.HandlerFunc(func(rw http.ResponseWriter, r *http.Request) {
		if l.off.Load() {
			panic(http.ErrAbortHandler)
		}
		if l.deaf.Load() && r.Method == http.MethodPost {
			inner.ServeHTTP(httptest.NewRecorder(), r)
			panic(http.ErrAbortHandler)
		}
		inner.ServeHTTP(rw, r)
	})
	return l
}

func (l *line) cut(t *testing.T, ctx context.Context, off bool) {
	t.Helper()
	l.off.Store(off)
	_, err := chromedp.Call(ctx, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{
		EmulateOfflineServiceWorker: &off,
		MatchedNetworkConditions:    []*network.Conditions{{Offline: off, DownloadThroughput: -1, UploadThroughput: -1}},
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Call(ctx, network.OverrideNetworkState, network.OverrideNetworkStateParams{Offline: off, DownloadThroughput: -1, UploadThroughput: -1}); err != nil {
		t.Fatal(err)
	}
}

// typesInto puts a value into a field as a person does, and leaves it.
func typesInto(t *testing.T, ctx context.Context, field, value string) {
	t.Helper()
	script := fmt.Sprintf(`{ const i = document.querySelector('[data-field=%s] input'); i.focus(); i.value = %q; i.dispatchEvent(new Event('input', { bubbles: true })); i.dispatchEvent(new Event('change', { bubbles: true })); i.blur(); } true`, field, value)
	js[bool](t, ctx, script)
}

func under(field string) string {
	return fmt.Sprintf("document.querySelector('[data-field=%s] .says').textContent", field)
}

// An athlete opens the invitation on a phone, logs a day, goes on without a
// connection, and what was typed reaches the desk once.
func TestOwnDayOnAPhone(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := serve(t, nil)
	phone := w.line()
	w.today = civil.FromTime(time.Now()) // the phone's own clock
	if err := w.app.AddAthlete(t.Context(), mara(), w.today, false); err != nil {
		t.Fatal(err)
	}
	coach := w.owner()
	looks(t, ctx, 360, "light")
	signedIn(t, ctx, coach)
	open(t, ctx, w.URL+"/athletes/mara/invitation")
	js[bool](t, ctx, "setTimeout(() => document.querySelector('main form:last-of-type').requestSubmit()); true")
	until(t, ctx, "the link", "document.querySelector('.qr svg')")
	fits(t, ctx, "the link")
	picture(t, ctx, "coach-link")
	secret := js[string](t, ctx, "document.getElementById('link').value.split('/invitation/')[1]")
	js[bool](t, ctx, "setTimeout(() => document.querySelector('header.site form').requestSubmit()); true")
	until(t, ctx, "signed out", "location.pathname === '/sign-in'")
	open(t, ctx, w.URL+"/invitation/"+secret)
	fits(t, ctx, "the invitation")
	js[bool](t, ctx, fmt.Sprintf(`document.getElementById('in-login').value = 'mara@example.org'; document.getElementById('in-password').value = %q; setTimeout(() => document.querySelector('form.card').requestSubmit()); true`, password))
	until(t, ctx, "the day page", "location.pathname === '/day' && document.querySelector('.own-day[data-ready]')")
	until(t, ctx, "the worker has the page", "(await (await caches.open('glidepath-days-2')).match('/day')) && (await (await caches.open('glidepath-parts-1')).keys()).length > 2")
	fits(t, ctx, "the day")

	typesInto(t, ctx, "weight_kg", "64,8")
	until(t, ctx, "the weight is kept", under("weight_kg")+" === 'Kept'")
	if got := js[string](t, ctx, "document.querySelector('[data-field=weight_kg] input').value"); got != "64.8" {
		t.Errorf("the field says %q", got)
	}

	phone.cut(t, ctx, true)
	typesInto(t, ctx, "steps", "9100")
	typesInto(t, ctx, "steps", "9200") // thought again
	until(t, ctx, "the steps wait", under("steps")+" === 'Unsent'")
	until(t, ctx, "the page says so", "document.querySelector('.away').textContent.startsWith('One value is not sent yet')")
	open(t, ctx, w.URL+"/day") // closed and opened again, still away
	until(t, ctx, "the page is there without a connection", "document.querySelector('.own-day[data-ready]')")
	until(t, ctx, "what was typed is there", "document.querySelector('[data-field=steps] input').value === '9200'")
	if w.marasDay(w.today).Steps != nil {
		t.Error("the steps reached the desk without a connection")
	}
	typesInto(t, ctx, "hunger", "4")

	// Meanwhile the coach corrects the weight, which the phone does not know.
	typesInto(t, ctx, "weight_kg", "64.9")
	if _, err := w.app.Record(t.Context(), "mara", app.Batch{Days: []athlete.Day{{Date: w.today, WeightKg: new(64.5)}}}, app.Source{Name: "form", Who: "Wren"}); err != nil {
		t.Fatal(err)
	}
	phone.cut(t, ctx, false)
	until(t, ctx, "the steps are kept", under("steps")+" === 'Kept'")
	until(t, ctx, "the hunger is kept", under("hunger")+" === 'Kept'")
	until(t, ctx, "both weights are told", under("weight_kg")+".includes('64.5 was entered. You typed 64.9')")
	fits(t, ctx, "a clash")
	picture(t, ctx, "own-clash")
	d := w.marasDay(w.today)
	if *d.Steps != 9200 || *d.Hunger != 4 || *d.WeightKg != 64.5 {
		t.Errorf("the desk has %+v", d)
	}
	open(t, ctx, w.URL+"/day")
	until(t, ctx, "the clash outlives the page", "document.querySelector('[data-field=weight_kg] .says button')")
	js[bool](t, ctx, "document.querySelector('[data-field=weight_kg] .says button').click(); true")
	until(t, ctx, "the own weight is kept", under("weight_kg")+" === 'Kept'")
	if d := w.marasDay(w.today); *d.WeightKg != 64.9 {
		t.Errorf("the weight is %v", *d.WeightKg)
	}
	if n := w.marasCorrections(); n != 2 { // the coach's, and the last
		t.Errorf("%d corrections, not 2: something was sent twice", n)
	}
	if n := waiting(t, ctx); n != 0 {
		t.Errorf("%d values are still in the outbox", n)
	}

	// Signing out leaves nothing of the day on the phone.
	js[bool](t, ctx, "setTimeout(() => document.querySelector('header.site form').requestSubmit()); true")
	until(t, ctx, "signed out", "location.pathname === '/sign-in'")
	if left := js[string](t, ctx, "(async () => (await caches.keys()).join() + Object.keys(localStorage).join())()"); left != "" {
		t.Errorf("after signing out the phone keeps %q", left)
	}
}

// waiting is how many things on the phone have not reached the desk.
func waiting(t *testing.T, ctx context.Context) int {
	t.Helper()
	return js[int](t, ctx, "new Promise(d => { const o = indexedDB.open('glidepath', 1); o.onsuccess = () => { const a = o.result.transaction('outbox').objectStore('outbox').getAll(); a.onsuccess = () => d(a.result.filter(e => !e.kept).length); }; })")
}

// A phone that is a day ahead of the desk goes to its own date; without a connection
// it makes a page of today from yesterday's copy, and what is typed is today's.
func TestOwnDayAfterMidnight(t *testing.T) {
	ctx := browsertest.Tab(t)
	w, _, own := maras(t)
	phone := w.line()
	here := civil.FromTime(time.Now())
	w.today = here.AddDays(-1)
	if _, err := w.app.Record(t.Context(), "mara", app.Batch{Days: []athlete.Day{{Date: w.today, Steps: new(8800.0), DayType: athlete.RestDay}}}, app.Source{Name: "test"}); err != nil {
		t.Fatal(err)
	}
	looks(t, ctx, 360, "light")
	signedIn(t, ctx, own)
	open(t, ctx, w.URL+"/day")
	until(t, ctx, "its own date", "location.pathname === '/day/"+here.String()+"' && document.querySelector('.own-day[data-ready]')")
	until(t, ctx, "the worker has the home page", "(await (await caches.open('glidepath-days-2')).match('/day'))")
	phone.cut(t, ctx, true)
	open(t, ctx, w.URL+"/day")
	until(t, ctx, "the page", "document.querySelector('.own-day[data-ready]')")
	got := js[string](t, ctx, "(() => { const i = document.querySelector('[data-field=steps] input'); return i.value + '/' + i.placeholder + '/' + document.querySelector('.asked h2').textContent; })()")
	if want := "/8800/What was asked on " + w.today.String(); got != want {
		t.Errorf("the page of today has %q, not %q", got, want)
	}
	typesInto(t, ctx, "steps", "9300")
	until(t, ctx, "the steps wait", under("steps")+" === 'Unsent'")
	phone.cut(t, ctx, false)
	until(t, ctx, "the steps are kept", under("steps")+" === 'Kept'")
	if today, before := w.marasDay(here), w.marasDay(w.today); *today.Steps != 9300 || *before.Steps != 8800 {
		t.Errorf("the steps are %v today and %v the day before", *today.Steps, *before.Steps)
	}
}

// fits checks a page as it is laid out, and for a screen reader.
func fits(t *testing.T, ctx context.Context, what string) {
	t.Helper()
	for _, wrong := range js[[]string](t, ctx, layout) {
		t.Errorf("%s: %s", what, wrong)
	}
}

// picture keeps what is seen, where -shots asks for it.
func picture(t *testing.T, ctx context.Context, name string) {
	t.Helper()
	if *browsertest.Shots == "" {
		return
	}
	browsertest.Keep(t, name+".png", browsertest.Run(t, ctx, chromedp.FullScreenshot(100)))
	browsertest.Keep(t, name+"-top.png", browsertest.Run(t, ctx, chromedp.CaptureScreenshot())) // what docs/pages has
}

// Every own page on a phone in light and dark, with a photo sent from it.
func TestOwnPagesOnAPhone(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := filled(t)
	id := ""
	for i := range demo().Seasons {
		s := &demo().Seasons[i]
		if n := len(s.Prescriptions); n > 0 && len(s.Prescriptions[n-1].Days) > 1 && s.Athlete.Sex == athlete.Female {
			id = s.Athlete.ID
			break
		}
	}
	owner := w.owner()
	own := w.role(owner, access.Athlete, id)
	for i, pose := range []string{"front", "back"} {
		own.sendPhoto(pose, phototest.JPEG(600, 800, 1+i))
	}
	own.post("/check-in", "words", "A good week; legs heavy after Thursday.\nCan the refeed move to Saturday?", "girth_waist", "70.5")
	signedIn(t, ctx, own)
	for _, theme := range []string{"light", "dark"} {
		looks(t, ctx, 360, theme)
		for _, path := range []string{"/day", "/check-in", "/progress", "/photos"} {
			open(t, ctx, w.URL+path)
			if path == "/day" {
				until(t, ctx, "the script", "document.querySelector('.own-day[data-ready]')")
			}
			fits(t, ctx, path+" "+theme)
			js[any](t, ctx, axe+"; document.querySelectorAll('details').forEach(d => d.open = true); null")
			for _, wrong := range js[[]string](t, ctx, violations) {
				t.Errorf("%s %s: axe: %s", path, theme, wrong)
			}
			fits(t, ctx, path+" all open, "+theme)
			js[any](t, ctx, "document.querySelectorAll('details').forEach(d => d.open = false); null")
			picture(t, ctx, "own"+strings.ReplaceAll(path, "/", "-")+"-"+theme)
		}
	}
	looks(t, ctx, 360, "light")
	open(t, ctx, w.URL+"/check-in")
	file := filepath.Join(t.TempDir(), "side.jpg")
	if err := os.WriteFile(file, phototest.JPEG(300, 400, 8), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := chromedp.Do(ctx, chromedp.SetUploadFiles("#photo-side", []string{file})); err != nil {
		t.Fatal(err)
	}
	until(t, ctx, "the photo is kept", "[...document.querySelectorAll('.pose')].find(f => f.querySelector('[value=side]')).querySelector('.says').textContent === 'Kept'")
	photos, err := w.app.Photos(t.Context(), id, w.today)
	if err != nil || len(photos) != 3 || photos[1].Width != 300 || photos[1].Height != 400 {
		t.Errorf("the photos are %+v (%v)", photos, err)
	}
	signedIn(t, ctx, owner)
	for _, path := range []string{"/check-ins", "/photos", "/invitation"} {
		open(t, ctx, w.URL+"/athletes/"+id+path)
		until(t, ctx, "every picture", "[...document.images].every(i => i.complete)")
		fits(t, ctx, path)
		picture(t, ctx, "coach"+strings.ReplaceAll(path, "/", "-"))
	}
}
