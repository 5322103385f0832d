package api_test

import (
	"strconv"
	"strings"
	"testing"

	"glidepath/access"
	"glidepath/account"
	"glidepath/api"
	"glidepath/app"
	"glidepath/athlete"
)

// A note is written with the writer's name, is in the list and the export, is not
// in what the athlete reads, and leaves a line in the record.
func TestNotes(t *testing.T) {
	d := newDesk(t)
	at := "/athletes/" + own + "/notes"
	const words = "flat at posing practice; ask about the knee"
	made := ask[athlete.Note](d, 201, request{method: "POST", path: at, token: d.tokens[access.Assistant], body: map[string]any{"date": "2026-03-01", "text": words}})
	if made.Who != "Sol" || made.Text != words || made.Number == 0 || !made.At.Equal(d.now) {
		t.Errorf("the note is %+v", made)
	}
	ask[athlete.Note](d, 201, request{method: "POST", path: at, body: map[string]any{"date": "2026-02-20", "text": "older"}})
	list := ask[[]athlete.Note](d, 200, request{method: "GET", path: at + "?from=2026-02-21", token: d.tokens[access.Coach]})
	if len(list) != 1 || list[0] != made {
		t.Errorf("the list is %+v", list)
	}
	if kept := ask[app.Archive](d, 200, request{method: "GET", path: "/athletes/" + own + "/export"}); len(kept.Notes) != 2 {
		t.Errorf("the archive has the notes %+v", kept.Notes)
	}
	for _, path := range []string{"/days", "/check-ins", "/progress", "/prescription", "/photos", "/measurements"} {
		w := d.send(request{method: "GET", path: "/athletes/" + own + path, token: d.tokens[access.Athlete]})
		if w.Code != 200 || strings.Contains(w.Body.String(), words) {
			t.Errorf("%s, as the athlete: %d, with the note %v", path, w.Code, strings.Contains(w.Body.String(), words))
		}
	}
	for _, bad := range []map[string]any{{"date": "2026-03-01", "text": ""}, {"date": "2027-03-01", "text": "of a day to come"}, {"text": "of no day"}} {
		ask[api.Problem](d, 422, request{method: "POST", path: at, body: bad})
	}
	ask[any](d, 204, request{method: "DELETE", path: at + "/" + strconv.Itoa(made.Number), token: d.tokens[access.Coach]})
	ask[api.Problem](d, 404, request{method: "DELETE", path: at + "/" + strconv.Itoa(made.Number), token: d.tokens[access.Coach]})
	entries, err := d.desk.Entries(t.Context(), account.Console("test"), account.Query{AthleteID: own})
	if err != nil {
		t.Fatal(err)
	}
	var said []string
	for _, e := range entries {
		said = append(said, e.Who+" "+e.What)
	}
	for _, line := range []string{"Sol wrote a note", "Wren read the notes", "Wren removed a note"} {
		if !strings.Contains(strings.Join(said, "\n"), line) {
			t.Errorf("the record has no %q:\n%s", line, strings.Join(said, "\n"))
		}
	}
}
