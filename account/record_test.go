package account_test

import (
	"slices"
	"testing"
	"time"

	"glidepath/access"
	"glidepath/account"
)

// A day that is logged field by field leaves a line, and another half an hour later;
// another day, athlete, person or way in has its own. No line is changed.
func TestRecordOnce(t *testing.T) {
	f := open(t)
	ana := f.add(access.Athlete, "ana")
	mine := &account.Visitor{Actor: access.Actor{AccountID: ana.ID, Name: "Ana", Role: access.Athlete, AthleteID: "ana"}, Via: "page"}
	token := *mine
	token.Via = "token 1234"
	keep := func(after time.Duration, v *account.Visitor, id, words string) {
		t.Helper()
		f.now = f.now.Add(after)
		if err := f.RecordOnce(t.Context(), v, access.Log, id, words); err != nil {
			t.Fatal(err)
		}
	}
	const monday, tuesday = "logged a day, 2026-03-02", "logged a day, 2026-03-03"
	keep(0, mine, "ana", monday)
	keep(10*time.Minute, mine, "ana", monday)
	keep(19*time.Minute, mine, "ana", monday)
	keep(0, mine, "ana", tuesday)
	keep(0, &token, "ana", monday)
	keep(0, f.me, "ana", monday)
	keep(0, f.me, "ben", monday)
	keep(0, f.me, "ben", monday)
	keep(time.Minute, mine, "ana", monday) // half an hour after the first
	keep(29*time.Minute, mine, "ana", monday)
	all, err := f.Entries(t.Context(), f.me, account.Query{})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range all {
		if e.Action == access.Log {
			got = append(got, e.At.Format("15:04 ")+e.Who+" by "+e.Via+" "+e.AthleteID+": "+e.What)
		}
	}
	want := []string{
		"08:00 Ana by page ana: " + monday,
		"08:29 Ana by page ana: " + tuesday,
		"08:29 Ana by token 1234 ana: " + monday,
		"08:29 test by command line ana: " + monday,
		"08:29 test by command line ben: " + monday,
		"08:30 Ana by page ana: " + monday,
	}
	if !slices.Equal(got, want) {
		t.Errorf("the record is\n%q, not\n%q", got, want)
	}
}
