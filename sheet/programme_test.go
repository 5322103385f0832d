package sheet

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

func dayOf(d time.Weekday) *athlete.Weekday { return new(athlete.Weekday(d)) }

// The example of the doc comment says what it is said to.
func TestReadProgramme(t *testing.T) {
	p, err := ReadProgramme(`programme: Four days, prep
from: 2026-03-02
phase: prep
notes: lower body first in the week

week 1
  monday: Lower A
    notes: warm up on the bike
    back squat: 3 x 6-8, 2 RIR, rest 150 s  # pause at the bottom
    leg curl 3x10 @8 rest 1:30
  session: Upper A
    bench press: 4 sets of 6 to 8 reps, RPE 8
week 2 = week 1
weeks 3-4
  monday: Lower B
    leg press: 3 × 10–12, 1-2 RIR
week 5 = deload of week 3
`)
	if err != nil {
		t.Fatal(err)
	}
	first := athlete.ProgrammeWeek{Sessions: []athlete.PlannedSession{
		{Name: "Lower A", Day: dayOf(time.Monday), Notes: "warm up on the bike", Exercises: []athlete.PlannedExercise{
			{Exercise: "back squat", Sets: 3, RepsLow: 6, RepsHigh: 8, RIR: new(2.0), RestSeconds: 150, Notes: "pause at the bottom"},
			{Exercise: "leg curl", Sets: 3, RepsLow: 10, RepsHigh: 10, RIR: new(2.0), RestSeconds: 90},
		}},
		{Name: "Upper A", Exercises: []athlete.PlannedExercise{{Exercise: "bench press", Sets: 4, RepsLow: 6, RepsHigh: 8, RIR: new(2.0)}}},
	}}
	third := athlete.ProgrammeWeek{Sessions: []athlete.PlannedSession{{
		Name: "Lower B", Day: dayOf(time.Monday),
		Exercises: []athlete.PlannedExercise{{Exercise: "leg press", Sets: 3, RepsLow: 10, RepsHigh: 12, RIR: new(1.5)}},
	}}}
	want := athlete.Programme{
		Name: "Four days, prep", From: civil.Of(2026, 3, 2), Phase: athlete.Prep, Notes: "lower body first in the week",
		Weeks: []athlete.ProgrammeWeek{first, first, third, third, third.AsDeload()},
	}
	if diff := cmp.Diff(want, p); diff != "" {
		t.Error(diff)
	}
	p.Weeks[0].Sessions[0].Exercises[0].Sets = 9
	if p.Weeks[1].Sessions[0].Exercises[0].Sets != 3 {
		t.Error("a week that repeats another shares it")
	}
	// Another kind of text: a word processor's, with its line ends and no indentation.
	p, err = ReadProgramme("\ufeffProgram: “Two”\r\nStart: 2 March 2026\r\nPhase: Off season\r\n\r\n# a remark\r\nMontag – Push\r\n1. Bench Press 3x8\r\n- dip: 3 x 8\r\nday 2:\r\nrow 3*8\r\n")
	if err != nil || p.Name != "“Two”" || p.Phase != athlete.OffSeason || p.From != civil.Of(2026, 3, 2) || len(p.Weeks) != 1 {
		t.Fatalf("%+v, %v", p, err)
	}
	if s := p.Weeks[0].Sessions; s[0].Name != "Push" || *s[0].Day != athlete.Weekday(time.Monday) || s[0].Exercises[0].Exercise != "Bench Press" ||
		s[0].Exercises[1].Exercise != "dip" || s[1].Name != "Day 2" || s[1].Day != nil {
		t.Errorf("%+v", s)
	}
}

// The example that people are shown is one that is taken.
func TestTheDocumentedProgramme(t *testing.T) {
	text, err := os.ReadFile("../docs/import.md")
	if err != nil {
		t.Fatal(err)
	}
	_, example, found := strings.Cut(string(text), "```\nprogramme:")
	example, _, closed := strings.Cut("programme:"+example, "```")
	p, err := ReadProgramme(example)
	if !found || !closed || err != nil || len(p.Weeks) != 5 || len(p.Weeks[0].Sessions) != 2 || p.Weeks[4].Sessions[0].Exercises[0].Sets != 2 {
		t.Errorf("the example is read as %+v, %v", p, err)
	}
}

