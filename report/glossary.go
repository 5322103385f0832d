package report

import (
	"cmp"
	"slices"
	"strings"
)

// glossary is the page's own: the words that it uses and a reader may not know.
func glossary() []Term {
	return []Term{
		{"90 % interval", "The range that should hold the true value nine times in ten. A wide one says that the logs leave much open."},
		{"corridor", "For each day, the body weights from which the show can be reached within every limit, and which the fastest permitted descent from the start can have reached."},
		{"diet break", "A week or more at maintenance. Its use is comfort and keeping to the plan; it has not been shown to save lean mass."},
		{"energy availability", "Energy eaten less energy spent in exercise, per kg of fat-free mass a day. Long spells below the floor harm health."},
		{"expenditure", "Energy spent a day, on the scale of what the athlete logs: if the log misses a tenth of the food, this number is a tenth lower too."},
		{"fan", "The forecast: of all futures simulated, 50, 80 and 90 % lie within the three shades."},
		{"lean mass", "Body weight less fat. It holds muscle, and also water and glycogen, which move from day to day."},
		{"lower edge", "The lightest that the fastest permitted descent from the start can have reached on a day."},
		{"refeed", "One or two days of more carbohydrate within a deficit."},
		{"slack", "How many weeks later the descent could begin from here and still arrive on time within every limit."},
		{"strength retention", "The estimated one-repetition maximum now, in per cent of the off-season baseline."},
		{"trend", "The estimate of body weight without the day's water and noise."},
		{"upper edge", "The heaviest from which the fastest permitted descent still arrives on time on a day."},
		{"likely, unlikely", "Over 99 % is virtually certain, 90 to 99 % very likely, 66 to 90 % likely, 33 to 66 % about as likely as not, 10 to 33 % unlikely, 1 to 10 % very unlikely, less exceptionally unlikely (words of Mastrandrea et al. 2010)."},
	}
}

// mergedGlossary is the page's own glossary with the document's terms, in
// alphabetical order.
func mergedGlossary(own []Term) []Term {
	all := slices.Clone(own)
	for _, t := range glossary() {
		if !slices.ContainsFunc(own, func(o Term) bool { return strings.EqualFold(o.Word, t.Word) }) {
			all = append(all, t)
		}
	}
	slices.SortStableFunc(all, func(a, b Term) int {
		return cmp.Compare(strings.ToLower(a.Word), strings.ToLower(b.Word))
	})
	return all
}
