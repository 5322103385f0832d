package phrase_test

import (
	"testing"

	"glidepath/phrase"
)

func TestSentence(t *testing.T) {
	for in, want := range map[string]string{
		"":                 "",
		"  ":               "",
		"hold":             "Hold.",
		" is it so? ":      "Is it so?",
		"stop!":            "Stop!",
		"élise logged it.": "Élise logged it.",
		"7-site calipers":  "7-site calipers.",
	} {
		if got := phrase.Sentence(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

func TestCapital(t *testing.T) {
	for in, want := range map[string]string{"": "", "ödön's calipers": "Ödön's calipers", "Bench": "Bench", "3 sets": "3 sets"} {
		if got := phrase.Capital(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}
