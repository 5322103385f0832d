package web_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"glidepath/access"
	"glidepath/athlete"
	"glidepath/cardio"
)

func TestCardioPage(t *testing.T) {
	w := filled(t)
	b := w.owner()
	base := "/athletes/" + changing + "/cardio"
	b.get(base).wants(t, http.StatusOK, "300\u00a0kcal cost Aroha least as", "should add to the day", "Every way of spending 300 kcal", "What the plan has in reserve", "<svg")
	b.get(base+"?kcal=120,5").wants(t, http.StatusOK, "Every way of spending 12", `value="120.5"`)
	for _, kcal := range []string{"9", "2001", "-5", "x", "NaN", "1e999", "<script>"} {
		b.get(base+"?kcal="+kcal).wants(t, http.StatusUnprocessableEntity, `aria-invalid="true"`)
	}
	// Of an athlete who logs nothing and has no show there is still the trade.
	if err := w.app.AddAthlete(t.Context(), mara(), w.today, false); err != nil {
		t.Fatal(err)
	}
	page := b.get("/athletes/mara/cardio").wants(t, http.StatusOK, "No cardio is asked for")
	if strings.Contains(page.body, "in reserve a day") {
		t.Error("a plan that is not there has something in reserve")
	}
	b.get("/athletes/mara/training").wants(t, http.StatusOK, "No set is logged yet", "Load is not known")
}

// The desk's own costs change what is compared, and can be taken back.
func TestCardioCosts(t *testing.T) {
	w := filled(t)
	owner := w.owner()
	page := owner.get("/cardio-costs").wants(t, http.StatusOK, "come with Glidepath", `name="base_incline_walking" value="1.1"`)
	before := owner.get("/athletes/" + changing + "/cardio").body
	owner.post("/cardio-costs", page.fields(t, "base_incline_walking", "0.2", "second_kind", "12")...).wants(t, http.StatusOK, "numbers of its own", "From now on")
	table, err := w.app.FatigueTable(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if row := table.Row(athlete.InclineWalk); row.Base != 0.2 || table.SecondKind != 12 {
		t.Errorf("incline walking costs %v, a second kind %v", row.Base, table.SecondKind)
	}
	if after := owner.get("/athletes/" + changing + "/cardio").body; after == before {
		t.Error("the trade is weighed as before")
	}
	for _, typed := range [][2]string{{"base_running", "x"}, {"base_running", ""}, {"impact_running", "11"}, {"base_running", "0"}, {"lean_rise", "99"}, {"most_met_lean", "13"}, {"overlap", "-1"}} {
		page = owner.get("/cardio-costs")
		got := owner.post("/cardio-costs", page.fields(t, typed[0], typed[1])...)
		if got.code != http.StatusUnprocessableEntity || !strings.Contains(got.body, `class="wrong"`) && !strings.Contains(got.body, "That was not done") {
			t.Errorf("%s of %q answered %d", typed[0], typed[1], got.code)
		}
	}
	owner.post("/cardio-costs", "do", "usual").wants(t, http.StatusOK, "come with Glidepath")
	table, err = w.app.FatigueTable(t.Context())
	if diff := cmp.Diff(cardio.DefaultFatigue(), table); diff != "" || err != nil {
		t.Errorf("the usual ones are not back (%v):\n%s", err, diff)
	}
	seen := w.role(owner, access.Assistant, changing).get("/cardio-costs").wants(t, http.StatusOK, "1.35")
	if strings.Contains(seen.body, "Keep them") {
		t.Error("an assistant is offered to change them")
	}
}
