package sheet

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"glidepath/athlete"

	"golang.org/x/text/unicode/norm"
)

// foldHeading gives lower case without accents, for comparing.
func foldHeading(s string) string {
	ascii := true
	for i := range len(s) {
		if s[i] >= 0x80 || s[i] >= 'A' && s[i] <= 'Z' {
			ascii = false
			break
		}
	}
	if ascii {
		return s
	}
	var b strings.Builder
	for _, r := range norm.NFD.String(strings.ToLower(s)) {
		switch r {
		case 'ß':
			b.WriteString("ss")
		case 'ø':
			b.WriteByte('o')
		case 'æ':
			b.WriteString("ae")
		case 'ł':
			b.WriteByte('l')
		case '\u00a0', '\u202f', '\u200b', '\ufeff':
			b.WriteByte(' ')
		default:
			if !unicode.Is(unicode.Mn, r) {
				b.WriteRune(r)
			}
		}
	}
	return strings.TrimSpace(b.String())
}

// heading is a column's heading taken apart.
type heading struct {
	all   []string // every word, folded
	words []string // without units, scale and number
	unit  Unit     // "" where none is stated
	other string   // a unit that no column can have, such as km
	group int      // the number in "Cardio 2" or "Set 3 reps", 0 where none
	order string   // the date order that "Date (dd/mm/yyyy)" states
}

// otherUnits are units that say that the column is something else.
var otherUnits = map[string]bool{
	"km": true, "mile": true, "miles": true, "metres": true, "meters": true, "litre": true, "litres": true,
	"liter": true, "liters": true, "l": true, "ml": true, "oz": true, "usd": true, "eur": true,
}

// parseHeading takes a heading apart: "Body Weight (lb)" is the words body and
// weight with the unit lb.
func parseHeading(s string) heading {
	var h heading
	s = splitCamel(strings.TrimSpace(s))
	s = foldHeading(s)
	for _, speed := range []string{"km/h", "kmh", "kph", "mph"} {
		if i := strings.Index(s, speed); i >= 0 {
			h.unit = unitWords[speed]
			s = s[:i] + " " + s[i+len(speed):]
		}
	}
	h.order, s = cutOrder(s)
	for _, clock := range []string{"hh:mm:ss", "h:mm:ss", "hh:mm", "h:mm"} {
		s = strings.ReplaceAll(s, clock, " ")
	}
	if scale, rest, ok := cutScale(s); ok {
		h.unit, s = scale, rest
	}
	inner := strings.ContainsAny(s, "([{") // a unit in brackets is sure; bare "in" is not
	words := strings.FieldsFunc(s, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '%'
	})
	h.all = words
	for i, w := range words {
		for len(w) > 1 && strings.HasSuffix(w, "%") {
			w = strings.TrimSuffix(w, "%")
			h.unit = Percent
		}
		n, err := strconv.Atoi(w)
		unit, isUnit := unitWords[w]
		switch {
		case err == nil && n > 0 && n < 30 && h.group == 0:
			h.group = n
		case err == nil:
			h.words = append(h.words, w)
		case w == "count" && strings.Contains(s, "(count)"):
			h.unit = Count
		case w == "set" && len(words) > 1: // "Set 2 reps"
		case w == "s" && !strings.Contains(s, "(s)"): // of "today's"
			h.words = append(h.words, w)
		case w == "hr" && (i == 0 || heartWords[words[i-1]]):
			h.words = append(h.words, w)
		case w == "in" && (i < len(words)-1 || !inner && (i == 0 || words[i-1] == "weigh" || words[i-1] == "check")):
			h.words = append(h.words, w)
		case isUnit && w != "x" && w != "steps" && w != "reps" && w != "count" && w != "k" && w != "w":
			if h.unit == "" {
				h.unit = unit
			}
		case (w == "k" || w == "w") && i > 0:
			h.unit = unit
		case otherUnits[w]:
			h.other = w
		default:
			h.words = append(h.words, w)
		}
	}
	return h
}

// heartWords make a following "hr" a heart rate, not hours.
var heartWords = wordSet("resting rest waking morning am avg average max ruhe")

// cutOrder finds the date order that a heading states.
func cutOrder(s string) (order, rest string) {
	for _, c := range []struct{ order, text string }{
		{DayMonthYear, "dd?mm?yyyy"},
		{DayMonthYear, "dd?mm?yy"},
		{DayMonthYear, "d?m?y"},
		{DayMonthYear, "tt?mm?jjjj"},
		{DayMonthYear, "jj?mm?aaaa"},
		{MonthDayYear, "mm?dd?yyyy"},
		{MonthDayYear, "mm?dd?yy"},
		{MonthDayYear, "m?d?y"},
		{YearMonthDay, "yyyy?mm?dd"},
		{YearMonthDay, "yy?mm?dd"},
		{DayMonthYear, "dd?mm"},
		{MonthDayYear, "mm?dd"},
	} {
		for _, mark := range []string{"/", "-", "."} {
			if before, after, ok := strings.Cut(s, strings.ReplaceAll(c.text, "?", mark)); ok {
				return c.order, before + " " + after
			}
		}
	}
	return "", s
}

