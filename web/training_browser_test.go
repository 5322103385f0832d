package web_test

import (
	"testing"

	"glidepath/browsertest"
)

// The training page holds together for an athlete with a change proposed.
func TestTrainingPagesInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := filled(t)
	signedIn(t, ctx, w.owner())
	base := "/athletes/" + changing
	for _, p := range []browserPage{
		{"training", base + "/training", ""},
		{"training-open", base + "/training", openAll},
		{"cardio", base + "/cardio", ""},
		{"cardio-open", base + "/cardio?kcal=150", openAll},
		{"cardio-costs", "/cardio-costs", ""},
	} {
		inspect(t, ctx, w.URL, p)
	}
}
