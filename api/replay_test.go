package api_test

import (
	"encoding/json"
	"net/http"
	"testing"
	"time"

	"glidepath/access"
	"glidepath/api"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/scenario"
)

// A season lived by the interface, each day posted on its morning and a review made
// and decided each Monday, gives the same answers as the same season recorded at
// once and asked about afterwards with as_of.
func TestReplayEqualsLiving(t *testing.T) {
	const weeks = 3
	se := season("priya-raghunath")
	first := monday.AddDays(-7 * weeks)
	lived, replayed := newDesk(t), newDesk(t)
	for _, d := range []*desk{lived, replayed} {
		begin(d, se, first)
	}
	// Recorded at once: everything to the end is there before the first review.
	replayed.now = monday.Time().Add(8 * time.Hour)
	post(replayed, se, first, monday)
	decided := 0
	for on := first; on <= monday; on = on.AddDays(1) {
		lived.now = on.Time().Add(8 * time.Hour)
		post(lived, se, on, on)
		if on.Weekday() != time.Monday {
			continue
		}
		for _, path := range []string{"/reading", "/corridor", "/forecast?futures=100"} {
			sameAnswer(t, lived, replayed, path, on)
		}
		text := func(d *desk) string {
			w := d.send(request{method: "POST", path: "/athletes/priya-raghunath/reviews?as_of=" + on.String(), token: d.tokens[access.Owner]})
			if w.Code != http.StatusOK {
				t.Fatalf("%s: %d %s", on, w.Code, w.Body)
			}
			return w.Body.String()
		}
		a, b := text(lived), text(replayed)
		if a != b {
			t.Fatalf("the review of %s differs:\n%s\n%s", on, a, b)
		}
		var p api.Proposed
		if err := json.Unmarshal([]byte(a), &p); err != nil || p.Draft == nil {
			t.Fatal(err, a)
		}
		for _, d := range []*desk{lived, replayed} {
			ask[api.Outcome](d, 200, request{
				method: "POST", path: "/athletes/priya-raghunath/reviews/" + on.String() + "/decision", body: map[string]any{"decision": "accepted"},
			})
		}
		decided++
		sameAnswer(t, lived, replayed, "/prescription", on)
	}
	if decided != weeks+1 {
		t.Errorf("only %d reviews were decided", decided)
	}
	// And long after, both still say of each Monday what they said then.
	for on := first; on <= monday; on = on.AddDays(7) {
		sameAnswer(t, lived, replayed, "/prescription", on)
		sameAnswer(t, lived, replayed, "/reading", on)
	}
}

// begin takes the athlete in with what was logged before a date.
func begin(d *desk, se *scenario.Season, before civil.Date) {
	d.Helper()
	a := app.Archive{Athlete: se.Athlete}
	for _, p := range se.Prescriptions {
		if p.From < before {
			a.Prescriptions = append(a.Prescriptions, p)
		}
	}
	if err := d.app.Restore(d.Context(), &a, app.Source{Name: "demo"}); err != nil {
		d.Fatal(err)
	}
	d.now = before.Time()
	post(d, se, se.Days[0].Date, before.AddDays(-1))
}

// post sends what was logged of some dates.
func post(d *desk, se *scenario.Season, from, to civil.Date) {
	d.Helper()
	in := func(on civil.Date) bool { return on >= from && on <= to }
	var r api.Records
	for _, v := range se.Days {
		if in(v.Date) {
			r.Days = append(r.Days, v)
		}
	}
	for _, v := range se.Measurements {
		if in(v.Date) {
			r.Measurements = append(r.Measurements, v)
		}
	}
	for _, v := range se.Sets {
		if in(v.Date) {
			r.Sets = append(r.Sets, v)
		}
	}
	for _, v := range se.Sessions {
		if in(v.Date) {
			r.Sessions = append(r.Sessions, v)
		}
	}
	ask[app.Recorded](d, 200, request{method: "POST", path: "/athletes/" + se.Athlete.ID + "/records", body: r})
}

func sameAnswer(t *testing.T, a, b *desk, path string, on civil.Date) {
	t.Helper()
	sep := "?"
	if path == "/forecast?futures=100" {
		sep = "&"
	}
	ask := func(d *desk) string {
		w := d.send(request{method: "GET", path: "/athletes/priya-raghunath" + path + sep + "as_of=" + on.String(), token: d.tokens[access.Owner]})
		if w.Code != http.StatusOK {
			t.Fatalf("%s on %s: %d %s", path, on, w.Code, w.Body)
		}
		return w.Body.String()
	}
	if x, y := ask(a), ask(b); x != y {
		t.Errorf("%s on %s differs:\n%.2000s\n%.2000s", path, on, x, y)
	}
}

// The replay can fail: a day that was not posted shows.
func TestReplayCanFail(t *testing.T) {
	se := season("priya-raghunath")
	a, b := newDesk(t), newDesk(t)
	begin(a, se, monday)
	begin(b, se, monday)
	ask[app.Merge](b, 200, request{
		method: "POST", path: "/athletes/priya-raghunath/days", body: []athlete.Day{{Date: monday.AddDays(-1), WeightKg: new(70.0)}},
	})
	read := func(d *desk) string {
		return d.send(request{method: "GET", path: "/athletes/priya-raghunath/reading?as_of=2026-03-02", token: d.tokens[access.Owner]}).Body.String()
	}
	if read(a) == read(b) {
		t.Error("another weight does not show")
	}
}
