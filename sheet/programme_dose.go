package sheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"glidepath/athlete"
)

// doseReader reads what to do of an exercise: "3 x 6-8, 2 RIR, rest 150 s" in any
// order and in the trade's spellings.
type doseReader struct {
	text string
	at   int // of the present token
	end  int // of the present token
	tok  doseToken

	reserve, rest bool // have been read
}

// doseToken is a number, a word in lower case, or a sign.
type doseToken struct {
	kind tokenKind
	word string // of a word or a sign
	num  float64
}

type tokenKind int

const (
	noToken tokenKind = iota
	numberToken
	wordToken
	signToken
)

// read fills in sets, repetitions, reserve, rest and remarks in brackets. Where it
// fails, at is the byte of what is wrong.
func (d *doseReader) read(e *athlete.PlannedExercise) *cellError {
	d.next()
	for d.tok.kind != noToken {
		if bad := d.part(e); bad != nil {
			return bad
		}
	}
	switch {
	case e.Sets == 0 && e.RepsHigh == 0:
		return &cellError{"there are no sets and repetitions.", exerciseHint}
	case e.Sets == 0:
		return &cellError{"it does not say how many sets.", exerciseHint}
	case e.RepsHigh == 0:
		return &cellError{"it does not say how many repetitions.", exerciseHint}
	}
	return nil
}

// part reads one thing that is said.
func (d *doseReader) part(e *athlete.PlannedExercise) *cellError {
	switch {
	case d.sign(",", ";", "|", "/", "-", ":"):
		d.next()
		return nil
	case d.sign("("):
		return d.remark(e)
	case d.sign("@"):
		d.next()
		return d.effort(e, "rpe")
	case d.word("rir", "rpe"):
		return d.effort(e, "")
	case d.word("rest"):
		d.next()
		d.skip("for", ":")
		return d.duration(e, true)
	case d.word("to", "failure"):
		d.skip("to")
		if !d.word("failure") {
			return d.strange()
		}
		d.next()
		return d.setReserve(e, 0)
	case d.tok.kind == numberToken:
		return d.amount(e)
	}
	return d.strange()
}

func (d *doseReader) strange() *cellError {
	return &cellError{
		quote(strings.TrimSpace(d.text[d.at:])) + " is not understood.",
		"After the name stand sets and repetitions, RIR or RPE, and rest, as in \"bench press: 3 x 6-8, 2 RIR, rest 150 s\"; anything else follows a #.",
	}
}

// amount reads what begins with a number.
func (d *doseReader) amount(e *athlete.PlannedExercise) *cellError {
	start := d.place()
	low, high := d.numbers()
	switch {
	case d.word("x", "×", "*"), d.word("set", "sets"):
		return d.sets(e, start, low, high)
	case d.word("rir"), d.word("rpe"):
		label := d.tok.word
		d.next()
		return d.reserveOf(e, start, label, low, high)
	case d.word("rep", "reps", "repetition", "repetitions"):
		d.next()
		if d.skip("in"); d.word("reserve") {
			d.next()
			return d.reserveOf(e, start, "rir", low, high)
		}
		return d.setReps(e, start, low, high)
	case d.word("in"):
		d.next()
		if !d.word("reserve") {
			return d.strange()
		}
		d.next()
		return d.reserveOf(e, start, "rir", low, high)
	case d.timeUnit() > 0, d.sign(":"):
		d.back(start)
		return d.duration(e, false)
	}
	d.back(start)
	return d.strange()
}

// sets reads "3 x 6-8", "3 sets of 8 reps" or "3 sets" from after the number.
func (d *doseReader) sets(e *athlete.PlannedExercise, start doseReader, low, high float64) *cellError {
	n, whole := wholeNumber(low)
	if !whole || low != high || e.Sets != 0 {
		d.back(start)
		if e.Sets != 0 {
			return &cellError{"the sets stand here twice.", ""}
		}
		return &cellError{"it is no number of sets.", exerciseHint}
	}
	e.Sets = n
	alone := d.word("set", "sets")
	d.next()
	if alone {
		d.skip("of", "x", "×", "*")
	}
	if d.tok.kind != numberToken {
		if alone {
			return nil
		}
		return &cellError{"repetitions are missing after the sets.", exerciseHint}
	}
	start = d.place()
	low, high = d.numbers()
	d.skip("rep", "reps", "repetition", "repetitions")
	if d.timeUnit() > 0 {
		d.back(start)
		return &cellError{"repetitions are counted, not timed.", `Write the time in a note, as in "plank: 3 x 1  # hold for 60 s".`}
	}
	return d.setReps(e, start, low, high)
}

func (d *doseReader) setReps(e *athlete.PlannedExercise, start doseReader, low, high float64) *cellError {
	from, whole1 := wholeNumber(low)
	to, whole2 := wholeNumber(high)
	switch {
	case e.RepsHigh != 0:
		d.back(start)
		return &cellError{"the repetitions stand here twice.", ""}
	case !whole1 || !whole2 || from < 1 || to < from:
		d.back(start)
		return &cellError{"it is no number of repetitions.", `Write one, as in 8, or a range from low to high, as in 6-8.`}
	}
	e.RepsLow, e.RepsHigh = from, to
	return nil
}

func wholeNumber(v float64) (int, bool) {
	return int(v), v == math.Trunc(v) && v <= 10_000
}

