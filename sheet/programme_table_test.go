package sheet

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// planTable opens and maps a programme that is a table.
func planTable(t testing.TB, name string, data []byte) (*Table, Mapping) {
	t.Helper()
	tb, err := ProgrammeTable(name, data, Options{})
	if err != nil || tb == nil {
		t.Fatalf("%s is no table: %v", name, err)
	}
	return tb, guess(t, tb, Programmes, Hint{})
}

func readPlan(t testing.TB, text string) (athlete.Programme, error) {
	t.Helper()
	tb, m := planTable(t, "plan.csv", []byte(text))
	if len(m.Questions) > 0 {
		t.Fatalf("asked %q", questions(m))
	}
	p, _, err := ReadProgrammeTable(tb, m)
	return p, err
}

// Tables as coaches write them (common practice, no source): every cell filled, or
// only where something changes; headings in other languages.
func TestReadProgrammeTable(t *testing.T) {
	squat := athlete.PlannedExercise{Exercise: "back squat", Sets: 3, RepsLow: 6, RepsHigh: 8, RIR: new(2.0), RestSeconds: 150, Notes: "pause"}
	curl := athlete.PlannedExercise{Exercise: "leg curl", Sets: 3, RepsLow: 10, RepsHigh: 10, RIR: new(1.5)}
	press := athlete.PlannedExercise{Exercise: "bench press", Sets: 4, RepsLow: 8, RepsHigh: 8}
	lower := athlete.PlannedSession{Name: "Lower", Day: dayOf(time.Monday), Exercises: []athlete.PlannedExercise{squat, curl}}
	upper := athlete.PlannedSession{Name: "Upper", Day: dayOf(time.Thursday), Exercises: []athlete.PlannedExercise{press}}
	both := []athlete.PlannedSession{lower, upper}
	for _, c := range []struct {
		name, text string
		want       []athlete.ProgrammeWeek
	}{
		{"every cell", `Week,Day,Session,Exercise,Sets,Reps,RIR,Rest (s),Notes
1,Monday,Lower,back squat,3,6-8,2,150,pause
1,Monday,Lower,leg curl,3,10,1-2,,
1,Thursday,Upper,bench press,4,8,,,
`, []athlete.ProgrammeWeek{{Sessions: both}}},
		{"only what changes", `Week,Day,Session,Exercise,Sets,Reps,RPE,Rest,Notes
Week 1-2,Mon,Lower,back squat,3,6 to 8,8,2:30,pause
,,,leg curl,3,10,8-9,,
,Thu.,Upper,bench press,4,8,,,
3 (deload),Mon,Lower,back squat,2,6 to 8,6,150 s,pause
`, []athlete.ProgrammeWeek{{Sessions: both}, {Sessions: both}, {Deload: true, Sessions: []athlete.PlannedSession{{
			Name: "Lower", Day: dayOf(time.Monday),
			Exercises: []athlete.PlannedExercise{{Exercise: "back squat", Sets: 2, RepsLow: 6, RepsHigh: 8, RIR: new(4.0), RestSeconds: 150, Notes: "pause"}},
		}}}}},
		{"German, minutes, sets with the repetitions", `Tag;Übung;Wdh;RIR;Pause (min);Notizen
Montag;back squat;3x6-8;2;2,5;pause
;leg curl;3 x 10;1,5;;
Donnerstag;bench press;4x8;;;
`, []athlete.ProgrammeWeek{{Sessions: []athlete.PlannedSession{
			{Name: "Monday", Day: lower.Day, Exercises: lower.Exercises}, {Name: "Thursday", Day: upper.Day, Exercises: upper.Exercises},
		}}}},
		{"no days, rows that head a session, session notes", `Session,Exercise,Target sets,Rep range,Deload,Session notes
Lower,,,,,warm up first
,back squat,3,6-8,,
,leg curl,3,10,,
Upper,bench press,4,8,,
`, []athlete.ProgrammeWeek{{Sessions: []athlete.PlannedSession{
			{Name: "Lower", Notes: "warm up first", Exercises: []athlete.PlannedExercise{
				{Exercise: "back squat", Sets: 3, RepsLow: 6, RepsHigh: 8}, {Exercise: "leg curl", Sets: 3, RepsLow: 10, RepsHigh: 10},
			}},
			{Name: "Upper", Exercises: upper.Exercises},
		}}}},
		{"numbered days, weeks by turns", `Week,Day,Exercise,Sets,Reps
1,1,bench press,4,8
2,1,bench press,4,8
1,1,leg curl,3,10
1,2,bench press,4,8
`, []athlete.ProgrammeWeek{
			{Sessions: []athlete.PlannedSession{
				{Name: "Day 1", Exercises: []athlete.PlannedExercise{press, {Exercise: "leg curl", Sets: 3, RepsLow: 10, RepsHigh: 10}}},
				{Name: "Day 2", Exercises: upper.Exercises},
			}},
			{Sessions: []athlete.PlannedSession{{Name: "Day 1", Exercises: upper.Exercises}}},
		}},
	} {
		p, err := readPlan(t, c.text)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		if diff := cmp.Diff(c.want, p.Weeks, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
}

// Rests of which nothing says the unit are told by their size, or asked about.
func TestRestUnits(t *testing.T) {
	for in, want := range map[string]string{"90,120,180": "s", "1.5,2,3": "min", "90,2 min": "s", "12,14,15": "min"} {
		text := "Exercise,Sets,Reps,Rest\n"
		for v := range strings.SplitSeq(in, ",") {
			text += "squat,3,8," + v + "\n"
		}
		_, m := planTable(t, "plan.csv", []byte(text))
		if got := m.fields(FieldRest)[0].Unit; string(got) != want || len(m.Questions) > 0 {
			t.Errorf("rests of %s are in %q, asked %q, want %s", in, got, questions(m), want)
		}
	}
	_, m := planTable(t, "plan.csv", []byte("Exercise,Sets,Reps,Rest\nsquat,3,8,90\ncurl,3,8,2\n"))
	if questions(m) != "rest-unit" {
		t.Errorf("rests of 90 and 2: asked %q", questions(m))
	}
}

// The whole is refused, each fault named by its row and column.
func TestProgrammeTableFaults(t *testing.T) {
	for _, c := range []struct{ rows, want string }{
		{"1,Monday,A,squat,3,8-Oct,2,", `row 2: column "Reps": "8-Oct" is a date. The spreadsheet made a date of it: write "6 to 8"`},
		{"1,Monday,A,squat,three,8,2,", `row 2: column "Sets": "three" is not a number.`},
		{"1,Monday,A,squat,3,,2,", `row 2: column "Reps": the exercise has no repetitions.`},
		{"1,Monday,A,squat,,8,2,", `row 2: column "Reps": "8" does not say how many sets.`},
		{"1,Monday,A,squat,3,3x8,2,", `row 2: column "Reps": "3x8": the sets stand here twice.`},
		{"1,Monday,A,squat,30,8,2,", `row 2: column "Sets": squat: 30 sets are outside 1 to 15.`},
		{"1,Monday,A,squat,3,8,12,", `row 2: column "RIR": 12 is outside 0 to 10`},
		{"1,Monday,A,squat,3,8,2,soon", `row 2: column "Rest (s)": "soon" is no time.`},
		{"Monday,Monday,A,squat,3,8,2,", `row 2: column "Week": "Monday" is not the number of a week.`},
		{"30,Monday,A,squat,3,8,2,", `row 2: column "Week": "30" is outside 1 to 26 weeks.`},
		{"2,Monday,A,squat,3,8,2,", `week 1 is missing`},
		{"1,Monday,A,,,,,", `"A" in week 1 has 0 exercises`},
		{"1,Monday,A,squat,3,8,2,\n2,,,squat,3,eight,2,", `row 3: column "Reps": "eight": "eight" is not understood.`},
	} {
		_, err := readPlan(t, "Week,Day,Session,Exercise,Sets,Reps,RIR,Rest (s)\n"+c.rows+"\n")
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s gives %v, want %s", c.rows, err, c.want)
		}
		for _, f := range fault.All(err) {
			if f.File != "plan.csv" || f.Kind != fault.Invalid {
				t.Errorf("%s: %+v", c.rows, f)
			}
		}
	}
	if tb, err := ProgrammeTable("plan.txt", []byte("monday: A, B\nsquat: 3x8, 2 RIR\n"), Options{}); tb != nil || err != nil {
		t.Errorf("plain text is taken for a table: %v, %v", tb, err)
	}
	if _, err := ProgrammeTable("plan.xls", []byte("\xd0\xcf\x11\xe0\xa1"), Options{}); fault.KindOf(err) != fault.Invalid {
		t.Errorf("an old workbook gives %v", err)
	}
	tb := open(t, "Week,Sets\n1,3\n", Options{})
	if _, _, err := ReadProgrammeTable(tb, guess(t, tb, Programmes, Hint{})); fault.KindOf(err) != fault.Unclear {
		t.Errorf("a table without exercises gives %v", err)
	}
}

// What is written as a sheet is read back, as CSV and as a workbook.
func TestProgrammeTableRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProgramme(t)
		clean := func(s string) string {
			s = cleanText(strings.ToValidUTF8(s, ""), maxNote)
			if blank(s) || emptyText(s) {
				return ""
			}
			return s
		}
		for i := range p.Weeks {
			for j := range p.Weeks[i].Sessions {
				s := &p.Weeks[i].Sessions[j]
				s.Name, s.Notes = fmt.Sprintf("%s %d", clean("S"+s.Name), j), clean(s.Notes)
				for k := range s.Exercises {
					e := &s.Exercises[k]
					if e.RIR != nil { // a workbook holds 15 digits
						*e.RIR = math.Round(*e.RIR*1000) / 1000
					}
					e.Exercise, e.Notes = "x"+clean(e.Exercise), clean(e.Notes)
				}
			}
		}
		for name, write := range map[string]func(*bytes.Buffer) error{
			"plan.csv":  func(b *bytes.Buffer) error { return WriteProgrammeCSV(b, p) },
			"plan.xlsx": func(b *bytes.Buffer) error { return WriteProgrammeWorkbook(b, p) },
		} {
			var b bytes.Buffer
			if err := write(&b); err != nil {
				t.Fatal(err)
			}
			tb, err := ProgrammeTable(name, b.Bytes(), Options{})
			if err != nil || tb == nil {
				t.Fatalf("%s: no table, %v\n%s", name, err, b.String())
			}
			m, err := Guess(tb, Programmes, Hint{})
			if err != nil || len(m.Questions) > 0 {
				t.Fatalf("%s: asked %q, %v\n%s", name, questions(m), err, b.String())
			}
			back, _, err := ReadProgrammeTable(tb, m)
			if len(weeksWithExercises(p)) == 0 {
				return
			}
			if err != nil {
				t.Fatalf("%s: %v\n%s", name, err, b.String())
			}
			if diff := cmp.Diff(p.Weeks, back.Weeks, cmpopts.EquateEmpty()); diff != "" {
				t.Fatalf("%s differs (-written +read):\n%s", name, diff)
			}
		}
	})
}

