package web_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"glidepath/athlete"
	"glidepath/browsertest"
	"glidepath/civil"
)

func openGym(t *testing.T, ctx context.Context, w *world, on civil.Date) {
	t.Helper()
	open(t, ctx, w.URL+"/day/"+on.String()+"/gym")
	until(t, ctx, "the script of the session", "document.querySelector('.own-gym[data-ready]')")
}

// tap presses what an expression finds, where a thumb would: it must be in sight and
// under nothing else.
func tap(t *testing.T, ctx context.Context, what string) {
	t.Helper()
	at := js[[]float64](t, ctx, fmt.Sprintf(`(() => { const e = %s; e.scrollIntoView({block: 'center', behavior: 'instant'}); const r = e.getBoundingClientRect(), x = r.x + r.width / 2, y = r.y + r.height / 2; return e.contains(document.elementFromPoint(x, y)) ? [x, y] : []; })()`, what))
	if len(at) != 2 {
		t.Fatalf("%s cannot be pressed", what)
	}
	if err := chromedp.Do(ctx, chromedp.MouseClickXY(at[0], at[1])); err != nil {
		t.Fatal(err)
	}
}

// In the page's own words: the lift of a name, its set, and what is in it.
func lift(name string) string {
	return fmt.Sprintf("[...document.querySelectorAll('.lift')].find(l => l.querySelector('h3').textContent === %q)", name)
}

func setAt(name string, n int) string {
	return fmt.Sprintf("%s.querySelectorAll('.set')[%d]", lift(name), n-1)
}

func within(of, selector string) string { return of + ".querySelector('" + selector + "')" }

func saysOf(set string) string { return within(set, ".says") + ".textContent" }

// writes types a value into an input as a person does, and leaves it.
func writes(t *testing.T, ctx context.Context, input, value string) {
	t.Helper()
	js[bool](t, ctx, fmt.Sprintf(`{ const i = %s; i.focus(); i.value = %q; i.dispatchEvent(new Event('input', { bubbles: true })); i.dispatchEvent(new Event('change', { bubbles: true })); i.blur(); } true`, input, value))
}

func setsAsText(all []athlete.Set) string {
	var out []string
	for _, s := range all {
		one := fmt.Sprintf("%d %s %.2f×%d", s.Order, s.Exercise, s.WeightKg, s.Reps)
		if s.RIR != nil {
			one += fmt.Sprintf(" %v", *s.RIR)
		}
		if s.Side != "" {
			one += " " + s.Side
		}
		out = append(out, one)
	}
	return strings.Join(out, ", ")
}

