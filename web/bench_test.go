package web_test

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/store"
)

// BenchmarkRoster1000 serves the roster of a thousand athletes whose rows are
// ready, and reports how long one page in twenty takes at least.
func BenchmarkRoster1000(b *testing.B) {
	benchmark(b, "/", true)
}

// BenchmarkEffect answers an edit of a proposal.
func BenchmarkEffect(b *testing.B) {
	benchmark(b, "/athletes/"+changing+"/review/effect?energy=1800", false)
}

// BenchmarkAthlete serves an overview with its charts.
func BenchmarkAthlete(b *testing.B) {
	benchmark(b, "/athletes/"+changing, false)
}

// BenchmarkYear serves pages from a file with a thousand athletes of a year of days
// each.
func BenchmarkYear(b *testing.B) {
	data, err := store.Open(b.Context(), filepath.Join(b.TempDir(), "year.db"))
	if err != nil {
		b.Fatal(err)
	}
	w := serveFrom(b, data, nil)
	w.today = demo().AsOf
	thousandYears(b, w)
	reader := w.owner()
	reader.settled("/")
	for _, path := range []string{
		"/", "/?sort=slack&page=7", "/athletes/athlete-0500", "/athletes/athlete-0500/review", "/athletes/athlete-0500/season",
		"/athletes/athlete-0500/profile", "/athletes/athlete-0500/review/effect?energy=1800",
	} {
		b.Run(path, func(b *testing.B) { measure(b, w, reader, path) })
	}
}

// thousandYears fills a desk with the invented roster over and over, each with a
// year of days: the season's, and before it the same days again.
func thousandYears(b *testing.B, w *world) {
	r := demo()
	year := r.AsOf.AddDays(-365)
	for i := range 1000 {
		one := r.Seasons[i%len(r.Seasons)]
		days := slices.Clone(one.Days)
		length := days[len(days)-1].Date.DaysSince(days[0].Date) + 1
		for back := length; days[0].Date > year; back += length {
			var older []athlete.Day
			for _, d := range one.Days {
				if d.Date = d.Date.AddDays(-back); d.Date >= year {
					older = append(older, d)
				}
			}
			if len(older) == 0 {
				break
			}
			days = append(older, days...)
		}
		a := one.Athlete
		a.ID, a.Name = fmt.Sprintf("athlete-%04d", i), fmt.Sprintf("%s %04d", a.Name, i)
		err := w.app.Restore(b.Context(), &app.Archive{
			Athlete: a, Days: days, Measurements: one.Measurements, Sets: one.Sets, Sessions: one.Sessions, Prescriptions: one.Prescriptions,
		}, app.Source{Name: "test", At: clock})
		if err != nil {
			b.Fatal(err)
		}
	}
}

func benchmark(b *testing.B, path string, many bool) {
	w := serve(b, nil)
	w.today = demo().AsOf
	if many {
		thousand(b, w)
	} else if err := fill(b.Context(), w.app); err != nil {
		b.Fatal(err)
	}
	reader := w.owner()
	reader.settled("/")
	measure(b, w, reader, path)
}

// measure gets a page again and again.
func measure(b *testing.B, w *world, reader *browser, path string) {
	var took []time.Duration
	for b.Loop() {
		r := httptest.NewRequest(http.MethodGet, path, http.NoBody)
		for _, c := range reader.cookies() {
			r.AddCookie(c)
		}
		out := httptest.NewRecorder()
		begun := time.Now()
		w.Config.Handler.ServeHTTP(out, r)
		took = append(took, time.Since(begun))
		if out.Code != http.StatusOK {
			b.Fatal(out.Code)
		}
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)*95/100].Microseconds())/1000, "p95-ms")
}