// How sets, repetitions, reserve and rest are written (common practice, no
// source); RPE is 10 less the repetitions in reserve (Zourdos et al. 2016).
func TestDoseSpellings(t *testing.T) {
	for in, want := range map[string]string{
		"3 x 8":                          "3 x 8",
		"3x8":                            "3 x 8",
		"3 X 8 reps":                     "3 x 8",
		"3×8–10":                         "3 x 8-10",
		"3 * 8 - 10":                     "3 x 8-10",
		"3 sets of 8":                    "3 x 8",
		"3 sets x 8 to 10 reps":          "3 x 8-10",
		"4 sets, 6-8 reps":               "4 x 6-8",
		"6-8 reps, 4 sets":               "4 x 6-8",
		"3x8 2RIR":                       "3 x 8, 2 RIR",
		"3x8, RIR 2":                     "3 x 8, 2 RIR",
		"3x8 RIR: 2":                     "3 x 8, 2 RIR",
		"3x8 @2 RIR":                     "3 x 8, 2 RIR",
		"3x8 @8":                         "3 x 8, 2 RIR",
		"3x8 @ RPE 8.5":                  "3 x 8, 1.5 RIR",
		"3x8 @ 7-8 RPE":                  "3 x 8, 2.5 RIR",
		"3x8 with":                       "",
		"3x8, 1–3 RIR":                   "3 x 8, 2 RIR",
		"3x8, 2 in reserve":              "3 x 8, 2 RIR",
		"3x8, 2 reps in reserve":         "3 x 8, 2 RIR",
		"3x8 to failure":                 "3 x 8, 0 RIR",
		"3x8, failure, 2 min rest":       "3 x 8, 0 RIR, rest 120 s",
		"rest 90s 3x8":                   "3 x 8, rest 90 s",
		"3x8, rest 2 min":                "3 x 8, rest 120 s",
		"3x8, rest 2.5 min":              "3 x 8, rest 150 s",
		"3x8, rest 2 min 30 s":           "3 x 8, rest 150 s",
		"3x8, rest 2'30\"":               "3 x 8, rest 150 s",
		"3x8 - rest 2:30":                "3 x 8, rest 150 s",
		"3x8, 2:30 rest":                 "3 x 8, rest 150 s",
		"3x8, rest 2-3 min":              "3 x 8, rest 150 s",
		"3x8, rest 120":                  "3 x 8, rest 120 s",
		"3x8 | 2 RIR | rest: 90 seconds": "3 x 8, 2 RIR, rest 90 s",
		"3x8 (slowly), 2 RIR (no belt)":  "3 x 8, 2 RIR # slowly; no belt",
	} {
		var e athlete.PlannedExercise
		d := doseReader{text: in}
		bad := d.read(&e)
		got := doseText(&e)
		if e.Notes != "" {
			got += " # " + e.Notes
		}
		if bad != nil {
			got = ""
		}
		if got != want {
			t.Errorf("%q is read as %q (%v), want %q", in, got, bad, want)
		}
	}
}