// An athlete logs a session on a phone: what is offered takes one press a set, what is
// typed none; the connection goes and comes back, and each set reaches the desk once.
func TestGymOnAPhone(t *testing.T) {
	ctx := browsertest.Tab(t)
	w, _, own := planned(t, civil.FromTime(time.Now()))
	phone := w.line()
	looks(t, ctx, 360, "light")
	signedIn(t, ctx, own)
	open(t, ctx, w.URL+"/day")
	until(t, ctx, "the day", "document.querySelector('.own-day[data-ready]')")
	session := fmt.Sprintf("(await (await caches.open('glidepath-days-2')).match('/day/%%s/gym')) && (await (await caches.open('glidepath-parts-1')).keys()).length > 2")
	for _, on := range []civil.Date{w.today, w.today.AddDays(1)} {
		until(t, ctx, "the worker has the session of "+on.String(), fmt.Sprintf(session, on))
	}
	tap(t, ctx, "document.querySelector('.gym-link a')")
	until(t, ctx, "the session", "document.querySelector('.own-gym[data-ready]')")

	press, pull, squat := "Bench press", "Pull-up", "Back squat"
	taps := 0
	same := func(set string) {
		taps++
		tap(t, ctx, within(set, ".take"))
	}
	same(setAt(press, 1))
	until(t, ctx, "the first set is kept", saysOf(setAt(press, 1))+" === 'Kept'")
	until(t, ctx, "the rest is counted", within(lift(press), ".rest")+".textContent.startsWith('Resting 0:0')")
	if !js[bool](t, ctx, "document.activeElement === "+within(setAt(press, 2), ".take")) {
		t.Error("the next set does not have the focus")
	}

	phone.cut(t, ctx, true)
	same(setAt(press, 2))
	until(t, ctx, "the second waits", saysOf(setAt(press, 2))+" === 'Unsent'")
	writes(t, ctx, within(setAt(pull, 1), "[name=weight]"), "2,5")
	writes(t, ctx, within(setAt(pull, 1), "[name=reps]"), "9") // both typed: no press
	writes(t, ctx, within(setAt(pull, 2), "[name=reps]"), "8") // not whole yet
	until(t, ctx, "three values wait", "document.querySelector('.away').textContent.startsWith('2 values are not sent yet')")
	until(t, ctx, "it is kept on the phone", "Object.keys(localStorage).some(k => k.startsWith('glidepath gym '))")
	js[bool](t, ctx, "scrollTo(0, 0); true")
	picture(t, ctx, "own-gym")
	openGym(t, ctx, w, w.today) // closed and opened again, still away
	got := js[string](t, ctx, "[...document.querySelectorAll('.set')].map(s => [...s.querySelectorAll('[name=weight], [name=reps]')].map(i => i.value).join('x') + s.querySelector('.says').textContent).join(' ')")
	if want := "60x8Kept 60x7Unsent 2,5x9Unsent x8 x"; got != want {
		t.Errorf("after it was closed the page has %q, not %q", got, want)
	}
	if n := len(w.marasSets(w.today)); n != 1 {
		t.Errorf("the desk has %d sets without a connection", n)
	}
	same(setAt(pull, 2)) // the grey 0 goes with what is typed
	same(setAt(squat, 1))
	phone.cut(t, ctx, false)
	for _, s := range []string{setAt(press, 2), setAt(pull, 1), setAt(pull, 2), setAt(squat, 1)} {
		until(t, ctx, "each is kept", saysOf(s)+" === 'Kept'")
	}
	const want = "1 bench press 60.00×8, 2 bench press 60.00×7, 3 pull-up 2.50×9, 4 pull-up 0.00×8, 5 back squat 82.50×5"
	if got := setsAsText(w.marasSets(w.today)); got != want {
		t.Errorf("the desk has %s, not %s", got, want)
	}
	t.Logf("five sets took %d presses", taps)
	if n := w.marasCorrections(); n != 0 || waiting(t, ctx) != 0 {
		t.Errorf("%d corrections, %d waiting: something was sent twice", n, waiting(t, ctx))
	}

	writes(t, ctx, "document.getElementById('in-minutes')", "70")
	writes(t, ctx, "document.getElementById('in-rpe')", "8")
	until(t, ctx, "the session is kept", "document.querySelector('.whole .says').textContent === 'Kept'")
	if s, err := w.app.Sessions(t.Context(), "mara", w.today, w.today); err != nil || len(s) != 1 || s[0].Minutes != 70 || s[0].RPE != 8 {
		t.Errorf("the session is %+v, %v", s, err)
	}
}

// An answer that is lost on the way is no clash with oneself; a set that somebody else
// changed is shown both ways; a set goes, and comes back.
func TestGymSetsInDoubt(t *testing.T) {
	ctx := browsertest.Tab(t)
	w, _, own := planned(t, civil.FromTime(time.Now()))
	phone := w.line()
	looks(t, ctx, 360, "light")
	signedIn(t, ctx, own)
	openGym(t, ctx, w, w.today)
	const press = "Bench press"
	first := setAt(press, 1)

	phone.deaf.Store(true)
	tap(t, ctx, within(first, ".take"))
	until(t, ctx, "it is not known to be kept", saysOf(first)+" === 'Unsent'")
	if n := len(w.marasSets(w.today)); n != 1 {
		t.Fatalf("the desk heard of %d sets", n)
	}
	writes(t, ctx, within(first, "[name=effort]"), "1")
	until(t, ctx, "still not", saysOf(first)+" === 'Unsent'")
	phone.deaf.Store(false)
	js[bool](t, ctx, "dispatchEvent(new Event('online')); true")
	until(t, ctx, "kept", saysOf(first)+" === 'Kept'")
	if got := setsAsText(w.marasSets(w.today)); got != "1 bench press 60.00×8 1" {
		t.Errorf("the desk has %s", got)
	}

	phone.cut(t, ctx, true)
	writes(t, ctx, within(first, "[name=reps]"), "9")
	w.sets(athlete.Set{Date: w.today, Exercise: "bench press", WeightKg: 61, Reps: 8, RIR: new(1.0), Order: 1})
	phone.cut(t, ctx, false)
	until(t, ctx, "both are told", saysOf(first)+".includes('61 kg × 8, 1 RIR was entered. You typed 60 kg × 9, 1 RIR')")
	fits(t, ctx, "a clash of sets")
	picture(t, ctx, "gym-clash")
	openGym(t, ctx, w, w.today)
	until(t, ctx, "the clash outlives the page", within(first, ".says button"))
	tap(t, ctx, within(first, ".says button"))
	until(t, ctx, "the own is kept", saysOf(first)+" === 'Kept'")

	tap(t, ctx, within(first, ".set-number"))
	tap(t, ctx, within(first, ".take-out"))
	until(t, ctx, "it is out", saysOf(first)+".startsWith('Taken out.')")
	for range 100 {
		if len(w.marasSets(w.today)) == 0 {
			break
		}
		time.Sleep(50 * time.Millisecond)
	}
	if n := len(w.marasSets(w.today)); n != 0 {
		t.Fatalf("%d sets are left", n)
	}
	fits(t, ctx, "a set that is out")
	tap(t, ctx, within(first, ".put-back"))
	until(t, ctx, "it is back", saysOf(first)+" === 'Kept'")
	if got := setsAsText(w.marasSets(w.today)); got != "1 bench press 60.00×9 1" {
		t.Errorf("the desk has %s", got)
	}

	phone.cut(t, ctx, true)
	tap(t, ctx, within(first, ".set-number"))
	tap(t, ctx, within(first, ".take-out"))
	until(t, ctx, "it waits", saysOf(first)+".startsWith('Unsent')")
	openGym(t, ctx, w, w.today)
	until(t, ctx, "it still waits", saysOf(first)+".startsWith('Unsent')")
	phone.cut(t, ctx, false)
	until(t, ctx, "it is out", saysOf(first)+".startsWith('Taken out.')")
	if n := len(w.marasSets(w.today)); n != 0 {
		t.Errorf("%d sets are left", n)
	}
}

