package web_test

import (
	"net/http"
	"testing"

	"glidepath/access"
)

// A day that is typed field by field is one line of the record, which names its
// date; what is refused is told as that.
func TestRecordOfADay(t *testing.T) {
	w, _, own := maras(t)
	mark := ownerMark(t, own)
	send := func(day, field, value string, want int) {
		t.Helper()
		own.post("/day/"+day+"/"+field, "value", value, "base", "", "owner", mark).wants(t, want)
	}
	today, before := w.today.String(), w.today.AddDays(-1).String()
	send(today, "weight_kg", "64.8", http.StatusOK)
	send(today, "energy_kcal", "2150", http.StatusOK)
	send(today, "steps", "9100", http.StatusOK)
	send(before, "steps", "8800", http.StatusOK)
	send(before, "hunger", "4", http.StatusOK)
	send(today, "hunger", "many", http.StatusUnprocessableEntity)
	for what, want := range map[string]int{
		"logged a day, " + today: 1, "logged a day, " + before: 1, "logged a day": 0, "tried in vain: logged a day, " + today: 1,
	} {
		if n := w.recorded(what); n != want {
			t.Errorf("the record has %q %d times, not %d", what, n, want)
		}
	}
}

// A form that is refused changed nothing, and the record does not say that it did.
func TestRecordOfWhatIsRefused(t *testing.T) {
	w := filled(t)
	b := w.role(w.owner(), access.Coach, changing)
	base := "/athletes/" + changing
	b.post(base+"/shows", "show_name", "Invented Cup").wants(t, http.StatusUnprocessableEntity)
	b.get(base+"/season?show_id=may-classic-2026&show_date=soon").wants(t, http.StatusUnprocessableEntity) // the map itself was read
	for what, want := range map[string]int{"changed a show": 0, "tried in vain: changed a show": 1, "read the season map": 1} {
		if n := w.recorded(what); n != want {
			t.Errorf("the record has %q %d times, not %d", what, n, want)
		}
	}
}
