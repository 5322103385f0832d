package web_test

import (
	"net/http"
	"strings"
	"testing"

	"glidepath/access"
	"glidepath/account"
	"glidepath/app"
	"glidepath/athlete"
)

// What both sides wrote stands on the page, is marked in the corridor, and is said
// with its day; the coach's is nowhere that an athlete may look, nor in the report.
func TestNotes(t *testing.T) {
	w := filled(t)
	owner := w.owner()
	day := []athlete.Day{{Date: w.today.AddDays(-1), Notes: "Slept badly <on the couch>"}}
	if _, err := w.app.Record(t.Context(), changing, app.Batch{Days: day}, app.Source{Name: "test"}); err != nil {
		t.Fatal(err)
	}
	base := "/athletes/" + changing
	owner.get(base).wants(t, http.StatusOK, "Slept badly &lt;on the couch&gt;", "Athlete’s notes, ")
	b := w.role(owner, access.Assistant, changing)
	const words = "Flat at posing practice;\r\nask about the <knee>"
	page := b.post(base+"/notes", "note_date", w.today.AddDays(-3).String(), "note", words).
		wants(t, http.StatusOK, "The note is kept.", "Flat at posing practice;\nask about the &lt;knee&gt;", "Coach’s notes, 27 Feb 2026")
	if strings.Contains(page.body, "Remove the note") {
		t.Error("an assistant is offered to remove a note")
	}
	b.get(base+"/days").wants(t, http.StatusOK, "Slept badly", `note of Robin assistant: “Flat at posing practice;`)
	if report := b.get(base+"/report").wants(t, http.StatusOK, "Athlete’s notes, "); strings.Contains(report.body, "posing practice") || strings.Contains(report.body, "Coach’s notes") {
		t.Error("the report has the coach’s note")
	}

	own := w.role(owner, access.Athlete, changing)
	for _, path := range []string{"/day", "/check-in", "/progress", "/photos"} {
		if got := own.get(path).wants(t, http.StatusOK); strings.Contains(got.body, "posing practice") {
			t.Errorf("%s shows an athlete the coach’s note", path)
		}
	}

	b.post(base+"/notes", "note_date", w.today.AddDays(1).String(), "note", "of tomorrow").wants(t, http.StatusUnprocessableEntity, "Is still to come", ">of tomorrow</textarea>")
	b.post(base+"/notes", "note_date", w.today.String(), "note", "  ").wants(t, http.StatusUnprocessableEntity, "The note is empty")
	b.post(base+"/notes", "note_date", "", "note", "of no day").wants(t, http.StatusUnprocessableEntity, "The note has no date")

	number := owner.get(base).wants(t, http.StatusOK, "Remove the note").hidden(t, "number")
	gone := owner.post(base+"/notes/remove", "number", number).wants(t, http.StatusOK, "The note is gone for good.")
	if strings.Contains(gone.body, "posing practice") {
		t.Error("the removed note is still there")
	}
	owner.post(base+"/notes/remove", "number", number).wants(t, http.StatusNotFound, "There is no such note")
	owner.post(base+"/notes/remove", "number", "x").wants(t, http.StatusNotFound, "There is no such note")

	entries, err := w.accounts.Entries(t.Context(), owner.who, account.Query{AthleteID: changing})
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]int{}
	for _, e := range entries {
		said[e.Who+" "+e.What]++
	}
	if said["Robin assistant wrote a note"] != 1 || said["Wren Owner removed a note"] != 1 {
		t.Errorf("the record has %v", said)
	}
}