func weeksWithExercises(p athlete.Programme) (out []athlete.ProgrammeWeek) {
	for _, w := range p.Weeks {
		if len(w.Sessions) > 0 {
			out = append(out, w)
		}
	}
	return out
}

// The same programme gives the same bytes, so that an export can be compared.
func TestProgrammeWorkbookIsFixed(t *testing.T) {
	p := athlete.Programme{Name: "A/B: [1]*?", From: civil.Of(2026, 3, 2), Weeks: []athlete.ProgrammeWeek{{Sessions: []athlete.PlannedSession{
		{Name: "=1+1", Exercises: []athlete.PlannedExercise{{Exercise: "@squat", Sets: 3, RepsLow: 6, RepsHigh: 8}}},
	}}}}
	var a, b bytes.Buffer
	if err := WriteProgrammeWorkbook(&a, p); err != nil {
		t.Fatal(err)
	}
	if err := WriteProgrammeWorkbook(&b, p); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Errorf("%d and %d bytes differ, %v", a.Len(), b.Len(), err)
	}
	tb, m := planTable(t, "plan.xlsx", a.Bytes())
	back, _, err := ReadProgrammeTable(tb, m)
	if err != nil || tb.Sheet != "A B 1" || back.Weeks[0].Sessions[0].Name != "=1+1" {
		t.Errorf("sheet %q, %+v, %v", tb.Sheet, back.Weeks, err)
	}
	var c bytes.Buffer
	if err := WriteProgrammeCSV(&c, p); err != nil || c.String() != "Week,Day,Session,Exercise,Sets,Reps,RIR,Rest (s),Notes\n1,,'=1+1,'@squat,3,6 to 8,,,\n" {
		t.Errorf("%v\n%s", err, c.String())
	}
}
