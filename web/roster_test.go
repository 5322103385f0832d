package web_test

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/web"
)

// settled waits until no row is being read, and gives the page.
func (b *browser) settled(path string) answer {
	b.w.t.Helper()
	for range 3000 {
		got := b.get(path).wants(b.w.t, http.StatusOK)
		if !strings.Contains(got.body, "data-pending") {
			return got
		}
		time.Sleep(20 * time.Millisecond)
	}
	b.w.t.Fatal("the rows are never ready")
	return answer{}
}

// slow is a store that holds a reading back until it is let go.
type slow struct {
	app.Store
	held *atomic.Pointer[chan struct{}]
}

func (s slow) Read(ctx context.Context, fn func(app.Tx) error) error {
	return s.Store.Read(ctx, func(tx app.Tx) error { return fn(slowTx{tx, s.held}) })
}

type slowTx struct {
	app.Tx
	held *atomic.Pointer[chan struct{}]
}

// Athlete is the first thing that a dossier reads.
func (t slowTx) Athlete(id string) (*athlete.Athlete, error) {
	if c := t.held.Load(); c != nil {
		<-*c
	}
	return t.Tx.Athlete(id)
}

// A row is never shown as up to date when the data changed since it was made,
// whoever changed it.
func TestStaleRows(t *testing.T) {
	var held atomic.Pointer[chan struct{}]
	var outside atomic.Int64
	w := serve(t, func(o *web.Options) {
		a := *o.Desk.App
		a.Store = slow{a.Store, &held}
		o.Desk.App = &a
		o.Desk.Version = func(context.Context) (int64, error) { return outside.Load(), nil }
	})
	if err := fill(t.Context(), w.app); err != nil {
		t.Fatal(err)
	}
	b := w.owner()
	b.settled("/").wants(t, http.StatusOK, "nothing has changed since")

	hold := func() chan struct{} {
		c := make(chan struct{})
		held.Store(&c)
		return c
	}
	kcal := 1500.0
	day := []athlete.Day{{Date: w.today.AddDays(-1), EnergyKcal: &kcal}}
	if _, err := w.app.Record(t.Context(), changing, app.Batch{Days: day}, app.Source{Name: "test"}); err != nil {
		t.Fatal(err)
	}
	let := hold()
	page := b.get("/").wants(t, http.StatusOK, "1 is being read again", "As of 09:00; being read again")
	if n := strings.Count(page.body, `class="stale"`); n != 1 {
		t.Errorf("one athlete changed and %d rows are marked", n)
	}
	held.Store(nil)
	close(let)
	b.settled("/")

	for says, change := range map[string]func() error{
		"1 is being read again": func() error {
			_, err := w.app.AddProgramme(t.Context(), changing, split(w.today), "Wren")
			return err
		},
		"12 are being read again": func() error {
			return w.app.SettleName(t.Context(), athlete.ExerciseName{Typed: "blue thing", Exercise: "leg press"})
		},
		"12 are being": func() error { outside.Add(1); return nil },
	} {
		if err := change(); err != nil {
			t.Fatal(err)
		}
		let = hold()
		b.get("/").wants(t, http.StatusOK, says)
		held.Store(nil)
		close(let)
		b.settled("/").wants(t, http.StatusOK, "nothing has changed since")
	}
}

// names are those of the roster in its order.
func names(a answer) []string {
	var out []string
	for _, part := range strings.Split(a.body, `<h3><a href="/athletes/`)[1:] {
		_, rest, _ := strings.Cut(part, `">`)
		name, _, _ := strings.Cut(rest, "<")
		out = append(out, name)
	}
	return out
}

func TestFindAndSort(t *testing.T) {
	w := filled(t)
	b := w.owner()
	all := names(b.settled("/"))
	if len(all) != len(demo().Seasons) {
		t.Fatalf("%d athletes are on the roster: %q", len(all), all)
	}
	byName := names(b.get("/?sort=name"))
	if !slices.IsSorted(byName) || len(byName) != len(all) {
		t.Errorf("by name they are %q", byName)
	}
	if got := names(b.get("/?find=aroha")); !slices.Equal(got, []string{"Aroha Jensen"}) {
		t.Errorf("found %q", got)
	}
	if got := names(b.get("/?find=bodybuilding")); len(got) != 2 {
		t.Errorf("of a division there are %q", got)
	}
	for _, name := range names(b.get("/?need=3")) {
		if !slices.Contains([]string{"Aroha Jensen", "Priya Raghunath", "Hana Kobayashi-Reyes"}, name) {
			t.Errorf("%s is among those for whom a change is proposed", name)
		}
	}
	b.get("/?find=nobody+at+all").wants(t, http.StatusOK, "Nobody fits")
	for _, sort := range []string{"show", "slack", "target", "rate", "log", "strength", "nonsense"} {
		if got := names(b.get("/?sort=" + sort)); len(got) != len(all) {
			t.Errorf("by %s there are %d", sort, len(got))
		}
	}
	// The least slack is first; who has none known is last.
	if got := names(b.get("/?sort=slack")); got[0] != "Marcus Oyelaran" {
		t.Errorf("by slack the first is %s", got[0])
	}
}

// A thousand athletes: every one is found on the pages, once. How long a page
// takes is for the benchmark.
func thousand(tb testing.TB, w *world) {
	tb.Helper()
	r := demo()
	for i := range 1000 {
		one := r.Seasons[i%len(r.Seasons)]
		a := one.Athlete
		a.ID, a.Name = fmt.Sprintf("athlete-%04d", i), fmt.Sprintf("%s %04d", a.Name, i)
		err := w.app.Restore(tb.Context(), &app.Archive{Athlete: a, Days: one.Days, Measurements: one.Measurements, Prescriptions: one.Prescriptions}, app.Source{Name: "test", At: clock})
		if err != nil {
			tb.Fatal(err)
		}
	}
}

func TestPagesOfTheRoster(t *testing.T) {
	w := serve(t, nil)
	for i := range 60 {
		a := mara()
		a.ID, a.Name = fmt.Sprintf("mara-%02d", i), fmt.Sprintf("Mara %02d", i)
		if err := w.app.AddAthlete(t.Context(), a, w.today, false); err != nil {
			t.Fatal(err)
		}
	}
	b := w.owner()
	b.settled("/?sort=name")
	seen := map[string]bool{}
	for page := 1; page <= 3; page++ {
		for _, n := range names(b.get(fmt.Sprintf("/?sort=name&page=%d", page))) {
			if seen[n] {
				t.Errorf("%s is there twice", n)
			}
			seen[n] = true
		}
	}
	if len(seen) != 60 {
		t.Errorf("%d of 60 are on the pages", len(seen))
	}
	b.get("/?page=-3").wants(t, http.StatusOK, "1 to 25 of 60", "page=2")
	b.get("/?page=99").wants(t, http.StatusOK, "51 to 60 of 60")
}
