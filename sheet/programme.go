package sheet

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// Limits on a programme in text: people write a few pages, and read a few faults.
const (
	maxProgrammeBytes  = 1 << 20
	maxProgrammeFaults = 30
)

// ReadProgramme reads a programme that a coach wrote as plain text, a line a
// thing. Of an invented athlete:
//
//	programme: Four days, prep
//	from: 2026-03-02
//	phase: prep
//	notes: lower body first in the week
//
//	week 1
//	  monday: Lower A
//	    notes: warm up on the bike
//	    back squat: 3 x 6-8, 2 RIR, rest 150 s  # pause at the bottom
//	    leg curl 3x10 @8 rest 1:30
//	  session: Upper A
//	    bench press: 4 sets of 6 to 8 reps, RPE 8
//	week 2 = week 1
//	weeks 3-4
//	  monday: Lower B
//	    leg press: 3 × 10–12, 1-2 RIR
//	week 5 = deload of week 3
//
// Indentation and letter case do not matter. A session begins with its day of the
// week, or with the word session or day where it falls on the training days in
// order; an exercise is a name with sets and repetitions. What follows a # is the
// note of an exercise or a session, and elsewhere a remark that is not kept. RPE on
// the scale of repetitions in reserve is 10 less them (Zourdos et al. 2016, J
// Strength Cond Res 30:267); a range of RIR or rest is its middle. A week that says
// deload is one; "deload of week 3" is week 3 as athlete.ProgrammeWeek.AsDeload makes
// it. A text in quotation marks is read with the escapes of Go, so that any name can
// be written.
//
// The name, the date and the phase may be left out: they are empty then, and who
// keeps the programme must say them. The error joins a fault for each thing wrong,
// with its line in Row and the character in At.
func ReadProgramme(text string) (athlete.Programme, error) {
	if len(text) > maxProgrammeBytes {
		return athlete.Programme{}, fault.New(fault.Invalid, "the programme is larger than %d MB.", maxProgrammeBytes>>20)
	}
	text, _, _, err := decode([]byte(text), "")
	if err != nil {
		for _, e := range fault.All(err) {
			e.Hint = "Save the programme as text in UTF-8."
		}
		return athlete.Programme{}, err
	}
	r := programmeReader{}
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)
	for line := range strings.SplitSeq(text, "\n") {
		r.number++
		r.text = line
		if at := len(line) - len(strings.TrimLeft(line, " \t\u00a0\u3000")); !r.full() {
			r.line(strings.TrimRight(line[at:], " \t\u00a0\u3000"), at)
		}
	}
	r.closeWeek()
	return r.result()
}

// programmeReader reads a programme line by line.
type programmeReader struct {
	out    athlete.Programme
	faults []error

	number int    // of the line, from 1
	text   string // the line

	weeks       int  // that the open week stands for; 0 where none is open
	copied      bool // the open week repeats another
	opened      int  // the line of the session that is open
	sessionText string
	tried       bool // an exercise was written for it
}

func (r *programmeReader) full() bool { return len(r.faults) >= maxProgrammeFaults }

// fail notes a fault at a byte of the present line.
func (r *programmeReader) fail(at int, why, hint string) {
	e := fault.New(fault.Invalid, "%s", why)
	at = min(max(at, 0), len(r.text))
	e.Hint, e.Row, e.At = hint, r.number, utf8.RuneCountInString(r.text[:at])+1
	e.Value = clip(strings.TrimSpace(r.text[at:]))
	r.faults = append(r.faults, e)
}

// domain notes the faults that the domain finds at the present line.
func (r *programmeReader) domain(at int, err error) {
	for _, f := range fault.All(err) {
		r.fail(at, f.Message, f.Hint)
	}
}

func (r *programmeReader) result() (athlete.Programme, error) {
	if len(r.faults) == 0 && len(r.out.Weeks) == 0 {
		r.number, r.text = 1, ""
		r.fail(0, "there is no session in it.", sessionHint)
	}
	if len(r.faults) > 0 {
		return athlete.Programme{}, errors.Join(r.faults...)
	}
	whole := r.out
	if whole.From.IsZero() {
		whole.From = civil.Of(2000, time.January, 3)
	}
	if whole.Name == "" {
		whole.Name = "unnamed"
	}
	if err := whole.Validate(); err != nil { // of what no one line shows
		return athlete.Programme{}, err
	}
	return r.out, nil
}

const (
	sessionHint  = `A session begins with its day or the word session, as in "monday: Upper A" or "session: Upper A".`
	exerciseHint = `An exercise stands with sets and repetitions, as in "bench press: 3 x 6-8, 2 RIR, rest 150 s".`
)

// weekLine is a line such as "week 4 deload", "weeks 1-3:" or "week 2 = week 1".
var weekLine = regexp.MustCompile(`(?i)^weeks?\s*(\d{1,3})(?:\s*(?:-|–|—|to)\s*(\d{1,3}))?(?:[\s:.,(=-](.*))?$`)

