package report_test

import (
	"regexp"
	"strings"
	"testing"

	"glidepath/report"
)

// A message is plain text with the athlete's first name and whom to see, gives
// every number of the prescription, and neither praises nor blames.
func TestMessage(t *testing.T) {
	judging := regexp.MustCompile(`(?i)well done|great|proud|good job|fail|cheat|bad |should have|discipline|\bonly\b`)
	for _, d := range dossiers(t) {
		for name, p := range map[string]*struct{ draft bool }{"what stands": {}, "what is proposed": {true}} {
			prescription := d.Current
			if p.draft {
				prescription = d.Draft
			}
			text := report.Message(d, prescription, "Wren")
			first, _, _ := strings.Cut(d.Athlete.Name, " ")
			for _, want := range []string{"Hello " + first + ",", "see your doctor", "\n\nWren\n"} {
				if !strings.Contains(text, want) {
					t.Errorf("%s, %s: lacks %q: %s", d.Athlete.ID, name, want, text)
				}
			}
			if found := judging.FindString(text); found != "" {
				t.Errorf("%s, %s: says %q: %s", d.Athlete.ID, name, found, text)
			}
			if strings.Contains(text, "\u00a0") || strings.Contains(text, "NaN") {
				t.Errorf("%s, %s: is no plain text: %s", d.Athlete.ID, name, text)
			}
			if d.Blocked != nil && strings.Contains(text, "kcal, with") {
				t.Errorf("%s: a blocked athlete is asked for something: %s", d.Athlete.ID, text)
			}
			if prescription != nil && d.Blocked == nil && strings.Count(text, " of protein") != len(prescription.Days) {
				t.Errorf("%s, %s: does not tell every type of day: %s", d.Athlete.ID, name, text)
			}
		}
	}
	d := dossier(t, "aroha-jensen")
	if text := report.Message(d, d.Current, ""); !strings.Contains(text, "Nothing changes this week") {
		t.Errorf("what stands is told as new: %s", text)
	}
	if text := report.Message(d, d.Draft, ""); !strings.Contains(text, "From Monday, 2 Mar 2026:") || !strings.Contains(text, "Why: Behind the plan") {
		t.Errorf("what is new is not told: %s", text)
	}
	if text := report.Message(newcomer(t), nil, ""); !strings.Contains(text, "nothing in your log yet") {
		t.Errorf("a newcomer is told %s", text)
	}
}

// The parts of a document are those of its page.
func TestParts(t *testing.T) {
	d := season()
	page := write(t, d)
	parts := report.PartsOf(d)
	for _, id := range []string{
		"corridor", "corridor-head", "corridor-figure", "corridor-numbers", "review", "prescription", "appraisal", "season", "expenditure",
		"composition", "strength", "activity", "recovery", "chances", "cannot-tell", "glossary",
	} {
		html, err := parts.HTML(id)
		if err != nil {
			t.Fatal(err)
		}
		if len(html) < 100 || !strings.Contains(page, string(html)) {
			t.Errorf("%s is not a part of the page: %.200s", id, html)
		}
	}
	defer func() {
		if recover() == nil {
			t.Error("a part that is none was given")
		}
	}()
	_, _ = parts.HTML("nonsense")
}
