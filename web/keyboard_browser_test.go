package web_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"glidepath/access"
	"glidepath/browsertest"
	"glidepath/civil"
	"glidepath/photo/phototest"
)

// These walks are made with Tab, Enter, Space, the arrow keys and typing alone. What
// the pages say is read by script; nothing is done by it but choosing a file, for
// which the system has its own window.

// fillIn goes to inputs by Tab and types into them, in the order of the page.
func fillIn(t *testing.T, ctx context.Context, pairs ...string) {
	t.Helper()
	for i := 0; i+1 < len(pairs); i += 2 {
		tabTo(t, ctx, pairs[i])
		keys(t, ctx, pairs[i+1])
	}
}

// enter goes to a link or button by Tab and presses Enter.
func enter(t *testing.T, ctx context.Context, words, then string) {
	t.Helper()
	tabTo(t, ctx, words)
	keys(t, ctx, kb.Enter)
	says(t, ctx, then)
}

// choose puts a file into the input that has the focus.
func choose(t *testing.T, ctx context.Context, id, name string, data []byte) {
	t.Helper()
	tabTo(t, ctx, id)
	file := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := chromedp.Do(ctx, chromedp.SetUploadFiles(chromedp.CSS("#"+id), []string{file})); err != nil {
		t.Fatal(err)
	}
}

// An owner, an athlete and a log whose columns are put right, by keyboard.
func TestFirstRunByKeyboard(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := serve(t, nil)
	looks(t, ctx, 1280, "light")
	open(t, ctx, w.URL+"/")
	says(t, ctx, "Whose desk is this?")
	fillIn(t, ctx, "in-name", "Wren Cadwallader", "in-login", "wren@example.org", "in-password", password)
	enter(t, ctx, "Begin", "An empty desk")
	enter(t, ctx, "Add an athlete", "What the reckoning needs")
	fillIn(t, ctx, "in-name", "Mara Lindqvist", "in-sex", "f", "in-birth_date", "05171994", "in-height", "5 ft 6 in", "in-weight", "143 lb", "in-training_years", "7",
		"in-steps_per_day", "9000", "in-cardio_minutes_per_week", "60", "in-cardio_minutes_max", "300", "Thursday", " ")
	enter(t, ctx, "Add", "The athlete is on the roster")
	a := w.profile("mara-lindqvist")
	if a.Sex != "female" || a.BirthDate != civil.Of(1994, 5, 17) || len(a.TrainingDays) != 1 || a.TrainingDays[0].String() != "thursday" {
		t.Errorf("added is %+v", a)
	}

	enter(t, ctx, "Import", "Send a table of your own")
	choose(t, ctx, "in-file", "february.csv", []byte("Day,Morning weight,Kcals,Mood,Steps\n20/02/2026,143.1,2100,7,9000\n21/02/2026,142.8,2050,6,8800\n22/02/2026,heavy,2050,6,8800\n"))
	enter(t, ctx, "Read it", "Nothing is stored yet")
	tabTo(t, ctx, "Mood is")
	keys(t, ctx, "hun") // it is hunger that she writes down there
	enter(t, ctx, "Read it so", "february.csv leaves something open")
	hold(t, ctx, "import-question", 1280)
	tabTo(t, ctx, "a scale of 1 to 10")
	keys(t, ctx, kb.ArrowDown)
	keys(t, ctx, kb.ArrowUp)
	enter(t, ctx, "Read it so", "2 days can be read from february.csv")
	if n := len(w.days("mara-lindqvist")); n != 0 {
		t.Fatalf("%d days were stored before they were confirmed", n)
	}
	tabTo(t, ctx, "partial")
	keys(t, ctx, " ")
	enter(t, ctx, "Take 2 days in", "Taken in")
	days := w.days("mara-lindqvist")
	if len(days) != 2 || days[0].Hunger == nil || *days[0].Hunger != 7 || *days[0].WeightKg < 64 || *days[0].WeightKg > 66 {
		t.Errorf("stored are %+v", days)
	}
}

// The way past the navigation is the first thing that Tab comes to.
func TestSkipLink(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := filled(t)
	signedIn(t, ctx, w.owner())
	looks(t, ctx, 360, "light")
	open(t, ctx, w.URL+"/athletes/"+changing)
	keys(t, ctx, kb.Tab)
	if got := js[string](t, ctx, `(e => e.textContent + (e.getBoundingClientRect().left >= 0 ? ' is seen' : ' is not seen'))(document.activeElement)`); got != "Skip to the content is seen" {
		t.Errorf("the first Tab comes to what says %q", got)
	}
	keys(t, ctx, kb.Enter)
	until(t, ctx, "the content has the focus", "document.activeElement.id === 'content'")
	keys(t, ctx, kb.Tab)
	if got := js[bool](t, ctx, `document.getElementById('content').contains(document.activeElement)`); !got {
		t.Error("the next Tab leaves the content")
	}
}

