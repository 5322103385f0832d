package report

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"glidepath/chart"
	"glidepath/numeric"
	"glidepath/phrase"
	"glidepath/season"
)

// Words for figures, in sentences. Every estimate comes with its 90 % interval.

// of is an interval as the document's estimate, nil where it is not known.
func of(v numeric.Interval) *Estimate {
	if !isFinite(v.Value) {
		return nil
	}
	return &Estimate{v.Value, v.Low90, v.High90}
}

func ofSpan(s season.Span) *Estimate {
	if !isFinite(s.Value) {
		return nil
	}
	return &Estimate{s.Value, s.Low, s.High}
}

// with writes a value with its unit and its interval: "57.3 kg (57.0 to 57.7)".
func with(e *Estimate, decimals int, unit string) string {
	s := estimate(e, decimals, unit)
	if s.Range == "" {
		return s.Value
	}
	return s.Value + " " + s.Range
}

func (b *builder) weight(e *Estimate) string {
	return with(e.times(b.n.FromKg(1)), 1, b.n.WeightUnit())
}

// kg writes a difference of weight, which has no interval of its own.
func (b *builder) kg(kg float64) string { return b.n.Weight(math.Abs(kg)) }

func kcal(v float64) string { return chart.Number(v, 0) + nbsp + "kcal" }
func percentage(v float64, decimals int) string {
	return chart.Number(v, decimals) + nbsp + "%"
}

// weeks writes a length of time in weeks, in days where it is short.
func weeks(days int) string {
	switch {
	case days == 1:
		return "1" + nbsp + "day"
	case days < 14 && days != 7:
		return fmt.Sprintf("%d%sdays", days, nbsp)
	}
	return weekNumber(float64(days) / 7)
}

// weekNumber writes a number of weeks, without a decimal where it is whole.
func weekNumber(v float64) string {
	whole := math.Abs(v-math.Round(v)) < 0.01
	switch {
	case v < 0.05:
		return "no weeks"
	case whole && math.Round(v) == 1:
		return "1" + nbsp + "week"
	case whole:
		return chart.Number(v, 0) + nbsp + "weeks"
	}
	return chart.Number(v, 1) + nbsp + "weeks"
}

// count writes a small number with its noun.
func count(n int, one, many string) string {
	if n == 1 {
		return "one " + one
	}
	words := []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"}
	if n >= 0 && n < len(words) {
		return words[n] + " " + many
	}
	return fmt.Sprintf("%d %s", n, many)
}

// uncapital makes the first letter small, unless more capitals follow.
func uncapital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if next, _ := utf8.DecodeRuneInString(s[n:]); unicode.IsUpper(next) {
		return s
	}
	return string(unicode.ToLower(r)) + s[n:]
}

// loosePercent is a sign that could be left alone at the start of a line.
var loosePercent = regexp.MustCompile(`(\d) %`)

// hyphenMinus is a hyphen that stands for a minus sign.
var hyphenMinus = regexp.MustCompile(`(^|[ (])-(\d)`)

// sentence makes a text of the engine a sentence of the page: a capital, a full
// stop, true minus signs, and per cent on the line of its number.
func sentence(s string) string {
	s = hyphenMinus.ReplaceAllString(strings.TrimSpace(s), "$1\u2212$2")
	return phrase.Sentence(loosePercent.ReplaceAllString(s, "$1"+nbsp+"%"))
}

// list joins words: "a, b and c".
func list(words []string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
}

// possessive of a name.
func possessive(name string) string {
	if strings.HasSuffix(name, "s") {
		return name + "’"
	}
	return name + "’s"
}

// rateWords says a rate of loss, % of body weight a week with loss positive, as
// what the body does.
func rateWords(loss numeric.Interval) string {
	const unit = nbsp + "%"
	switch {
	case !isFinite(loss.Value):
		return "changing at a rate not known yet"
	case loss.Low90 > 0:
		return fmt.Sprintf("losing %s%s of body weight a week (%s to %s)", chart.Number(loss.Value, 2), unit, chart.Number(loss.Low90, 2), chart.Number(loss.High90, 2))
	case loss.High90 < 0:
		return fmt.Sprintf("gaining %s%s of body weight a week (%s to %s)", chart.Number(-loss.Value, 2), unit, chart.Number(-loss.High90, 2), chart.Number(-loss.Low90, 2))
	}
	return fmt.Sprintf("steady as far as can be told, at %s%s of body weight a week (%s to %s)",
		chart.Number(-loss.Value, 2), unit, chart.Number(-loss.High90, 2), chart.Number(-loss.Low90, 2))
}

// slackWords says the slack or what is missing of it.
func slackWords(s season.Span) string {
	if s.Value >= 0 {
		if s.Low < 0 {
			return fmt.Sprintf("%s weeks of slack, which may be none (%s to %s)", chart.Number(s.Value, 1), chart.Number(s.Low, 1), chart.Number(s.High, 1))
		}
		return fmt.Sprintf("%s weeks of slack (%s to %s)", chart.Number(s.Value, 1), chart.Number(s.Low, 1), chart.Number(s.High, 1))
	}
	if s.High >= 0 {
		return fmt.Sprintf("%s weeks short of the time that the limits need (from %s short to %s to spare)", chart.Number(-s.Value, 1), chart.Number(-s.Low, 1), chart.Number(s.High, 1))
	}
	return fmt.Sprintf("%s weeks short of the time that the limits need (%s to %s)", chart.Number(-s.Value, 1), chart.Number(-s.High, 1), chart.Number(-s.Low, 1))
}