// In pounds and RPE, with another exercise in the place of one, one that was not
// planned, and a side at a time.
func TestGymAsItGoes(t *testing.T) {
	ctx := browsertest.Tab(t)
	w, _, own := planned(t, civil.FromTime(time.Now()))
	own.post("/units", "units", "imperial")
	own.post("/effort", "effort", "rpe")
	looks(t, ctx, 360, "light")
	signedIn(t, ctx, own)
	openGym(t, ctx, w, w.today)
	tap(t, ctx, within(setAt("Bench press", 1), ".take"))
	until(t, ctx, "kept", saysOf(setAt("Bench press", 1))+" === 'Kept'")
	writes(t, ctx, within(setAt("Bench press", 1), "[name=effort]"), "8.5")
	until(t, ctx, "kept", saysOf(setAt("Bench press", 1))+" === 'Kept'")

	// The bench is taken: what is done stays, the rest is done elsewhere.
	js[bool](t, ctx, within(lift("Bench press"), ".swap")+".open = true")
	writes(t, ctx, within(lift("Bench press"), "[name=exercise]"), "machine chest press")
	until(t, ctx, "the other is there", lift("Machine chest press"))
	if n := js[int](t, ctx, lift("Bench press")+".querySelectorAll('.set').length"); n != 1 {
		t.Errorf("%d sets are left of the bench press", n)
	}
	// The squat was not begun: it goes under another name as a whole, and at another weight.
	js[bool](t, ctx, within(lift("Back squat"), ".swap")+".open = true")
	writes(t, ctx, within(lift("Back squat"), "[name=exercise]"), "my own squat")
	writes(t, ctx, within(setAt("My own squat", 1), "[name=weight]"), "135")
	writes(t, ctx, within(setAt("My own squat", 1), "[name=reps]"), "6")
	until(t, ctx, "kept", saysOf(setAt("My own squat", 1))+" === 'Kept'")

	js[bool](t, ctx, "document.getElementById('in-add').value = 'split squat'; true")
	tap(t, ctx, "document.querySelector('.add-lift button')")
	until(t, ctx, "it is added", lift("Split squat"))
	js[bool](t, ctx, within(lift("Split squat"), ".swap")+".open = true")
	tap(t, ctx, within(lift("Split squat"), ".by-side"))
	for i, weight := range []string{"40", "40"} {
		writes(t, ctx, within(setAt("Split squat", i+1), "[name=weight]"), weight)
		writes(t, ctx, within(setAt("Split squat", i+1), "[name=reps]"), "10")
		until(t, ctx, "kept", saysOf(setAt("Split squat", i+1))+" === 'Kept'")
	}
	// 135 lb of 0.45359237 kg are 61.23, 132.5 (what 60 kg read as) 60.10, 40 are 18.14.
	const want = "1 bench press 60.10×8 1.5, 2 my own squat 61.23×6, 3 split squat 18.14×10 left, 4 split squat 18.14×10 right"
	if got := setsAsText(w.marasSets(w.today)); got != want {
		t.Errorf("the desk has %s, not %s", got, want)
	}
	fits(t, ctx, "a session as it goes")
	picture(t, ctx, "gym-as-it-goes")
	before := js[string](t, ctx, "[...document.querySelectorAll('.lift')].map(l => l.querySelector('h3').textContent + l.querySelectorAll('.set.kept').length + '/' + l.querySelectorAll('.set').length).sort().join()")
	openGym(t, ctx, w, w.today)
	if after := js[string](t, ctx, "[...document.querySelectorAll('.lift')].map(l => l.querySelector('h3').textContent + l.querySelectorAll('.set.kept').length + '/' + l.querySelectorAll('.set').length).sort().join()"); after != before {
		t.Errorf("opened again the page has %s, not %s", after, before)
	}
}

