package sheet

import (
	"fmt"
	"strings"
)

// unitWords has the ways to write a unit, in lower case without accents.
var unitWords = map[string]Unit{
	"kg": Kg, "kgs": Kg, "kilo": Kg, "kilos": Kg, "kilogram": Kg, "kilograms": Kg, "kilogramme": Kg, "kilogramm": Kg,
	"lb": Pound, "lbs": Pound, "pound": Pound, "pounds": Pound,
	"st": Stone, "stone": Stone, "stones": Stone,
	"kcal": Kcal, "kcals": Kcal, "cal": Kcal, "cals": Kcal, "calorie": Kcal, "calories": Kcal, "kilocalories": Kcal,
	"kalorien": Kcal, "kilokalorien": Kcal, "calorias": Kcal, "kilocalorias": Kcal, "kilocalorie": Kcal, "calorieen": Kcal, "kalorier": Kcal,
	"kj": KJ, "kilojoule": KJ, "kilojoules": KJ,
	"g": Gram, "gr": Gram, "gram": Gram, "grams": Gram, "gramm": Gram, "grammes": Gram, "gramos": Gram, "grammi": Gram,
	"mg": Milligram, "milligram": Milligram, "milligrams": Milligram,
	"s": Second, "sec": Second, "secs": Second, "second": Second, "seconds": Second, "sek": Second, "sekunden": Second, "segundos": Second,
	"min": Minute, "mins": Minute, "minute": Minute, "minutes": Minute, "minuten": Minute, "minutos": Minute, "minuti": Minute,
	"h": Hour, "hr": Hour, "hrs": Hour, "hour": Hour, "hours": Hour, "std": Hour, "stunden": Hour, "heures": Hour, "horas": Hour, "ore": Hour, "uur": Hour,
	"km/h": KmPerHour, "kmh": KmPerHour, "kph": KmPerHour, "mph": MilePerHour,
	"mm": Mm, "cm": Cm, "in": Inch, "inch": Inch, "inches": Inch, "ft": Foot, "feet": Foot, "foot": Foot,
	"\"": Inch, "\u201d": Inch, "\u2033": Inch, "'": Foot, "\u2019": Foot, "\u2032": Foot,
	"%": Percent, "pct": Percent, "percent": Percent,
	"k": Thousand, "bpm": BeatsPerMin, "w": Watt, "watt": Watt, "watts": Watt,
	"steps": Count, "x": Count, "reps": Count, "g-salt": SaltGram, "day-fraction": DayFraction, "fraction": Fraction,
	"1-10": OneToTen, "1-5": OneToFive, "count": Count, "thousand": Thousand,
}

// smaller is the unit that an unnamed number after a larger unit is in: 12 st 4
// is 4 lb, 7h30 is 30 minutes, 5'10 is 10 inches.
var smaller = map[Unit]Unit{Stone: Pound, Hour: Minute, Foot: Inch}

// quantity reads a cell as a quantity in the domain's unit base. The cell may be
// a bare number, which is in the column's unit; a number with its own unit; a
// compound such as 12 st 4 lb; or, for a time, hours and minutes as 7:30.
// accepts says which units make sense here.
func quantity(s string, column, base Unit, decimal byte, accepts func(Unit) bool) (float64, *cellError) {
	if base == Hour || base == Minute {
		if h, ok := clockHours(s); ok {
			return convert(h, Hour, base), nil
		}
	}
	total, rest, parts := 0.0, strings.TrimSpace(s), 0
	var before Unit
	for rest != "" {
		v, after, bad := leadingNumber(rest, decimal)
		if bad != nil {
			return 0, bad
		}
		word, after := leadingWord(after)
		u := column
		switch known, ok := unitWords[strings.ToLower(word)]; {
		case word == "" && parts > 0:
			u = smaller[before]
			if u == "" || after != "" {
				return 0, notNumber()
			}
		case word == "" && u == "":
			return 0, &cellError{"it has no unit, and the column's unit was not told.", "Say the column's unit in the mapping."}
		case word == "":
		case !ok || !accepts(known) && known != larger(base) && (parts == 0 || known != smaller[before]):
			return 0, &cellError{quote(word) + " is not a unit that this column can have.", ""}
		default:
			u = known
		}
		if parts > 0 && (u != smaller[before] || v < 0) || parts > 1 {
			return 0, notNumber()
		}
		total += convert(v, u, base)
		before, rest, parts = u, after, parts+1
	}
	if parts == 0 {
		return 0, notNumber()
	}
	return total, nil
}

// larger is a unit that may open a compound though no column is written in it.
func larger(base Unit) Unit {
	if base == Cm {
		return Foot
	}
	return ""
}

// leadingWord cuts the unit that follows a number: letters with a slash or a
// hyphen, or one of the marks for feet, inches and per cent.
func leadingWord(s string) (word, rest string) {
	end := len(s)
	for i, r := range s {
		letter := r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || i > 0 && (r == '/' || r == '-')
		if !letter {
			end = i
			if i == 0 && strings.ContainsRune("\"'%\u201d\u2033\u2019\u2032", r) {
				end = len(string(r))
			}
			break
		}
	}
	word = strings.TrimRight(s[:end], "-/")
	rest = s[end:]
	if word != "" {
		rest = strings.TrimPrefix(rest, ".") // lbs., min.
	}
	return word, strings.TrimSpace(rest)
}

// clockHours reads hours and minutes with a colon, with or without seconds.
func clockHours(s string) (float64, bool) {
	s = strings.TrimSpace(s)
	var parts [3]int
	n, digits := 0, 0
	for i := range len(s) {
		switch {
		case isDigit(s[i]):
			if digits++; digits > 2 {
				return 0, false
			}
			parts[n] = parts[n]*10 + int(s[i]-'0')
		case s[i] == ':' && digits > 0 && n < 2:
			n, digits = n+1, 0
		default:
			return 0, false
		}
	}
	if n == 0 || digits != 2 || parts[1] > 59 || parts[2] > 59 {
		return 0, false
	}
	return float64(parts[0]) + float64(parts[1])/60 + float64(parts[2])/3600, true
}

// clip shortens a value for a message and shows control characters as escapes.
func clip(s string) string {
	const most = 60
	var b strings.Builder
	n := 0
	for _, r := range s {
		if n++; n > most {
			b.WriteString("…")
			break
		}
		if r < ' ' || r >= 0x7f && r < 0xa0 || r == 0xfeff || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 {
			fmt.Fprintf(&b, "\\u%04x", r)
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

// quote puts a value as clip shows it in quotation marks.
func quote(s string) string { return `"` + clip(s) + `"` }
