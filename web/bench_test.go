package web_test

import (
	"net/http"
	"net/http/httptest"
	"slices"
	"testing"
	"time"
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
