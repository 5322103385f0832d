package sheet

import (
	"strings"

	"glidepath/athlete"
)

var cardioWords = func() map[string]athlete.CardioKind {
	m := map[string]athlete.CardioKind{}
	for kind, words := range map[athlete.CardioKind]string{
		athlete.Walking:       "walking walk walks walked treadmill treadmillwalk outdoorwalk dogwalk gehen spaziergang marche caminar caminata camminata wandelen",
		athlete.InclineWalk:   "inclinewalking inclinewalk inclinewalks inclinetreadmill treadmillincline uphillwalk inclined incline uphill",
		athlete.Running:       "running run runs jog jogging laufen joggen course correr corsa hardlopen",
		athlete.Cycling:       "cycling cycle bike biking bicycle spin spinning stationarybike exercisebike airbike recumbent rad radfahren velo bici bicicleta fietsen ergometer",
		athlete.StairClimbing: "stairclimbing stairclimber stairs stair stairmill stepmill stepper steppers climber treppe escaliers escaleras",
		athlete.Elliptical:    "elliptical ellipticals crosstrainer elliptique eliptica ellittica",
		athlete.Rowing:        "rowing row rower rowingmachine rowerg rudern rameur remo",
		athlete.Swimming:      "swimming swim swims schwimmen natation nadar nuoto zwemmen",
		athlete.Intervals:     "intervals interval hiit sprint sprints intervalle",
		athlete.Posing:        "posing pose poses posingpractice posen",
	} {
		for w := range strings.FieldsSeq(words) {
			m[w] = kind
		}
	}
	return m
}()

func cardioWord(s string) (athlete.CardioKind, bool) {
	k, ok := cardioWords[s]
	return k, ok
}

// cardioKindOf reads a kind of cardio in people's words; "" with ok is a word that
// says cardio without a kind.
func cardioKindOf(s string) (kind athlete.CardioKind, ok bool) {
	words := strings.FieldsFunc(foldHeading(s), func(r rune) bool { return r < 'a' || r > 'z' })
	ok = len(words) > 0
	for i, w := range words {
		k, known := cardioWord(w)
		if pair, both := cardioWord(w + next(words, i)); both {
			k, known = pair, true
		}
		switch {
		case known && (kind == "" || kind == athlete.Walking && k == athlete.InclineWalk):
			kind = k
		case known, w == "cardio", w == "liss", w == "steady", w == "state", w == "on", w == "the", w == "of", w == "machine", w == "outdoor", w == "indoor", w == "easy", w == "at", w == "with":
		case i > 0 && cardioWords[words[i-1]+w] != "":
		default:
			return "", false
		}
	}
	return kind, ok
}

// noCardio reports whether a cell says that there was none.
func noCardio(s string) bool {
	switch foldHeading(strings.TrimSpace(s)) {
	case "0", "off", "rest", "no", "none", "rest day", "no cardio":
		return true
	}
	return blank(s)
}

// cardioCell reads the bouts of a cell: "30", "30 min", "bike 20; walk 30 min".
// kind is the column's own where the cell names none.
func cardioCell(s string, kind athlete.CardioKind, unit Unit, decimal byte) ([]athlete.CardioBout, *cellError) {
	if v, plain := plainNumber(s); plain && v > 0 && v < 1000 && unit == Minute && kind != "" && strings.IndexByte(s, '.') < 0 {
		return []athlete.CardioBout{{Kind: kind, Minutes: v}}, nil
	}
	if noCardio(s) {
		return nil, nil
	}
	return boutsIn(splitBouts(s), kind, unit, decimal)
}

var boutMarks = strings.NewReplacer(" and ", ";", " + ", ";", "&", ";", "|", ";", ", ", ";", "\n", ";")

// splitBouts cuts a cell at semicolons, plus signs, ampersands, bars and the word
// and; at a comma only where a space follows, since a comma may be decimal.
func splitBouts(s string) []string {
	s = boutMarks.Replace(s)
	var parts []string
	for p := range strings.SplitSeq(s, ";") {
		if p = strings.TrimSpace(p); p != "" {
			parts = append(parts, p)
		}
	}
	return parts
}

func oneBout(s string, kind athlete.CardioKind, unit Unit, decimal byte) (athlete.CardioBout, *cellError) {
	amount, name := cutAmount(s)
	if name != "" {
		k, ok := cardioKindOf(name)
		if !ok {
			return athlete.CardioBout{}, &cellError{quote(name) + " is not a kind of cardio.", cardioHint()}
		}
		if k != "" {
			kind = k
		}
	}
	if amount == "" {
		return athlete.CardioBout{}, &cellError{"it has no minutes.", "Write minutes and kind, as in \"30 min walking\"."}
	}
	minutes, bad := quantity(amount, unit, Minute, decimal, acceptsTime)
	if bad == nil && kind == "" && minutes != 0 {
		bad = &cellError{"it does not say which kind of cardio.", cardioHint()}
	}
	return athlete.CardioBout{Kind: kind, Minutes: minutes}, bad
}

func acceptsTime(u Unit) bool { return u == Minute || u == Hour }

// cutAmount separates "30 min" from "walking" in either order.
func cutAmount(s string) (amount, name string) {
	start := strings.IndexFunc(s, func(r rune) bool { return r >= '0' && r <= '9' })
	if start < 0 {
		return "", s
	}
	if start > 0 && (s[start-1] == '-' || s[start-1] == '+') && (start == 1 || s[start-2] == ' ') {
		start--
	}
	name = strings.Trim(s[:start], " :-(")
	rest := s[start:]
	end := len(rest)
	for i := 0; i < len(rest); {
		if !isLetter(rest[i]) {
			i++
			continue
		}
		n := i
		for n < len(rest) && isLetter(rest[n]) {
			n++
		}
		if u := unitWords[strings.ToLower(rest[i:n])]; u != Minute && u != Hour {
			end = i
			break
		}
		i = n
	}
	tail := strings.Trim(rest[end:], " :-()")
	return strings.Trim(rest[:end], " :()"), strings.TrimSpace(name + " " + tail)
}

func cardioHint() string {
	names := make([]string, 0, len(athlete.CardioKinds()))
	for _, k := range athlete.CardioKinds() {
		names = append(names, string(k))
	}
	return "Known are " + strings.Join(names, ", ") + "."
}
