package sheet

import (
	"errors"
	"regexp"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"glidepath/athlete"
)

// lineParts is a line of a programme taken apart.
type lineParts struct {
	kind partKind
	name string           // the keyword, the session's name where the line gives no other, or the exercise
	day  *athlete.Weekday // of a session
	rest string           // what follows
	at   int              // the byte where rest begins
}

type partKind int

const (
	unknownPart partKind = iota
	keywordPart
	sessionPart
	exercisePart
)

// keywords are the words that open a line about the programme or a session.
var keywords = map[string]string{
	"programme": "programme", "program": "programme", "from": "from", "start": "from", "starts": "from",
	"phase": "phase", "notes": "notes", "note": "notes",
}

// loose is the head of a session without a day: session, session 2, day B.
var loose = regexp.MustCompile(`(?i)^(?:session|day)(?:\s+[\pL\d]{1,2})?$`)

// doseStart finds where sets and repetitions begin.
var doseStart = regexp.MustCompile(`(?i)(?:^|[\s:,–—-])(\d+\s*(?:sets?\s*(?:of|[x×*])|[x×*])\s*\d)`)

// partsOf takes a line that is no week and no remark apart.
func partsOf(body string) lineParts {
	if q, err := quotedPrefix(body); err == nil {
		return quotedExercise(body, q)
	}
	head, after, colon := strings.Cut(body, ":")
	dose := doseStart.FindStringSubmatchIndex(body)
	if colon {
		word := strings.TrimSpace(head)
		begin := len(head) + 1 + len(after) - len(strings.TrimLeft(after, " \t"))
		if k, ok := keywords[letters(word)]; ok && !strings.ContainsAny(word, " \t") {
			return lineParts{kind: keywordPart, name: k, rest: body[begin:], at: begin}
		}
		if day, ok := weekday(strings.TrimSuffix(word, ".")); ok {
			return lineParts{kind: sessionPart, day: &day, name: titled(day), rest: body[begin:], at: begin}
		}
		if loose.MatchString(word) {
			p := lineParts{kind: sessionPart, rest: body[begin:], at: begin}
			if strings.ContainsAny(word, " \t") {
				p.name = capital(word)
			}
			return p
		}
	}
	if p, ok := dayFirst(body); ok && dose == nil {
		return p
	}
	switch {
	case dose != nil && (!colon || dose[2] < len(head)):
		return exercisePart.of(body, body[:dose[2]], dose[2])
	case colon:
		return exercisePart.of(body, head, len(head)+1)
	}
	return lineParts{}
}

// of is an exercise whose name is in head and whose sets begin at a byte.
func (k partKind) of(body, head string, begin int) lineParts {
	name := cleanText(strings.TrimRight(head, " \t:,–—-"), len(head))
	if name == "" {
		return lineParts{}
	}
	begin += len(body[begin:]) - len(strings.TrimLeft(body[begin:], " \t"))
	return lineParts{kind: k, name: name, rest: body[begin:], at: begin}
}

func quotedExercise(body, quoted string) lineParts {
	name, err := strconv.Unquote(quoted)
	if err != nil || strings.TrimSpace(name) == "" {
		return lineParts{}
	}
	begin := len(quoted)
	begin += len(body[begin:]) - len(strings.TrimLeft(body[begin:], " \t:"))
	return lineParts{kind: exercisePart, name: name, rest: body[begin:], at: begin}
}

// dayFirst takes a session whose line begins with a day and has no colon after it:
// "Monday - Upper A".
func dayFirst(body string) (lineParts, bool) {
	end := strings.IndexFunc(body, func(r rune) bool { return !unicode.IsLetter(r) })
	if end < 0 {
		end = len(body)
	}
	day, ok := weekday(body[:end])
	if !ok {
		return lineParts{}, false
	}
	begin := end + len(body[end:]) - len(strings.TrimLeft(body[end:], " \t.:,–—-"))
	return lineParts{kind: sessionPart, day: &day, name: titled(day), rest: body[begin:], at: begin}, true
}

func titled(d athlete.Weekday) string { return time.Weekday(d).String() }

// capital begins a text with a capital.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// weekdays has the days of the week in the languages that headings are known in,
// without accents (from memory), from Sunday. Short forms are English and German.
var weekdays = func() map[string]athlete.Weekday {
	m := map[string]athlete.Weekday{}
	for i, list := range []string{
		"sunday sun sonntag so dimanche domingo domenica zondag sondag niedziela sunnuntai",
		"monday mon montag mo lundi lunes lunedi segunda segundafeira maandag mandag poniedzialek maanantai",
		"tuesday tue tues dienstag di mardi martes martedi terca tercafeira dinsdag tisdag tirsdag wtorek tiistai",
		"wednesday wed weds mittwoch mi mercredi miercoles mercoledi quarta quartafeira woensdag onsdag sroda keskiviikko",
		"thursday thu thur thurs donnerstag do jeudi jueves giovedi quinta quintafeira donderdag torsdag czwartek torstai",
		"friday fri freitag fr vendredi viernes venerdi sexta sextafeira vrijdag fredag piatek perjantai",
		"saturday sat samstag sa sonnabend samedi sabado sabato zaterdag lordag sobota lauantai",
	} {
		for w := range strings.FieldsSeq(list) {
			m[w] = athlete.Weekday(i)
		}
	}
	return m
}()

func weekday(s string) (athlete.Weekday, bool) {
	d, ok := weekdays[foldHeading(strings.ToLower(strings.TrimSpace(s)))]
	return d, ok
}

// cutNote cuts a text at a # that stands at its beginning or after a space, outside
// of a quoted beginning.
func cutNote(s string) (text, note string) {
	from := 0
	if q, err := quotedPrefix(s); err == nil {
		from = len(q)
	}
	for i := from; i < len(s); i++ {
		if s[i] == '#' && (i == 0 || i == from || s[i-1] == ' ' || s[i-1] == '\t') {
			return strings.TrimSpace(s[:i]), plainOrQuoted(s[i+1:])
		}
	}
	return strings.TrimSpace(s), ""
}

var errNotQuoted = errors.New("not quoted")

func quotedPrefix(s string) (string, error) {
	if !strings.HasPrefix(s, `"`) {
		return "", errNotQuoted
	}
	return strconv.QuotedPrefix(s)
}

// plainOrQuoted is a text as it is, cleaned, or what stands in quotation marks.
func plainOrQuoted(s string) string {
	s = strings.TrimSpace(s)
	if q, err := quotedPrefix(s); err == nil && q == s {
		if text, err := strconv.Unquote(q); err == nil {
			return text
		}
	}
	return cleanText(s, len(s))
}
