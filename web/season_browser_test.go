package web_test

import (
	"context"
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/browsertest"
	"glidepath/civil"
)

// finger presses, moves and lifts: of a mouse, or on a touch screen.
type finger struct {
	t     *testing.T
	ctx   context.Context
	touch bool
}

func (f *finger) do(kind string, x, y float64) {
	f.t.Helper()
	if !f.touch {
		event := map[string]input.DispatchMouseEventType{"press": chromedp.MousePressed, "move": chromedp.MouseMoved, "lift": chromedp.MouseReleased}[kind]
		if err := chromedp.Do(f.ctx, chromedp.MouseEvent(event, x, y, chromedp.ButtonLeft, chromedp.ClickCount(1))); err != nil {
			f.t.Fatal(err)
		}
		return
	}
	p := input.DispatchTouchEventParams{TouchPoints: []*input.TouchPoint{{X: x, Y: y}}}
	switch kind {
	case "press":
		p.Type = input.DispatchTouchEventTypeTouchStart
	case "move":
		p.Type = input.DispatchTouchEventTypeTouchMove
	default:
		p.Type, p.TouchPoints = input.DispatchTouchEventTypeTouchEnd, []*input.TouchPoint{}
	}
	if _, err := chromedp.Call(f.ctx, input.DispatchTouchEvent, p); err != nil {
		f.t.Fatal(err)
	}
}

// place is where a tag is in the window, and how wide a day is on its timeline.
type place struct{ X, Y, Day float64 }

func placeOf(t *testing.T, ctx context.Context, label string) place {
	t.Helper()
	return js[place](t, ctx, fmt.Sprintf(`document.fonts.ready.then(() => {
		const e = document.querySelector('.tag[aria-label=%q]'), track = e.closest('.track');
		e.scrollIntoView({ block: 'center', behavior: 'instant' });
		const box = e.getBoundingClientRect(), day = (d) => Date.parse(d) / 86400000;
		return { X: box.x + box.width / 2, Y: box.y + box.height / 2, Day: track.clientWidth / (day(track.dataset.to) + 1 - day(track.dataset.from)) };
	})`, label))
}

// drag takes a tag so many days along, in several moves.
func (f *finger) drag(label string, days float64, lift bool) {
	f.t.Helper()
	p := placeOf(f.t, f.ctx, label)
	f.do("press", p.X, p.Y)
	const steps = 6
	for i := range steps {
		f.do("move", p.X+p.Day*days*float64(i+1)/steps, p.Y+float64(i)) // nobody's hand keeps level
	}
	if lift {
		f.do("lift", p.X+p.Day*days, p.Y)
	}
}

func value(t *testing.T, ctx context.Context, id string) string {
	t.Helper()
	return js[string](t, ctx, fmt.Sprintf("document.getElementById(%q).value", id))
}

// travelling gives the athlete a journey to move about.
func (w *world) travelling() {
	w.t.Helper()
	e := athlete.Event{From: civil.Of(2026, 4, 1), To: civil.Of(2026, 4, 7), Kind: "travel"}
	if err := w.app.AddEvent(w.t.Context(), changing, e); err != nil {
		w.t.Fatal(err)
	}
}

const (
	showTag  = "Date of Lantern Coast May Classic"
	firstTag = "Travel of 1 Apr 2026 to 7 Apr 2026: first day"
	lastTag  = "Travel of 1 Apr 2026 to 7 Apr 2026: last day"
)

// A show is dragged a week later, by mouse on a desk and by touch on a phone; the
// what-if stands below, and nothing is kept until it is accepted.
func TestShowIsDragged(t *testing.T) {
	ctx := browsertest.Tab(t)
	for _, width := range widths {
		w := filled(t)
		w.travelling()
		signedIn(t, ctx, w.owner())
		asked := watch(t, ctx, w.URL)
		looks(t, ctx, width, "light")
		hand := &finger{t, ctx, width == 360}
		if hand.touch {
			if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 800, chromedp.EmulateScale(1), chromedp.EmulateMobile, chromedp.EmulateTouch)); err != nil {
				t.Fatal(err)
			}
		}
		open(t, ctx, w.URL+"/athletes/"+changing+"/season")
		until(t, ctx, "the tags", "document.querySelector('.tag[aria-valuetext]')")
		hold(t, ctx, "season-tags", width)
		shoot(t, ctx, "season-tags", width)
		show := w.profile(changing).NextShow(w.today)

		hand.drag(showTag, 7, false)
		if got, want := value(t, ctx, "in-show-0"), show.Date.AddDays(7).String(); got != want {
			t.Errorf("%d px: under way the date is %s, not %s", width, got, want)
		}
		shoot(t, ctx, "season-dragged", width)
		p := placeOf(t, ctx, showTag)
		hand.do("lift", p.X, p.Y)
		says(t, ctx, "Compared below: ")
		says(t, ctx, "Side by side")
		says(t, ctx, "23 May 2026")
		if got, want := value(t, ctx, "in-show-0"), show.Date.AddDays(7).String(); got != want {
			t.Errorf("%d px: the date is %s, not %s", width, got, want)
		}
		hold(t, ctx, "season-compared", width)
		shoot(t, ctx, "season-compared", width)

		hand.drag(lastTag, 4, true)
		until(t, ctx, "the journey is longer", "document.getElementById('in-event-0-to').value === '2026-04-11'")
		hand.drag(firstTag, 30, true) // no further than its last day
		until(t, ctx, "an event ends after it begins", "document.getElementById('in-event-0-from').value === '2026-04-11'")
		hand.drag(showTag, -400, true) // no further than tomorrow
		until(t, ctx, "a show lies ahead", "document.getElementById('in-show-0').value === '"+w.today.AddDays(1).String()+"'")
		hold(t, ctx, "season-crowded", width)

		if got := w.profile(changing); got.NextShow(w.today).Date != show.Date || got.Events[len(got.Events)-1].To != civil.Of(2026, 4, 7) {
			t.Fatalf("%d px: dragging changed the profile to %+v", width, got)
		}
		// A finger that the browser takes away changes nothing.
		open(t, ctx, w.URL+"/athletes/"+changing+"/season")
		until(t, ctx, "the tags", "document.querySelector('.tag[aria-valuetext]')")
		hand.drag(showTag, 7, true)
		says(t, ctx, "Accept this season")
		press(t, ctx, "Accept this season", "The season is changed")
		if got := w.profile(changing).NextShow(w.today); got.Date != show.Date.AddDays(7) || got.ID != show.ID {
			t.Errorf("%d px: accepted is %+v", width, got)
		}
		for _, a := range asked() {
			t.Errorf("%d px: the page asked for %q", width, a)
		}
	}
}