// The session with the keyboard alone.
func TestGymByKeyboard(t *testing.T) {
	ctx := browsertest.Tab(t)
	w, _, own := planned(t, civil.FromTime(time.Now()))
	looks(t, ctx, 1280, "light")
	signedIn(t, ctx, own)
	open(t, ctx, w.URL+"/day")
	until(t, ctx, "the day", "document.querySelector('.own-day[data-ready]')")
	tabTo(t, ctx, "Today’s session: Upper A")
	keys(t, ctx, kb.Enter)
	until(t, ctx, "the session", "document.querySelector('.own-gym[data-ready]')")
	tabTo(t, ctx, "Same")
	keys(t, ctx, kb.Enter)
	keys(t, ctx, kb.Enter) // the next has the focus
	until(t, ctx, "two are kept", saysOf(setAt("Bench press", 2))+" === 'Kept'")
	until(t, ctx, "the focus goes on", "document.activeElement === "+within(setAt("Pull-up", 1), ".take"))
	for range 3 { // back to the weight
		if err := chromedp.Do(ctx, chromedp.KeyEvent(kb.Tab, chromedp.KeyModifiers(8))); err != nil { // Shift
			t.Fatal(err)
		}
	}
	keys(t, ctx, "5"+kb.Enter+"8"+kb.Enter)
	until(t, ctx, "the third is kept", saysOf(setAt("Pull-up", 1))+" === 'Kept'")
	tabTo(t, ctx, "Add a set")
	keys(t, ctx, kb.Enter)
	until(t, ctx, "another set has the focus", "document.activeElement === "+within(setAt("Pull-up", 3), ".take"))
	tabTo(t, ctx, "in-minutes")
	keys(t, ctx, "60"+kb.Tab+"7")
	until(t, ctx, "the session is kept", "document.querySelector('.whole .says').textContent === 'Kept'")
	const want = "1 bench press 60.00×8, 2 bench press 60.00×7, 3 pull-up 5.00×8"
	if got := setsAsText(w.marasSets(w.today)); got != want {
		t.Errorf("the desk has %s, not %s", got, want)
	}
}

// The session holds together on a phone, a tablet and a desk, in light and dark, with
// everything open and with what hurts; axe-core finds nothing wrong.
func TestGymInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	w, _, own := planned(t, civil.FromTime(clock))
	at := "/day/" + w.today.String() + "/gym"
	squat := athlete.Exercise{
		Name: "back squat", Pattern: athlete.Squat, Equipment: athlete.Barbell, Stability: athlete.FreeStanding,
		Muscles: []athlete.Share{{Muscle: athlete.Quadriceps, Share: 1}}, Loads: []athlete.Region{athlete.Knee},
	}
	if err := w.app.PutExercise(t.Context(), squat); err != nil {
		t.Fatal(err)
	}
	w.sets(athlete.Set{Date: w.today, Exercise: "bench press", WeightKg: 62.5, Reps: 8, RIR: new(1.0), Order: 1, Notes: "better"})
	asked := watch(t, ctx, w.URL)
	signedIn(t, ctx, own)
	inspect(t, ctx, w.URL, browserPage{"gym", at, ""})
	inspect(t, ctx, w.URL, browserPage{"gym-deload", "/day/" + w.today.AddDays(-6).String() + "/gym", ""})
	inspect(t, ctx, w.URL, browserPage{"gym-free", "/day/" + w.today.AddDays(-50).String() + "/gym", ""})
	mark := ownerMark(t, own)
	own.post("/day/"+w.today.String()+"/pain", "value", "6", "owner", mark)
	own.post("/day/"+w.today.String()+"/pain_where", "value", "knee", "owner", mark)
	if err := w.app.AddInjury(t.Context(), "mara", athlete.Injury{From: w.today, Where: athlete.Knee}); err != nil {
		t.Fatal(err)
	}
	const all = "document.querySelectorAll('details, .set-number').forEach(d => d.matches('details') ? d.open = true : d.click())"
	inspect(t, ctx, w.URL, browserPage{"gym-open", at, "(async () => { while (!document.querySelector('.own-gym[data-ready]')) await new Promise(d => setTimeout(d, 20)); " + all + " })()"})
	for _, a := range asked() {
		t.Errorf("a page asked for %q", a)
	}
}