// splitCamel puts a space before the capitals of BodyWeight and bodyWeight.
func splitCamel(s string) string {
	var b strings.Builder
	var before rune
	for i, r := range s {
		if unicode.IsUpper(r) && unicode.IsLower(before) && i > 1 && !strings.HasSuffix(s[:i], "k") {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
		before = r
	}
	return b.String()
}

// cutScale finds a scale in a heading, as in "Hunger (1-10)" or "hunger /5".
func cutScale(s string) (Unit, string, bool) {
	for _, c := range []struct {
		text string
		unit Unit
	}{
		{"out of 10", OneToTen},
		{"1-10", OneToTen},
		{"0-10", OneToTen},
		{"1 - 10", OneToTen},
		{"1 to 10", OneToTen},
		{"1–10", OneToTen},
		{"/10", OneToTen},
		{"/ 10", OneToTen},
		{"out of 5", OneToFive},
		{"1-5", OneToFive},
		{"1 - 5", OneToFive},
		{"1 to 5", OneToFive},
		{"1–5", OneToFive},
		{"/5", OneToFive},
		{"/ 5", OneToFive},
	} {
		if before, after, ok := strings.Cut(s, c.text); ok && (after == "" || !isDigit(after[0])) {
			return c.unit, before + " " + after, true
		}
	}
	return "", s, false
}

// notALog has words that mark a column as something other than what was done,
// eaten or measured that day.
var notALog = wordSet("target targets goal goals plan planned prescribed remaining left burned burnt burn expenditure tdee bmr net " +
	"difference diff delta change avg average mean rolling trend ema median max lowest highest previous prev last lost loss gained " +
	"evening pm night bedtime quality rating percentile cumulative ziel soll objectif meta objetivo week weekly " +
	"killer killers water sugar sugars saturated sat trans mono poly unsaturated free dry ideal stage out why")

// fillers has words that a heading may have without changing its meaning.
var fillers = wordSet("daily total today todays my actual the of a an in am morning fasted logged value amount intake eaten consumed " +
	"per day d level done completed measured recorded wake waking nuchtern matin manana mattina time")

// tissues make a mass something other than body weight.
var tissues = wordSet("fat lean muscle bone skeletal visceral")

func wordSet(words string) map[string]bool {
	m := map[string]bool{}
	for w := range strings.FieldsSeq(words) {
		m[w] = true
	}
	return m
}

// match is what a heading was taken for.
type match struct {
	field      Field
	cardioKind athlete.CardioKind
	confidence float64
	reason     string
}

// matchHeading finds the field of a heading in a kind of table.
func matchHeading(k Kind, h heading) match {
	if len(h.all) == 0 {
		return match{reason: "the column has no heading"}
	}
	if h.other != "" {
		return match{reason: "it is in " + h.other}
	}
	if k == Days && slices.Contains(h.words, "energy") &&
		(h.unit == OneToTen || h.unit == OneToFive || slices.Contains(h.words, "levels") || slices.Contains(h.words, "level")) {
		return match{reason: "it is a feeling of energy, not food"}
	}
	if m, ok := matchWords(k, h); ok {
		return m
	}
	if k == Measurements {
		if m, ok := matchSite(h); ok {
			return m
		}
	}
	for _, w := range h.words {
		if notALog[w] {
			return match{reason: "the word \"" + w + "\" says that it is not the day's own record"}
		}
	}
	if k == Days {
		if m, ok := matchCardio(h); ok {
			return m
		}
		if compact(h.words) == "bodyfat" || compact(h.words) == "bf" {
			return match{reason: "body fat belongs to a table of measurements"}
		}
	}
	return matchLoosely(k, h)
}

// matchWords takes a heading that is in the list, as it stands or without fillers.
func matchWords(k Kind, h heading) (match, bool) {
	index := wordIndex[k]
	try := func(words []string, confidence float64, reason string) (match, bool) {
		f, ok := index[compact(words)]
		if !ok || len(words) == 0 || !fits(k, f, h.unit) {
			return match{}, false
		}
		return match{field: f, confidence: confidence, reason: reason}, true
	}
	if m, ok := try(h.words, 0.97, "the heading says so"); ok {
		return m, true
	}
	if m, ok := try(h.all, 0.95, "the heading says so"); ok {
		return m, true
	}
	core := slices.DeleteFunc(slices.Clone(h.words), func(w string) bool { return fillers[w] })
	if m, ok := try(core, 0.9, "the heading says so"); ok {
		return m, true
	}
	if len(core) == 0 && h.unit != "" { // the heading is a unit and fillers, as in "total kcal"
		return try(append(core, string(h.unit)), 0.85, "only this is written in "+string(h.unit))
	}
	return match{}, false
}

// matchLoosely takes a misspelt heading, or one with a known word among others.
func matchLoosely(k Kind, h heading) match {
	name := compact(h.words)
	if len(name) >= 5 {
		most := 1
		if len(name) >= 8 {
			most = 2
		}
		best, found := most+1, Field("")
		var as string
		for _, key := range wordKeys[k] {
			if abs(len(key)-len(name)) > most || len(key) < 4 || key[0] != name[0] {
				continue
			}
			if d := editDistance(key, name); d < best && fits(k, wordIndex[k][key], h.unit) {
				best, found, as = d, wordIndex[k][key], key
			}
		}
		if found != "" {
			return match{field: found, confidence: 0.7, reason: "the heading is close to \"" + as + "\""}
		}
	}
	found, word := Field(""), ""
	for i, w := range h.words {
		for _, try := range []string{w, compact(h.words[i:min(i+2, len(h.words))])} {
			f, ok := wordIndex[k][try]
			if !ok || len(try) < 3 || !fits(k, f, h.unit) {
				continue
			}
			if found != "" && found != f {
				return match{reason: "the heading may mean " + string(found) + " or " + string(f)}
			}
			found, word = f, try
		}
	}
	if found == "" || len(h.words) > 5 {
		return match{reason: "the heading is not known"}
	}
	if found == FieldWeight && slices.ContainsFunc(h.words, func(w string) bool { return tissues[w] }) {
		return match{reason: "it is the weight of a part of the body"}
	}
	return match{field: found, confidence: 0.55, reason: "the heading has the word \"" + word + "\""}
}

// fits reports whether a field can be written in a unit.
func fits(k Kind, f Field, u Unit) bool {
	s := specOf(k, f)
	return u == "" || s.accepts(u) || s.form == date || s.form == text && u != Kg && u != Pound
}

// matchCardio takes a heading that names a kind of cardio, as in "Bike (min)".
func matchCardio(h heading) (match, bool) {
	kind := athlete.CardioKind("")
	for i, w := range h.words {
		if w == "cardio" || w == "liss" || w == "steady" || w == "state" || fillers[w] || w == "duration" || w == "session" {
			continue
		}
		k, ok := cardioWord(w)
		if !ok && i+1 < len(h.words) {
			k, ok = cardioWord(w + h.words[i+1])
		}
		if !ok && i > 0 {
			k, ok = cardioWord(h.words[i-1] + w)
		}
		switch {
		case !ok:
			return match{}, false
		case kind == "", kind == athlete.Walking && k == athlete.InclineWalk:
			kind = k
		case k == kind, kind == athlete.InclineWalk && k == athlete.Walking:
		default:
			return match{}, false
		}
	}
	if kind == "" || !fits(Days, FieldCardio, h.unit) {
		return match{}, false
	}
	return match{field: FieldCardio, cardioKind: kind, confidence: 0.85, reason: "the heading names a kind of cardio"}, true
}

// compact joins words without spaces.
func compact(words []string) string { return strings.Join(words, "") }

// wordIndex has the field of each known heading, in compact form.
var wordIndex = func() map[Kind]map[string]Field {
	index := map[Kind]map[string]Field{}
	for k, list := range specs {
		index[k] = map[string]Field{}
		for _, s := range list {
			if s.words == "" {
				continue
			}
			for w := range strings.SplitSeq(s.words, ",") {
				key := strings.ReplaceAll(w, " ", "")
				if _, taken := index[k][key]; !taken {
					index[k][key] = s.field
				}
			}
		}
	}
	return index
}()

var wordKeys = func() map[Kind][]string {
	keys := map[Kind][]string{}
	for k, index := range wordIndex {
		for w := range index {
			keys[k] = append(keys[k], w)
		}
		slices.Sort(keys[k])
	}
	return keys
}()

func abs(n int) int { return max(n, -n) }

// editDistance is the optimal string alignment distance: insertions, deletions,
// substitutions and swaps of neighbours.
func editDistance(a, b string) int {
	before, row, next := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		next[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			next[j] = min(row[j]+1, next[j-1]+1, row[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				next[j] = min(next[j], before[j-2]+1)
			}
		}
		before, row, next = row, next, before
	}
	return row[len(b)]
}