// What is wrong is named by line and character, with how to mend it.
func TestProgrammeFaults(t *testing.T) {
	const top = "monday: A\n"
	for _, c := range []struct {
		text      string
		line, at  int
		says, and string
	}{
		{"", 1, 1, "no session", "monday: Upper A"},
		{"programme: x\n", 1, 1, "no session", ""},
		{"from: 03/04/2026\nmonday: A\nsquat: 3x8", 1, 7, "one way only", "YYYY-MM-DD"},
		{"from: 2026-02-30\nmonday: A\nsquat: 3x8", 1, 7, "no day 30", ""},
		{"phase: bulk\nmonday: A\nsquat: 3x8", 1, 8, "not a phase", "off-season"},
		{"programme: x\nprogramme: y\nmonday: A\nsquat: 3x8", 2, 12, "twice", ""},
		{"monday: A\nsquat: 3x8\nphase: prep", 3, 8, "before the first week", ""},
		{"squat: 3x8", 1, 1, "no session", "session: Upper A"},
		{"Upper A", 1, 1, "neither a session nor an exercise", "session: Upper A"},
		{"session:\nsquat: 3x8", 1, 1, "no name", ""},
		{top, 1, 1, "has no exercise", "3 x 6-8"},
		{"  monday: A\ntuesday: B\nsquat: 3x8", 1, 3, `"A" has no exercise`, ""},
		{top + "squat:", 2, 7, "no sets and repetitions", ""},
		{top + "squat: 8 reps", 2, 14, "how many sets", ""},
		{top + "squat: 3 sets", 2, 14, "how many repetitions", ""},
		{top + "squat: 3 x", 2, 11, "repetitions are missing", ""},
		{top + "squat: 3x8 3x8", 2, 12, "sets stand here twice", ""},
		{top + "squat: 3x8, 8 reps", 2, 13, "repetitions stand here twice", ""},
		{top + "squat: 3x8 2 RIR @8", 2, 20, "reserve stand here twice", ""},
		{top + "squat: 3x8 rest 90 s, rest 60 s", 2, 28, "rest stands here twice", ""},
		{top + "squat: 2.5x8", 2, 8, "no number of sets", ""},
		{top + "squat: 3x8.5", 2, 10, "no number of repetitions", "6-8"},
		{top + "squat: 3x10-8", 2, 10, "no number of repetitions", ""},
		{top + "squat: 3x8,5 RIR kg", 2, 18, `"kg" is not understood`, "#"},
		{top + "squat: 3x8, 100 kg", 2, 13, `"100 kg" is not understood`, ""},
		{top + "squat: 3x8 RPE 4", 2, 16, "from 5 to 10", ""},
		{top + "squat: 3x8 @11", 2, 13, "from 5 to 10", ""},
		{top + "squat: 3x8 12 RIR", 2, 12, "repetitions in reserve", ""},
		{top + "squat: 3x8 RIR", 2, 15, "number is missing", ""},
		{top + "squat: 3x8 rest 3", 2, 17, "seconds or minutes", "rest 2 min"},
		{top + "squat: 3x8 rest", 2, 16, "time is missing", ""},
		{top + "squat: 3x8 rest 2:75", 2, 17, "no time", ""},
		{top + "squat: 3x8 rest 0.33 min", 2, 17, "whole number of seconds", ""},
		{top + "squat: 3x8 90 s", 2, 12, "not said to be rest", ""},
		{top + "plank: 3 x 60 s", 2, 12, "counted, not timed", "hold"},
		{top + "squat: 3x8 (slowly", 2, 12, "not closed", ""},
		{top + "squat: 30x8", 2, 1, "30 sets are outside 1 to 15", ""},
		{top + "squat: 3x80", 2, 1, "80 are not in order within 1 to 50", ""},
		{top + "squat: 3x8 rest 20 min", 2, 1, "rest of 1200 seconds", ""},
		{top + "Übung — schön: 3x8 foo", 2, 20, `"foo" is not understood`, ""},
		{top + strings.Repeat("a", 81) + ": 3x8", 2, 1, "80 characters", ""},
		{"monday: " + strings.Repeat("a", 81) + "\nsquat: 3x8", 1, 9, "80 characters", ""},
		{"programme: " + strings.Repeat("a", 81) + "\nmonday: A\nsquat: 3x8", 1, 12, "80 characters", ""},
		{"week 2\nmonday: A\nsquat: 3x8", 1, 1, "week 1 is due here", ""},
		{"week 1\nmonday: A\nsquat: 3x8\nweek 1\n", 4, 1, "week 2 is due here", ""},
		{"weeks 1-27\nmonday: A\nsquat: 3x8", 1, 1, "at most 26 weeks", ""},
		{"week 1\nmonday: A\nsquat: 3x8\nweek 2 = week 2", 4, 1, `"week 2" is not understood`, "deload of week 1"},
		{"week 1 heavy\nmonday: A\nsquat: 3x8", 1, 1, `"heavy" is not understood`, ""},
		{"week 1\nmonday: A\nsquat: 3x8\nweek 2 = week 1\ntuesday: B\nsquat: 3x8", 5, 1, "repeats another", "Write the week out"},
		{top + "squat: 3x8\nnotes: late", 3, 8, "before its exercises", ""},
		{"week 1\nnotes: easy", 2, 8, "a week has no notes", ""},
		{top + strings.Repeat("squat: 1x8\n", 21), 22, 1, "at most 20 exercises", ""},
		{strings.Repeat("monday: A\nsquat: 1x8\n", 15), 29, 1, "at most 14 sessions", ""},
		{"monday: A\nsquat: 3\x00x8", 0, 0, "zero bytes", "UTF-8"},
		{strings.Repeat("#", maxProgrammeBytes+1), 0, 0, "larger than 1 MB", ""},
	} {
		_, err := ReadProgramme(c.text)
		all := fault.All(err)
		if len(all) == 0 {
			t.Errorf("%q is taken", clip(c.text))
			continue
		}
		e := all[0]
		if e.Kind != fault.Invalid || e.Row != c.line || e.At != c.at || !strings.Contains(e.Message, c.says) || !strings.Contains(e.Hint, c.and) {
			t.Errorf("%q gives %d:%d %q %q, want %d:%d %q %q", clip(c.text), e.Row, e.At, e.Message, e.Hint, c.line, c.at, c.says, c.and)
		}
	}
	_, err := ReadProgramme("monday: A\nsquat: 3\nbench: 3x8 kg\n")
	if want := `line 2, character 8: "3" is not understood. After`; err == nil || !strings.HasPrefix(err.Error(), want) || len(fault.All(err)) != 2 {
		t.Errorf("the error is %v, want every fault, the first beginning with %s", err, want)
	}
	if _, err := ReadProgramme(strings.Repeat("nonsense\n", 100)); len(fault.All(err)) != maxProgrammeFaults {
		t.Errorf("%d faults are named, want %d", len(fault.All(err)), maxProgrammeFaults)
	}
}

