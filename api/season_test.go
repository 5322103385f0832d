package api_test

import (
	"testing"

	"glidepath/access"
	"glidepath/api"
	"glidepath/athlete"
)

// Another season is tried without keeping anything, and kept when it is sent for good.
func TestSeasonTriedAndKept(t *testing.T) {
	d := newDesk(t)
	at := "/athletes/" + own
	before := ask[athlete.Athlete](d, 200, request{method: "GET", path: at})
	show := before.NextShow(monday)
	later := show.Date.AddDays(28)
	supposed := map[string]any{
		"shows":  []map[string]any{{"id": show.ID, "date": later}},
		"events": []athlete.Event{{From: monday.AddDays(14), To: monday.AddDays(20), Kind: "travel"}},
	}
	got := ask[api.Compared](d, 200, request{method: "POST", path: at + "/season/try?as_of=2026-03-02", body: supposed, token: d.tokens[access.Assistant]})
	if got.Now.Show.Date != show.Date || got.Supposed.Show.Date != later || got.Supposed.SlackWeeks.Value <= got.Now.SlackWeeks.Value || got.Supposed.Map == nil || got.Supposed.Chances == nil {
		t.Errorf("compared are %+v and %+v", got.Now, got.Supposed)
	}
	if n := len(got.Supposed.Events); n != len(got.Now.Events)+1 {
		t.Errorf("%d events are supposed", n)
	}
	if now := ask[athlete.Athlete](d, 200, request{method: "GET", path: at}); now.NextShow(monday).Date != show.Date {
		t.Error("trying changed the profile")
	}
	kept := ask[api.Calendar](d, 200, request{method: "PUT", path: at + "/season?as_of=2026-03-02", body: supposed, token: d.tokens[access.Coach]})
	if kept.Shows[len(kept.Shows)-1].Date != later || len(kept.Events) != len(before.Events)+1 {
		t.Errorf("kept is %+v", kept)
	}
	for want, body := range map[int]map[string]any{
		404: {"shows": []map[string]any{{"id": "nowhere", "date": later}}},
		422: {"shows": []map[string]any{{"id": show.ID, "date": "2150-01-01"}}},
	} {
		ask[api.Problem](d, want, request{method: "POST", path: at + "/season/try?as_of=2026-03-02", body: body})
		ask[api.Problem](d, want, request{method: "PUT", path: at + "/season?as_of=2026-03-02", body: body})
	}
	if p := ask[api.Problem](d, 422, request{method: "PUT", path: at + "/season", body: map[string]any{"target_body_fat_pct": 5}}); p.Kind != "refused" {
		t.Errorf("a target too lean gave %+v", p)
	}
}