// bullet is a mark that people put before the items of a list.
var bullet = regexp.MustCompile(`^(?:[-*•–]\s+|\d{1,2}[.)]\s+)`)

// line reads a line whose body begins at a byte of it.
func (r *programmeReader) line(body string, at int) {
	if strings.HasPrefix(body, "#") || body == "" {
		return
	}
	mark := bullet.FindString(body)
	body, at = body[len(mark):], at+len(mark)
	if m := weekLine.FindStringSubmatch(body); m != nil {
		r.weekLine(m, at)
		return
	}
	p := partsOf(body)
	switch p.kind {
	case keywordPart:
		r.keyword(p, at)
	case sessionPart:
		r.session(p, at)
	case exercisePart:
		r.exercise(p, at)
	default:
		r.fail(at, quote(body)+" is neither a session nor an exercise.", sessionHint+" "+exerciseHint)
	}
}

// keyword takes what is said of the programme as a whole, or the notes of a session.
func (r *programmeReader) keyword(p lineParts, at int) {
	at += p.at
	if p.name == "notes" {
		r.notes(at, p.rest)
		return
	}
	rest, _ := cutNote(p.rest)
	if r.weeks > 0 || len(r.out.Weeks) > 0 {
		r.fail(at, "this stands before the first week.", "")
		return
	}
	switch p.name {
	case "programme":
		r.once(at, r.out.Name != "")
		if r.out.Name = plainOrQuoted(rest); len(r.out.Name) > athlete.MostPlannedName {
			r.fail(at, fmt.Sprintf("the name is longer than %d characters.", athlete.MostPlannedName), "")
		}
	case "from":
		r.once(at, !r.out.From.IsZero())
		r.from(at, rest)
	case "phase":
		r.once(at, r.out.Phase != "")
		phase, ok := phaseOf(rest)
		if !ok {
			r.fail(at, fmt.Sprintf("%s is not a phase.", quote(rest)), fmt.Sprintf("Write one of %q, or leave the line out for any.", athlete.PhaseKinds()))
		}
		r.out.Phase = phase
	}
}

func (r *programmeReader) once(at int, there bool) {
	if there {
		r.fail(at, "this stands here twice.", "")
	}
}

func (r *programmeReader) from(at int, text string) {
	if on, err := civil.Parse(text); err == nil {
		r.out.From = on
		return
	}
	w := takeDate(text)
	if w.form != fixedDate && (w.form != namedDate || w.c < 0 || w.short) {
		r.fail(at, quote(text)+" is not a date that can be read one way only.", "Write it as YYYY-MM-DD.")
		return
	}
	on, bad := (&dates{}).resolve(text)
	if bad != nil {
		r.fail(at, bad.why, bad.hint)
	}
	r.out.From = on
}

// phaseOf reads a phase in any spelling; "any" is none.
func phaseOf(text string) (athlete.PhaseKind, bool) {
	word := letters(text)
	for _, k := range athlete.PhaseKinds() {
		if letters(string(k)) == word {
			return k, true
		}
	}
	return "", word == "any" || word == "all" || word == ""
}

// letters are the letters of a text in lower case, without accents.
func letters(s string) string {
	return compact(strings.FieldsFunc(foldHeading(strings.ToLower(s)), func(x rune) bool { return x < 'a' || x > 'z' }))
}

// notes adds a line to the notes of the session that is open, or else of the
// programme.
func (r *programmeReader) notes(at int, text string) {
	text = plainOrQuoted(text)
	into := &r.out.Notes
	switch s := r.openSession(); {
	case s != nil && len(s.Exercises) == 0:
		into = &s.Notes
	case s != nil:
		r.fail(at, "the notes of a session stand before its exercises.", "What there is to say of an exercise follows a # on its line.")
		return
	case r.weeks > 0:
		r.fail(at, "a week has no notes.", "Write them before the first week, or under a session.")
		return
	}
	if *into != "" {
		*into += "\n"
	}
	*into += text
}

// weekLine opens a week, or makes one from an earlier one.
func (r *programmeReader) weekLine(m []string, at int) {
	r.closeWeek()
	first, _ := strconv.Atoi(m[1]) // the pattern has digits only
	last := first
	if m[2] != "" {
		last, _ = strconv.Atoi(m[2])
	}
	rest, _ := cutNote(m[3])
	rest = foldHeading(strings.ToLower(strings.Trim(rest, " \t:.,()=-")))
	repeats := m[3] != "" && rest != "" && rest != "deload" && rest != "deload week"
	switch next := len(r.out.Weeks) + 1; {
	case first != next || last < first:
		r.fail(at, fmt.Sprintf("week %d is due here.", next), "Weeks stand in order, counted from 1.")
		return
	case last > athlete.MostProgrammeWeeks:
		r.fail(at, fmt.Sprintf("a programme has at most %d weeks.", athlete.MostProgrammeWeeks), "")
		return
	}
	r.weeks = last - first + 1
	if !repeats {
		r.out.Weeks = append(r.out.Weeks, athlete.ProgrammeWeek{Deload: rest != ""})
		return
	}
	r.copied = true
	week, ok := r.earlier(rest)
	if !ok {
		r.fail(at, quote(rest)+" is not understood after the number of a week.",
			`Write "week 4 deload", "week 2 = week 1" or "week 4 = deload of week 1", of a week before it.`)
	}
	r.out.Weeks = append(r.out.Weeks, week)
}