// drawProgramme makes any programme that the domain takes.
func drawProgramme(t *rapid.T) athlete.Programme {
	words := rapid.OneOf(
		rapid.SampledFrom([]string{
			"bench press", "week 1", "Monday", "session: x", "notes", "programme", "3 x 8", "- dip", "1. row", `say "when"`, `"quoted"`, "a # b", "#1",
			" padded ", "two  spaces", "line\nbreak", "tab\tbed", "é漢", "\u202eturned", "=1+1", "'tis", "x", "deload", "bad\xffbyte", "monday push", "curl-", "so: so",
		}),
		rapid.StringOfN(rapid.RuneFrom([]rune("ab Zé9,;.:=+-@'\"#\\/x×é漢\n")), 1, 12, -1).Filter(func(s string) bool { return strings.TrimSpace(s) != "" }),
	)
	notes := func(name string) string {
		if rapid.Bool().Draw(t, "no "+name) {
			return ""
		}
		return words.Draw(t, name)
	}
	p := athlete.Programme{
		Name: words.Draw(t, "name"), From: civil.Of(2026, 1, 1).AddDays(rapid.IntRange(-9000, 9000).Draw(t, "from")),
		Phase: rapid.SampledFrom(append(athlete.PhaseKinds(), "")).Draw(t, "phase"), Notes: notes("notes"),
	}
	session := func(label string) athlete.PlannedSession {
		s := athlete.PlannedSession{Name: words.Draw(t, label+" name"), Notes: notes(label + " notes")}
		if d := rapid.IntRange(-1, 6).Draw(t, label+" day"); d >= 0 {
			s.Day = dayOf(time.Weekday(d))
		}
		for range rapid.IntRange(1, 3).Draw(t, label+" exercises") {
			e := athlete.PlannedExercise{Exercise: words.Draw(t, "exercise"), Sets: rapid.IntRange(1, 15).Draw(t, "sets"), Notes: notes("exercise notes")}
			e.RepsLow = rapid.IntRange(1, 50).Draw(t, "low")
			e.RepsHigh = rapid.IntRange(e.RepsLow, 50).Draw(t, "high")
			e.RestSeconds = rapid.IntRange(0, 900).Draw(t, "rest")
			if rapid.Bool().Draw(t, "has rir") {
				e.RIR = new(rapid.Float64Range(0, 10).Draw(t, "rir"))
			}
			s.Exercises = append(s.Exercises, e)
		}
		return s
	}
	for i := range rapid.IntRange(1, 4).Draw(t, "weeks") {
		switch kind := rapid.SampledFrom([]string{"new", "same", "deload"}).Draw(t, "kind"); {
		case i > 0 && kind == "same":
			p.Weeks = append(p.Weeks, p.Weeks[0].Copy())
		case i > 0 && kind == "deload":
			p.Weeks = append(p.Weeks, p.Weeks[i-1].AsDeload())
		default:
			w := athlete.ProgrammeWeek{Deload: rapid.Bool().Draw(t, "deload")}
			for j := range rapid.IntRange(0, 3).Draw(t, "sessions") {
				w.Sessions = append(w.Sessions, session(fmt.Sprint(i, j)))
			}
			p.Weeks = append(p.Weeks, w)
		}
	}
	return p
}

func TestProgrammeRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProgramme(t)
		if err := p.Validate(); err != nil {
			t.Fatal(err)
		}
		p.Version, p.Author = 3, "Wren"
		text := WriteProgramme(p)
		back, err := ReadProgramme(text)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		p.Version, p.Author = 0, ""
		if diff := cmp.Diff(p, back, cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("the programmes differ (-written +read):\n%s\n%s", diff, text)
		}
		if !utf8.ValidString(text) || WriteProgramme(back) != text {
			t.Fatalf("written again it is another text:\n%s", text)
		}
	})
}

// What a person reads in the written form is plain where it can be.
func TestWrittenProgrammeIsPlain(t *testing.T) {
	week := athlete.ProgrammeWeek{Sessions: []athlete.PlannedSession{{
		Name: "Upper: A", Day: dayOf(time.Monday), Notes: "one\ntwo",
		Exercises: []athlete.PlannedExercise{
			{Exercise: "incline bench press (30 degrees)", Sets: 3, RepsLow: 6, RepsHigh: 8, RIR: new(1.5), RestSeconds: 150, Notes: "pause: 2 s"},
			{Exercise: "week 4 special", Sets: 1, RepsLow: 5, RepsHigh: 5},
		},
	}}}
	got := WriteProgramme(athlete.Programme{
		Name: "Prep, four days", From: civil.Of(2026, 3, 2), Phase: athlete.PeakWeek, Version: 2, Author: "Wren",
		Weeks: []athlete.ProgrammeWeek{week, week, week.AsDeload(), {}},
	})
	want := `programme: Prep, four days
from: 2026-03-02
phase: peak week

week 1
  monday: Upper: A
    notes: one
    notes: two
    incline bench press (30 degrees): 3 x 6-8, 1.5 RIR, rest 150 s  # pause: 2 s
    "week 4 special": 1 x 5

week 2 = week 1

week 3 = deload of week 1

week 4
`
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func FuzzReadProgramme(f *testing.F) {
	f.Add("programme: x\nfrom: 2026-03-02\nphase: prep\nweek 1\n monday: A\n  squat: 3 x 6-8, 2 RIR, rest 150 s # slow\nweek 2 = deload of week 1\n")
	f.Add("weeks 1-3:\nday 1: \"A\\n\"\n\"3 x 8\" 3x8 @8 rest 2:30 (x)\nnotes: \"a\"\n")
	f.Add("Mon - A\r\n- squat 3×8–10, 1-2 RIR, 2'30\" rest\r\nweek 2 like 1")
	f.Fuzz(func(t *testing.T, text string) {
		p, err := ReadProgramme(text)
		if err != nil {
			all := fault.All(err)
			if len(all) == 0 || len(all) > maxProgrammeFaults+1 {
				t.Fatalf("%d faults: %v", len(all), err)
			}
			return
		}
		named := p
		if named.Name == "" {
			named.Name = "x"
		}
		if named.From.IsZero() {
			named.From = civil.Of(2026, 3, 2)
		}
		if err := named.Validate(); err != nil {
			t.Fatalf("what was read is not valid: %v", err)
		}
		back, err := ReadProgramme(WriteProgramme(p))
		if err != nil {
			t.Fatalf("%v\n%s", err, WriteProgramme(p))
		}
		if diff := cmp.Diff(p, back, cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("read again it differs:\n%s", diff)
		}
	})
}