// A show is typed on another date, compared and accepted.
func TestWhatIfByKeyboard(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := filled(t)
	signedIn(t, ctx, w.owner())
	looks(t, ctx, 1280, "light")
	open(t, ctx, w.URL+"/athletes/"+changing)
	enter(t, ctx, "Season", "What if?")
	tabTo(t, ctx, "in-show-0")
	keys(t, ctx, "05232026")
	enter(t, ctx, "Compare", "Side by side")
	if got := w.profile(changing).NextShow(w.today).Date; got != civil.Of(2026, 5, 16) {
		t.Fatalf("comparing moved the show to %s", got)
	}
	enter(t, ctx, "Accept this season", "The season is changed")
	if got := w.profile(changing).NextShow(w.today).Date; got != civil.Of(2026, 5, 23) {
		t.Errorf("the show is on %s", got)
	}
}

// An athlete logs a day and checks in with a photo.
func TestOwnDayByKeyboard(t *testing.T) {
	ctx := browsertest.Tab(t)
	w, _, own := maras(t)
	signedIn(t, ctx, own)
	looks(t, ctx, 1280, "light")
	open(t, ctx, w.URL+"/day/"+w.today.String())
	until(t, ctx, "the day page", "document.querySelector('.own-day[data-ready]')")
	fillIn(t, ctx, "in-weight_kg", "64.8", "in-energy_kcal", "2150", "in-steps", "9100", "Minutes", "30", "Kind", "cyc")
	tabTo(t, ctx, "More")
	keys(t, ctx, kb.Enter)
	fillIn(t, ctx, "in-notes", "legs heavy")
	keys(t, ctx, kb.Tab)
	until(t, ctx, "the note is kept", under("notes")+" === 'Kept'")
	until(t, ctx, "the cardio is kept", under("cardio")+" === 'Kept'")
	d := w.marasDay(w.today)
	if d.WeightKg == nil || *d.WeightKg != 64.8 || *d.EnergyKcal != 2150 || *d.Steps != 9100 || len(d.Cardio) != 1 || d.Cardio[0].Kind != "cycling" || d.Notes != "legs heavy" {
		t.Errorf("the day is %+v", d)
	}

	enter(t, ctx, "Check-in", "How it goes")
	choose(t, ctx, "photo-front", "front.jpg", phototest.JPEG(300, 400, 1))
	until(t, ctx, "the photo is kept", "[...document.querySelectorAll('.pose')].find(f => f.querySelector('[value=front]')).querySelector('.says').textContent === 'Kept'")
	fillIn(t, ctx, "words", "A good week.", "dizziness", " ")
	enter(t, ctx, "Send to your coach", "You told of dizziness")
	sent, err := w.app.CheckIns(t.Context(), "mara", w.today)
	if err != nil || len(sent) != 1 || sent[0].Words != "A good week." || len(sent[0].Signs) != 1 {
		t.Errorf("the check-ins are %+v (%v)", sent, err)
	}
	if photos, err := w.app.Photos(t.Context(), "mara", w.today); err != nil || len(photos) != 1 {
		t.Errorf("the photos are %+v (%v)", photos, err)
	}
}

// A note is written and a message kept.
func TestNoteAndMessageByKeyboard(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := filled(t)
	signedIn(t, ctx, w.role(w.owner(), access.Coach, changing))
	looks(t, ctx, 1280, "light")
	open(t, ctx, w.URL+"/athletes/"+changing)
	tabTo(t, ctx, "Write a note")
	keys(t, ctx, kb.Enter)
	fillIn(t, ctx, "in-note", "flat at posing practice")
	enter(t, ctx, "Keep the note", "The note is kept.")
	says(t, ctx, "flat at posing practice")
	for _, width := range widths {
		looks(t, ctx, width, "light")
		hold(t, ctx, "noted", width)
		shoot(t, ctx, "noted", width)
	}
	open(t, ctx, w.URL+"/athletes/"+changing+"/message")
	says(t, ctx, "Drafted from the figures")
	tabTo(t, ctx, "in-text")
	keys(t, ctx, "PS: see you on Friday.")
	enter(t, ctx, "Keep in the outbox", "Kept in ")
	if got := w.kept[changing]; !strings.Contains(got, "PS: see you on Friday.") || !strings.Contains(got, "Hello Aroha") {
		t.Errorf("kept is %q", got)
	}
}