// reference is what a week is like.
var reference = regexp.MustCompile(`^(?:(?:same )?(?:as|like) )?(?:(?:a )?(deload) (?:of|from) )?(?:week )?(\d{1,3})$`)

// earlier is a week made from one before it.
func (r *programmeReader) earlier(text string) (athlete.ProgrammeWeek, bool) {
	m := reference.FindStringSubmatch(strings.Join(strings.Fields(text), " "))
	if m == nil {
		return athlete.ProgrammeWeek{}, false
	}
	n, _ := strconv.Atoi(m[2])
	if n < 1 || n > len(r.out.Weeks) {
		return athlete.ProgrammeWeek{}, false
	}
	if m[1] != "" {
		return r.out.Weeks[n-1].AsDeload(), true
	}
	return r.out.Weeks[n-1].Copy(), true
}

// closeWeek repeats the open week for every week that it stands for.
func (r *programmeReader) closeWeek() {
	r.closeSession()
	for range r.weeks - 1 {
		r.out.Weeks = append(r.out.Weeks, r.out.Weeks[len(r.out.Weeks)-1].Copy())
	}
	r.weeks, r.copied = 0, false
}

// openSession is the session that exercises go to, nil where none is open.
func (r *programmeReader) openSession() *athlete.PlannedSession {
	if r.opened == 0 {
		return nil
	}
	w := &r.out.Weeks[len(r.out.Weeks)-1]
	return &w.Sessions[len(w.Sessions)-1]
}

func (r *programmeReader) closeSession() {
	if s := r.openSession(); s != nil && !r.tried {
		number, text := r.number, r.text
		r.number, r.text = r.opened, r.sessionText
		r.fail(len(r.text)-len(strings.TrimLeft(r.text, " \t")), fmt.Sprintf("the session %q has no exercise.", clip(s.Name)), exerciseHint)
		r.number, r.text = number, text
	}
	r.opened, r.tried = 0, false
}

func (r *programmeReader) session(p lineParts, at int) {
	r.closeSession()
	if r.weeks == 0 && len(r.out.Weeks) == 0 { // a programme of one week needs no word for it
		r.weeks = 1
		r.out.Weeks = append(r.out.Weeks, athlete.ProgrammeWeek{})
	}
	if r.copied {
		r.fail(at, "the week above repeats another, so nothing can be added to it.", "Write the week out where it is to differ.")
		return
	}
	text, note := cutNote(p.rest)
	s := athlete.PlannedSession{Name: plainOrQuoted(text), Day: p.day, Notes: note}
	if s.Name == "" {
		s.Name = p.name
	}
	switch w := &r.out.Weeks[len(r.out.Weeks)-1]; {
	case s.Name == "":
		r.fail(at, "the session has no name.", sessionHint)
	case len(s.Name) > athlete.MostPlannedName:
		r.fail(at+p.at, fmt.Sprintf("the name is longer than %d characters.", athlete.MostPlannedName), "")
	case len(w.Sessions) >= athlete.MostWeekSessions:
		r.fail(at, fmt.Sprintf("a week has at most %d sessions.", athlete.MostWeekSessions), "")
	default:
		w.Sessions = append(w.Sessions, s)
		r.opened, r.sessionText = r.number, r.text
	}
}

func (r *programmeReader) exercise(p lineParts, at int) {
	s := r.openSession()
	if s == nil {
		if len(r.faults) == 0 { // else the session is there, and wrong
			r.fail(at, "the exercise belongs to no session.", sessionHint)
		}
		return
	}
	r.tried = true
	text, note := cutNote(p.rest)
	e := athlete.PlannedExercise{Exercise: p.name, Notes: note}
	d := doseReader{text: text}
	if bad := d.read(&e); bad != nil {
		r.fail(at+p.at+d.at, bad.why, bad.hint)
		return
	}
	if len(s.Exercises) >= athlete.MostSessionExercises {
		r.fail(at, fmt.Sprintf("a session has at most %d exercises.", athlete.MostSessionExercises), "")
		return
	}
	r.domain(at, e.Validate())
	s.Exercises = append(s.Exercises, e)
}