// effort reads "RIR 2", "RPE 8", "@8", "@ 2 RIR" from the label or the number on.
func (d *doseReader) effort(e *athlete.PlannedExercise, label string) *cellError {
	if d.word("rir", "rpe") {
		label = d.tok.word
		d.next()
	}
	d.skip(":", "@", "of")
	if d.tok.kind != numberToken {
		return &cellError{"a number is missing here.", `Write "2 RIR" or "RPE 8".`}
	}
	start := d.place()
	low, high := d.numbers()
	if d.word("rir", "rpe") {
		label = d.tok.word
		d.next()
	}
	return d.reserveOf(e, start, label, low, high)
}

// reserveOf takes RIR, or RPE as 10 less it; of a range the middle.
func (d *doseReader) reserveOf(e *athlete.PlannedExercise, start doseReader, label string, low, high float64) *cellError {
	v := (low + high) / 2
	if label == "rpe" {
		if low < lowestRPE || high > 10 {
			d.back(start)
			return &cellError{"an RPE is from 5 to 10; a lower one says nothing of repetitions in reserve.", `Write "RPE 8" or "2 RIR".`}
		}
		v = 10 - v
	}
	if high < low || v > 10 {
		d.back(start)
		return &cellError{"it is no number of repetitions in reserve.", `Write "2 RIR", or a range from low to high.`}
	}
	return d.setReserve(e, v)
}

func (d *doseReader) setReserve(e *athlete.PlannedExercise, v float64) *cellError {
	if d.reserve {
		return &cellError{"repetitions in reserve stand here twice.", ""}
	}
	d.reserve, e.RIR = true, new(v)
	return nil
}

// remark takes what stands in brackets into the notes.
func (d *doseReader) remark(e *athlete.PlannedExercise) *cellError {
	length := strings.IndexByte(d.text[d.end:], ')')
	if length < 0 {
		return &cellError{"the bracket is not closed.", ""}
	}
	text := d.text[d.end : d.end+length]
	d.end += length + 1
	d.next()
	if text = cleanText(text, len(text)); text != "" && e.Notes != "" {
		text = "; " + text
	}
	e.Notes += text
	return nil
}

// numbers reads a number, or a range of two.
func (d *doseReader) numbers() (low, high float64) {
	low = d.tok.num
	d.next()
	if !d.sign("-") && !d.word("to") {
		return low, low
	}
	before := d.place()
	if d.next(); d.tok.kind != numberToken {
		d.back(before)
		return low, low
	}
	high = d.tok.num
	d.next()
	return low, high
}

// place remembers where the reader is, and back goes there again.
func (d *doseReader) place() doseReader     { return *d }
func (d *doseReader) back(place doseReader) { d.at, d.end, d.tok = place.at, place.end, place.tok }

func (d *doseReader) word(any ...string) bool { return d.is(wordToken, any) || d.is(signToken, any) }
func (d *doseReader) sign(any ...string) bool { return d.is(signToken, any) }

func (d *doseReader) is(kind tokenKind, any []string) bool {
	if d.tok.kind != kind {
		return false
	}
	for _, w := range any {
		if d.tok.word == w {
			return true
		}
	}
	return false
}

// skip goes past one of some words, where it is there.
func (d *doseReader) skip(any ...string) {
	if d.word(any...) {
		d.next()
	}
}

// dashes are the signs that people type for a range.
const dashes = "-‐‑–—−"

// next goes to the next token.
func (d *doseReader) next() {
	d.at = d.end + len(d.text[d.end:]) - len(strings.TrimLeftFunc(d.text[d.end:], unicode.IsSpace))
	rest := d.text[d.at:]
	if rest == "" {
		d.tok, d.end = doseToken{}, d.at
		return
	}
	r, size := utf8.DecodeRuneInString(rest)
	switch {
	case r >= '0' && r <= '9':
		n := digitRun(rest)
		if n+1 < len(rest) && rest[n] == '.' && isDigit(rest[n+1]) {
			n += 1 + digitRun(rest[n+1:])
		}
		v, err := strconv.ParseFloat(rest[:n], 64)
		if err != nil {
			v = math.MaxFloat64
		}
		d.tok, size = doseToken{kind: numberToken, num: v}, n
	case r == 'x' || r == 'X' || r == '×': // "3x8", "3 x8"
		d.tok = doseToken{kind: wordToken, word: "x"}
	case unicode.IsLetter(r):
		size = len(rest)
		if i := strings.IndexFunc(rest, func(r rune) bool { return !unicode.IsLetter(r) }); i >= 0 {
			size = i
		}
		d.tok = doseToken{kind: wordToken, word: strings.ToLower(rest[:size])}
	case strings.ContainsRune(dashes, r):
		d.tok = doseToken{kind: signToken, word: "-"}
	default:
		d.tok = doseToken{kind: signToken, word: string(r)}
	}
	d.end = d.at + size
}

// doseText writes what doseReader reads, to the digit.
func doseText(e *athlete.PlannedExercise) string {
	reps := strconv.Itoa(e.RepsLow)
	if e.RepsHigh != e.RepsLow {
		reps += "-" + strconv.Itoa(e.RepsHigh)
	}
	text := fmt.Sprintf("%d x %s", e.Sets, reps)
	if e.RIR != nil {
		text += ", " + strconv.FormatFloat(*e.RIR, 'f', -1, 64) + " RIR"
	}
	if e.RestSeconds > 0 {
		text += fmt.Sprintf(", rest %d s", e.RestSeconds)
	}
	return text
}