// The same by keyboard alone: a day and a week at a time, said by the slider, put back
// with Escape, and accepted.
func TestDatesMovedByKeyboard(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := filled(t)
	w.travelling()
	signedIn(t, ctx, w.owner())
	looks(t, ctx, 1280, "light")
	open(t, ctx, w.URL+"/athletes/"+changing+"/season")
	until(t, ctx, "the tags", "document.querySelector('.tag[aria-valuetext]')")
	at := func() string {
		return js[string](t, ctx, "(e => e.getAttribute('aria-label') + ': ' + e.getAttribute('aria-valuetext'))(document.activeElement)")
	}
	wants := func(want string) {
		t.Helper()
		if got := at(); got != want {
			t.Errorf("the focus is on %q, not %q", got, want)
		}
	}
	tabTo(t, ctx, "show 16 May")
	wants(showTag + ": Saturday 16 May 2026")
	keys(t, ctx, kb.ArrowRight)
	keys(t, ctx, kb.PageUp)
	shifted(t, ctx, kb.ArrowRight)
	wants(showTag + ": Sunday 31 May 2026; planned Saturday 16 May 2026")
	keys(t, ctx, kb.PageDown)
	keys(t, ctx, kb.ArrowLeft)
	wants(showTag + ": Saturday 23 May 2026; planned Saturday 16 May 2026")
	says(t, ctx, "Compared below: ")
	wants(showTag + ": Saturday 23 May 2026; planned Saturday 16 May 2026") // the focus stays
	keys(t, ctx, kb.Escape)
	says(t, ctx, "As planned.")
	if js[bool](t, ctx, "document.body.innerText.includes('Side by side')") {
		t.Error("what was put back is still compared")
	}
	keys(t, ctx, kb.PageUp)
	says(t, ctx, "Compared below: ")
	keys(t, ctx, kb.Tab)
	wants(firstTag + ": Wednesday 1 April 2026")
	shifted(t, ctx, kb.ArrowLeft)
	wants(firstTag + ": Wednesday 25 March 2026; planned Wednesday 1 April 2026")
	keys(t, ctx, kb.Tab)
	keys(t, ctx, kb.Home) // no further than its first day
	wants(lastTag + ": Wednesday 25 March 2026; planned Tuesday 7 April 2026")
	until(t, ctx, "it is compared", "document.getElementById('compared').innerText.includes('25 Mar 2026')")
	if got := w.profile(changing).NextShow(w.today).Date; got != civil.Of(2026, 5, 16) {
		t.Fatalf("the show was moved to %s unasked", got)
	}
	tabTo(t, ctx, "Accept this season")
	keys(t, ctx, kb.Enter)
	says(t, ctx, "The season is changed")
	a := w.profile(changing)
	e := a.Events[len(a.Events)-1]
	if a.NextShow(w.today).Date != civil.Of(2026, 5, 23) || e != (athlete.Event{From: civil.Of(2026, 3, 25), To: civil.Of(2026, 3, 25), Kind: "travel"}) {
		t.Errorf("accepted are %+v and %+v", a.Shows, e)
	}
}

func shifted(t *testing.T, ctx context.Context, key string) {
	t.Helper()
	if err := chromedp.Do(ctx, chromedp.KeyEvent(key, chromedp.KeyModifiers(chromedp.ModifierShift))); err != nil {
		t.Fatal(err)
	}
}

// What is refused is told where the dates are moved, and is not compared.
func TestMovedDatesRefused(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := filled(t)
	w.travelling()
	signedIn(t, ctx, w.owner())
	looks(t, ctx, 1280, "light")
	open(t, ctx, w.URL+"/athletes/"+changing+"/season")
	until(t, ctx, "the tags", "document.querySelector('.tag[aria-valuetext]')")
	// Somebody else moves the journey meanwhile.
	err := w.app.ChangeSeason(t.Context(), changing, "", &app.Supposition{Moved: []app.MovedEvent{{
		Kind: "travel", Was: app.Stretch{From: civil.Of(2026, 4, 1), To: civil.Of(2026, 4, 7)}, To: app.Stretch{From: civil.Of(2026, 4, 2), To: civil.Of(2026, 4, 7)},
	}}}, w.today)
	if err != nil {
		t.Fatal(err)
	}
	tabTo(t, ctx, "to 7 Apr")
	keys(t, ctx, kb.PageUp)
	says(t, ctx, "There is no such event any more")
}
