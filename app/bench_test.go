package app_test

import (
	"context"
	"testing"

	"glidepath/app"
)

// One review as a coach runs it: 24 weeks of logs, 4,000 futures and a re-plan,
// on one core.
func BenchmarkReview(b *testing.B) {
	a, asOf := demo(b)
	ctx := context.Background()
	for b.Loop() {
		if _, err := a.Dossier(ctx, "priya-raghunath", asOf, app.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
