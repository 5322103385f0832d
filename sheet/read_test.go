package sheet

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"

	"github.com/google/go-cmp/cmp"
)

func readDays(t testing.TB, text string, answers ...string) (*Table, Mapping, Result[athlete.Day]) {
	t.Helper()
	tb := open(t, text, Options{})
	m := guess(t, tb, Days, Hint{})
	answer(t, &m, answers...)
	res, err := ReadDays(tb, m)
	if err != nil {
		t.Fatalf("ReadDays: %v", err)
	}
	return tb, m, res
}

func answer(t testing.TB, m *Mapping, answers ...string) {
	t.Helper()
	for _, a := range answers {
		id, choice, _ := strings.Cut(a, "=")
		if err := m.Answer(id, choice); err != nil {
			t.Fatal(err)
		}
	}
}

func faults(bad []*fault.Error) string {
	var out []string
	for _, e := range bad {
		out = append(out, e.Error())
	}
	return strings.Join(out, "\n")
}

func asJSON(t testing.TB, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestReadDay(t *testing.T) {
	_, _, res := readDays(t, strings.Join([]string{
		"Date;Gewicht (kg);kJ;Eiweiß;KH;Fett;Ballaststoffe;Salz (g);Schritte;Cardio;Schlaf;Hunger /5;Müdigkeit (1-10);Ruhepuls;Cycle day;Day type;Notizen",
		"04.03.2025;82,5;9.832,4;180;220;70;30;5,5;10.234;30 min Rad; 7:45 ;3;4;52;12;Training;  gut\tgeschlafen ",
		"13.03.2025;;;;;;;;;laufen 20, gehen 30 min;;;;;;Ruhetag;",
		"14.03.2025;82;;;;;;;;off;-;;n/a;;;refeed;",
	}, "\n"))
	if len(res.Bad) > 0 {
		t.Fatalf("bad: %s", faults(res.Bad))
	}
	want := []string{
		`{"date":"2025-03-04","weight_kg":82.5,"energy_kcal":2350,"protein_g":180,"carbohydrate_g":220,"fat_g":70,"fibre_g":30,"sodium_mg":2200,"steps":10234,` +
			`"cardio":[{"kind":"cycling","minutes":30}],"sleep_h":7.75,"hunger":5.5,"fatigue":4,"resting_pulse":52,"cycle_day":12,"day_type":"training","notes":"gut geschlafen"}`,
		`{"date":"2025-03-13","cardio":[{"kind":"running","minutes":20},{"kind":"walking","minutes":30}],"day_type":"rest"}`,
		`{"date":"2025-03-14","weight_kg":82,"day_type":"refeed"}`,
	}
	for i, v := range res.Values() {
		v.EnergyKcal = rounded(v.EnergyKcal)
		if got := asJSON(t, v); got != want[i] {
			t.Errorf("row %v is\n%s, want\n%s", res.Good[i].Rows, got, want[i])
		}
	}
}

func rounded(v *float64) *float64 {
	if v == nil {
		return nil
	}
	return new(float64(int(*v*1000+0.5)) / 1000)
}

// Cardio in several columns: kinds in headings, in columns of their own, in cells.
func TestCardioColumns(t *testing.T) {
	for _, c := range []struct{ name, text, answer, want string }{
		{"kinds in headings", "Date,Walk (min),Bike (min)\n2025-01-01,30,20\n", "", "walking 30, cycling 20"},
		{"kind beside it", "Date,Cardio type,Cardio (min)\n2025-01-01,Incline treadmill,30\n", "", "incline walking 30"},
		{"two pairs", "Date,Cardio 1 type,Cardio 1 min,Cardio 2 type,Cardio 2 min\n2025-01-01,bike,20,stairs,10\n", "", "cycling 20, stair climbing 10"},
		{"two pairs of the same headings", "Date,Cardio type,Cardio min,Cardio type,Cardio min\n2025-01-01,bike,20,row,10\n", "", "cycling 20, rowing 10"},
		{"in the cell", "Date,Cardio\n2025-01-01,HIIT 15 + cross trainer 20 min\n", "", "intervals 15, elliptical 20"},
		{"in a column of kinds", "Date,Cardio type\n2025-01-01,20 min swim\n", "", "swimming 20"},
		{"hours", "Date,Walking (h)\n2025-01-01,1.5\n", "", "walking 90"},
		{"answered", "Date,LISS (min)\n2025-01-01,45\n", "cardio-kind=bike", "cycling 45"},
		{"speed and grade", "Date,Treadmill (min),Speed (mph),Incline (%)\n2025-01-01,40,3.0,10\n2025-01-02,0,3,10\n", "", "walking 40 4.83 km/h 10 %"},
		{"none", "Date,Bike (min),Weight (kg)\n2025-01-01,rest,80\n", "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			var answers []string
			if c.answer != "" {
				answers = append(answers, c.answer)
			}
			_, _, res := readDays(t, c.text, answers...)
			if len(res.Bad) > 0 {
				t.Fatal(faults(res.Bad))
			}
			var got []string
			for _, b := range res.Good[0].Value.Cardio {
				s := fmt.Sprintf("%s %g", b.Kind, b.Minutes)
				if b.SpeedKmh != nil {
					s += fmt.Sprintf(" %.2f km/h %g %%", *b.SpeedKmh, *b.GradePct)
				}
				got = append(got, s)
			}
			if strings.Join(got, ", ") != c.want {
				t.Errorf("read %q, want %q", got, c.want)
			}
		})
	}
}

// How the day felt, where it hurts, and what a machine or a watch claims. A scale of
// 1 to 5 is stretched to 1 to 10.
func TestFeltAndClaimed(t *testing.T) {
	_, _, res := readDays(t, strings.Join([]string{
		"Date,DOMS (1-5),Motivation,Mood,Pain (0-10),Pain where,Notes,Stairs (min),Step rate,Step height (in),Watch (kJ)",
		"2025-03-04,2,8,6.5,4,left knee,slept well,20,60,8,900",
		"2025-03-05,,,,0,none,,,,,",
		"2025-03-06,,,,3,Lower Back,,15,,,",
	}, "\n"))
	if len(res.Bad) > 0 {
		t.Fatal(faults(res.Bad))
	}
	want := []string{
		`{"date":"2025-03-04","cardio":[{"kind":"stair climbing","minutes":20,"steps_per_min":60,"step_height_cm":20.32,"claimed_kcal":215.105162524,"claimed_by":"watch"}],` +
			`"soreness":3.25,"motivation":8,"mood":6.5,"pain":4,"pain_where":"knee","notes":"slept well; pain: left knee"}`,
		`{"date":"2025-03-05","pain":0}`,
		`{"date":"2025-03-06","cardio":[{"kind":"stair climbing","minutes":15}],"pain":3,"pain_where":"lower back"}`,
	}
	for i, v := range res.Values() {
		if got := asJSON(t, v); got != want[i] {
			t.Errorf("read\n%s, want\n%s", got, want[i])
		}
	}
	// The kind "other" goes by its code, which a spreadsheet strips of its zero.
	_, _, res = readDays(t, strings.Join([]string{
		"Date,Cardio type,Cardio (min),Cardio code,Cardio kcal,Cardio claimed by,Pain where",
		"2025-03-04,other,30,1009,250,console,",
		"2025-03-05,other,30,,,,",
		"2025-03-06,bike,30,,250,my aunt,",
		"2025-03-07,bike,30,,,,soul",
		"2025-03-08,bike,30,,9000,,",
	}, "\n"))
	if got := asJSON(t, res.Values()); got != `[{"date":"2025-03-04","cardio":[{"kind":"other","minutes":30,"code":"01009","claimed_kcal":250,"claimed_by":"machine"}]}]` {
		t.Errorf("read %s", got)
	}
	for i, want := range []string{
		`row 3: column "Cardio code": a code of five digits goes with the kind "other"`, `row 4: column "Cardio claimed by": "my aunt" is neither a machine nor a watch.`,
		`row 5: column "Pain where": "soul" is not one place that is known. Known are neck, shoulder,`, `row 6: column "Cardio kcal": 9000 is outside 0 to 6000 kcal.`,
	} {
		if i >= len(res.Bad) || !strings.Contains(res.Bad[i].Error(), want) {
			t.Errorf("faults:\n%s\nwant %q", faults(res.Bad), want)
			break
		}
	}
	_, _, res = readDays(t, "Date,Pain,Pain where\n2025-03-04,3,knee\n2025-03-04,,hip\n")
	if len(res.Bad) != 2 || !strings.Contains(faults(res.Bad), "another pain where (knee and hip)") {
		t.Errorf("two places on a date: %s", faults(res.Bad))
	}
}

// What a form or a flag takes is read as a cell is.
func TestSetsByHand(t *testing.T) {
	for in, want := range map[string]string{"8": "[8]", "3x8": "[8 8 8]", "8/8/7": "[8 8 7]", "8, 7": "[8 7]", "8-10": "", "": ""} {
		if got, err := ReadReps(in); want != "" && (err != nil || fmt.Sprint(got) != want) || want == "" && fault.KindOf(err) != fault.Invalid {
			t.Errorf("ReadReps(%q) = %v, %v", in, got, err)
		}
	}
	for in, want := range map[string]float64{"60 kg": 60, "100lb": 45.359237, "BW": 0, "bodyweight": 0, "BW + 10 kg": 10, "60": -1, "heavy": -1, "BW+": -1} {
		if got, err := ReadLoad(in); want >= 0 && (err != nil || got != want) || want < 0 && fault.KindOf(err) != fault.Invalid {
			t.Errorf("ReadLoad(%q) = %v, %v", in, got, err)
		}
	}
	for in, want := range map[[2]string]float64{
		{"2", ""}: 2, {"1-2", ""}: 1.5, {"failure", ""}: 0, {"", "8"}: 2, {"", "8.5"}: 1.5, {"", "RPE 9"}: 1, {"3", "9"}: 3,
		{"", "4"}: -1, {"", "11"}: -1, {"many", ""}: -1, {"12", ""}: -1,
	} {
		got, err := ReadReserve(in[0], in[1])
		if want >= 0 && (err != nil || *got != want) || want < 0 && fault.KindOf(err) != fault.Invalid {
			t.Errorf("ReadReserve(%q) = %v, %v, want %v", in, got, err, want)
		}
	}
	if got, err := ReadReserve("", ""); got != nil || err != nil {
		t.Errorf("nothing gives %v, %v", got, err)
	}
	if got, err := ReadRegion("left knee"); got != athlete.Knee || err != nil {
		t.Errorf("%q, %v", got, err)
	}
	if _, err := ReadRegion("soul"); fault.KindOf(err) != fault.Invalid {
		t.Error(err)
	}
}

// Places in people's words (common practice, no source; other languages from memory).
func TestPlacesOfPain(t *testing.T) {
	for in, want := range map[string]athlete.Region{
		"Knee": athlete.Knee, "knees": athlete.Knee, "R shoulder": athlete.Shoulder, "upper-back": athlete.UpperBack, "low back": athlete.LowerBack,
		"back": athlete.LowerBack, "Lower back (left)": athlete.LowerBack, "Schulter": athlete.Shoulder, "épaule gauche": athlete.Shoulder, "rodilla": athlete.Knee,
		"achilles": athlete.Ankle, "groin": athlete.Hip, "heel": athlete.Foot, "knee and hip": "", "everywhere": "",
	} {
		if got, _, ok := regionOf(in); got != want || ok != (want != "") {
			t.Errorf("%q is %q, want %q", in, got, want)
		}
	}
	for _, r := range athlete.Regions() {
		if got, plain, _ := regionOf(string(r)); got != r || !plain {
			t.Errorf("%s is read as %q", r, got)
		}
	}
}

// Every fault of every row is named with its place, and how to mend it.
func TestBadRows(t *testing.T) {
	tb, m, res := readDays(t, strings.Join([]string{
		"Date,Weight (lb),kcal,Steps,Cardio (min),Cardio type,Day type,Notes",
		"13/01/2025,181,2100,9000,30,bike,training,fine",           // row 2
		"14/01/2025,abc,NaN,1e99,30,flying,holiday,\"all, wrong\"", // row 3
		"31/02/2025,181,2100,,,,,",                                 // row 4
		",181,2100,,,,,",                                           // row 5
		"15/01/2025,12,99999,-5,1000,bike,,",                       // row 6: outside the domain's bounds
		"16/01/2025,181,2100,9000,30,bike,training,too,many,cells", // row 7
		"17/01/2025,181 stones of it,#DIV/0!,,,,,",                 // row 8
		"18/01/2025,1810,,,,,,",                                    // row 9: 821 kg is outside 20 to 500
		"19/01/2025,820,,,,,,ten times too much passes: 372 kg",    // row 10
		"20/01/2025,\x01\u202e82,,,,,,",                            // row 11
		"Total,1810,,,,,,",                                         // row 12
		"21/01/2025,,,,,,,",                                        // row 13
		"22/01/2025," + strings.Repeat("9", 5000) + ",,,,,,",       // row 14
	}, "\n"), "cardio-kind=walking")
	want := []string{
		`log.csv: row 3: column "Weight (lb)": "abc" is not a number. Write digits only, or leave the cell empty.`,
		`log.csv: row 3: column "kcal": "NaN" is not a number. Write digits only, or leave the cell empty.`,
		`log.csv: row 3: column "Steps": "1e99": the number is too large.`,
		`log.csv: row 3: column "Day type": "holiday" is not a day type. Write training, rest, refeed or diet break.`,
		`log.csv: row 3: column "Cardio type": "flying" is not a kind of cardio. Known are walking, incline walking, running, cycling, stair climbing, elliptical, rowing, swimming, intervals, posing.`,
		`log.csv: row 4: column "Date": "31/02/2025": February 2025 has no day 31.`,
		`log.csv: row 5: column "Date": the row has values but no date.`,
		`log.csv: row 6: column "Weight (lb)": "12" in lb: 5.44310844 is outside 20 to 500 kg.`,
		`log.csv: row 6: column "kcal": 99999 is outside 0 to 15000 kcal.`,
		`log.csv: row 6: column "Steps": -5 is outside 0 to 100000 steps.`,
		`log.csv: row 6: column "Cardio (min)": 1000 is outside 0 to 600 minutes.`,
		`log.csv: row 7: the row has 10 cells, and the headings are 8; "many" has no heading. Put a value that holds the separator, such as a decimal comma, in quotation marks.`,
		`log.csv: row 8: column "Weight (lb)": "181 stones of it" is not a number. Write digits only, or leave the cell empty.`,
		`log.csv: row 8: column "kcal": "#DIV/0!" is a formula's error, not a value. Mend the formula or empty the cell.`,
		`log.csv: row 9: column "Weight (lb)": "1810" in lb: 821.0021897 is outside 20 to 500 kg.`,
		`log.csv: row 11: column "Weight (lb)": "\u0001\u202e82" is not a number. Write digits only, or leave the cell empty.`,
		`log.csv: row 14: column "Weight (lb)": "` + strings.Repeat("9", 60) + `…": the number is too large.`,
	}
	if diff := cmp.Diff(want, strings.Split(faults(res.Bad), "\n")); diff != "" {
		t.Errorf("faults (-want +got):\n%s", diff)
	}
	var good [][]int
	for _, g := range res.Good {
		good = append(good, g.Rows)
	}
	if fmt.Sprint(good) != "[[2] [10]]" {
		t.Errorf("good rows %v", good)
	}
	if diff := cmp.Diff([]string{"left out as totals or averages: row 12", "left out without any value: row 13"}, res.Notes); diff != "" {
		t.Errorf("notes (-want +got):\n%s", diff)
	}
	for _, e := range res.Bad {
		if e.Kind != fault.Invalid || e.File != "log.csv" || e.Row == 0 {
			t.Errorf("fault without kind or place: %+v", e)
		}
	}

	// The rejected rows, mended, are read by the same mapping.
	var b bytes.Buffer
	if err := WriteRejected(&b, tb, m, res.Bad); err != nil {
		t.Fatal(err)
	}
	again := open(t, b.String(), Options{})
	if Signature(again) != Signature(tb) || !m.Fits(again) || len(again.Rows) != 9 {
		t.Fatalf("the rejected rows do not fit the mapping: %q, %d rows", again.Headings, len(again.Rows))
	}
	if why := again.Rows[0].Cells[8]; !strings.Contains(why, `Weight (lb): "abc" is not a number.`) || !strings.Contains(why, " | kcal: ") {
		t.Errorf("why: %q", why)
	}
	mended := strings.Replace(b.String(), ",31/02/2025", ",28/02/2025", 1)
	mended = strings.Replace(mended, "\n31/02/2025", "\n28/02/2025", 1)
	res2, err := ReadDays(open(t, mended, Options{}), m)
	if err != nil || len(res2.Good) != 1 || res2.Good[0].Value.Date.String() != "2025-02-28" {
		t.Errorf("mended: %v, %v", res2.Good, err)
	}
}

func TestSameDateTwice(t *testing.T) {
	_, _, res := readDays(t, strings.Join([]string{
		"Date,Weight (kg),kcal,Bike (min),Notes",
		"2025-01-01,80,,,morning", "2025-01-01,,2100,,evening", "2025-01-01,80,2100,,", // merge
		"2025-01-02,80,,,", "2025-01-02,81,,,", // clash
		"2025-01-03,80,,20,", "2025-01-03,,,30,", // clash
		"2025-01-04,80,,20,", "2025-01-04,80,,20,", // the same row twice
	}, "\n"))
	if len(res.Good) != 2 || asJSON(t, res.Good[0].Value) != `{"date":"2025-01-01","weight_kg":80,"energy_kcal":2100,"notes":"morning; evening"}` || fmt.Sprint(res.Good[0].Rows) != "[2 3 4]" {
		t.Errorf("good: %s", asJSON(t, res.Good))
	}
	const hint = " Keep the right row, or add them up where a day is written in parts."
	want := []string{
		`log.csv: row 5: column "Weight (kg)": row 6 has the same date and another weight (80 and 81).` + hint,
		`log.csv: row 6: column "Weight (kg)": row 5 has the same date and another weight (80 and 81).` + hint,
		`log.csv: row 7: column "Bike (min)": row 8 has the same date and another cardio (20 min cycling and 30 min cycling).` + hint,
		`log.csv: row 8: column "Bike (min)": row 7 has the same date and another cardio (20 min cycling and 30 min cycling).` + hint,
	}
	if diff := cmp.Diff(want, strings.Split(faults(res.Bad), "\n")); diff != "" {
		t.Errorf("faults (-want +got):\n%s", diff)
	}
}

// Dates, numbers, percentages and times are stored in a workbook as numbers
// (ECMA-376 part 1, 18.17.4.1); formula cells have a cached value.
func TestWorkbookCells(t *testing.T) {
	serial := civil.Of(2025, 3, 4).DaysSince(civil.Of(1899, 12, 30))
	data := workbook(t, map[string][][]any{"Log": {
		{"Date", "Weight (kg)", "kcal", "Sleep", "Day type", "Notes"},
		{serial, 82.45, 2350, 0.3125, "training", "a", "a scribble"},
		{float64(serial) + 1.25, "82,5", "2,350", 0.34375, "rest", "=1+1"},
		{"6 March 2025", "82.500", 2350.5, "7:15", true, ""},
		{"Average", 82.4},
	}}, "Log")
	tb, err := Open("a.xlsx", bytes.NewReader(data), Options{})
	if err != nil {
		t.Fatal(err)
	}
	m := guess(t, tb, Days, Hint{})
	if questions(m) != "decimal" { // the texts 82,5 and 2,350 do not agree
		t.Fatalf("asked %q", questions(m))
	}
	answer(t, &m, "decimal=point")
	res, err := ReadDays(tb, m)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		`{"date":"2025-03-04","weight_kg":82.45,"energy_kcal":2350,"sleep_h":7.5,"day_type":"training","notes":"a"}`,
		`{"date":"2025-03-05","weight_kg":82.5,"energy_kcal":2350,"sleep_h":8.25,"day_type":"rest","notes":"=1+1"}`,
	}
	for i, v := range res.Values() {
		if got := asJSON(t, v); got != want[i] {
			t.Errorf("read\n%s, want\n%s", got, want[i])
		}
	}
	if got := faults(res.Bad); got != `a.xlsx: row 4: column "Day type": "1" is not a day type. Write training, rest, refeed or diet break.` {
		t.Errorf("faults: %s", got)
	}
	if !slices.Contains(res.Notes, "cells to the right of the headings were left out: row 2") {
		t.Errorf("notes %q", res.Notes)
	}
	var b bytes.Buffer
	if err := WriteRejected(&b, tb, m, []*fault.Error{{Row: 2, Message: "x"}}); err != nil || !strings.Contains(b.String(), "\n2025-03-04,82.45,2350,0.3125,training,a,") {
		t.Errorf("rejected: %v\n%s", err, b.String())
	}
}

func TestReadSets(t *testing.T) {
	tb := open(t, strings.Join([]string{
		"Date,Exercise,Weight (lb),Reps,RPE,Side,Notes,Session RPE,Duration (min)",
		"13/1/2025,Squat,225,5,8,,easy,7,75", // row 2
		",,225,5,8.5,,,,",                    // row 3: date and exercise of the row above
		",Split squat,50,10/9/8,9,left,,,",   // row 4: three sets
		"14/1/2025,Pull-up,BW,3x8,10,,,8,60", // row 5
		",Pull-up,BW+10,6,4,,,,",             // row 6: RPE too low to say
		"15/1/2025,Bench press,135,abc,,,,,", // row 7
		",Bench press,135,8,,,,,",            // row 8: held back
		"16/1/2025,,,,,,,6,45",               // row 9: a session only
		"17/1/2025,Row,100,8,11,,,5,",        // row 10
	}, "\n"), Options{})
	m := guess(t, tb, Training, Hint{})
	if len(m.Questions) > 0 {
		t.Fatalf("asked %q", questions(m))
	}
	sets, err := ReadSets(tb, m)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, r := range sets.Good {
		s := r.Value
		rir := "-"
		if s.RIR != nil {
			rir = fmt.Sprint(*s.RIR)
		}
		got = append(got, fmt.Sprintf("%d: %s %d %s %.2f x %d rir %s %s%s", r.Rows[0], s.Date, s.Order, s.Exercise, s.WeightKg, s.Reps, rir, s.Side, s.Notes))
	}
	// 225 lb is 102.06 kg, 50 lb 22.68 kg, 10 lb 4.54 kg (agreement of 1959); RIR is
	// 10 - RPE (Zourdos et al. 2016).
	want := []string{
		"2: 2025-01-13 1 Squat 102.06 x 5 rir 2 easy", "3: 2025-01-13 2 Squat 102.06 x 5 rir 1.5 ",
		"4: 2025-01-13 3 Split squat 22.68 x 10 rir 1 left", "4: 2025-01-13 4 Split squat 22.68 x 9 rir 1 left", "4: 2025-01-13 5 Split squat 22.68 x 8 rir 1 left",
		"5: 2025-01-14 1 Pull-up 0.00 x 8 rir 0 ", "5: 2025-01-14 2 Pull-up 0.00 x 8 rir 0 ", "5: 2025-01-14 3 Pull-up 0.00 x 8 rir 0 ",
		"6: 2025-01-14 4 Pull-up 4.54 x 6 rir - ",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("sets (-want +got):\n%s", diff)
	}
	wantBad := []string{
		`log.csv: row 7: column "Reps": "abc" is not a number of repetitions. Write one number, "3x8", or one for each set as in "8/8/7".`,
		`log.csv: row 8: held back: row 7 of the same date has a fault. Nothing is wrong here; mend that row and read both again.`,
		`log.csv: row 10: column "RPE": "11" is outside 0 to 10 of RPE.`,
	}
	if diff := cmp.Diff(wantBad, strings.Split(faults(sets.Bad), "\n")); diff != "" {
		t.Errorf("faults (-want +got):\n%s", diff)
	}
	sessions, err := ReadSessions(tb, m)
	if err != nil {
		t.Fatal(err)
	}
	if got := asJSON(t, sessions.Values()); got != `[{"date":"2025-01-13","minutes":75,"rpe":7},{"date":"2025-01-14","minutes":60,"rpe":8},{"date":"2025-01-16","minutes":45,"rpe":6}]` {
		t.Errorf("sessions %s", got)
	}
	if got := faults(sessions.Bad); got != `log.csv: row 10: column "Duration (min)": the session has an RPE but no minutes.` {
		t.Errorf("session faults: %s", got)
	}
}

func TestSetColumns(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"count of sets", "Date,Exercise,Weight (kg),Sets,Reps,RIR\n2025-01-01,Squat,100,3,5,1-2\n", "100x5@1.5 100x5@1.5 100x5@1.5"},
		{"columns of sets", "Date,Exercise,Weight (kg),Set 1 reps,Set 2 reps,Set 3 reps\n2025-01-01,Squat,100,5,5,\n", "100x5 100x5"},
		{"weights of sets", "Date,Exercise,Set 1 weight (kg),Set 1 reps,Set 2 weight (kg),Set 2 reps\n2025-01-01,Squat,100,5,102.5,4\n", "100x5 102.5x4"},
		{"count and list", "Date,Exercise,Weight (kg),Sets,Reps\n2025-01-01,Squat,100,3,\"8, 8, 7\"\n", "100x8 100x8 100x7"},
		{"failure", "Date,Exercise,Weight (kg),Reps,RIR\n2025-01-01,Curl,20,12,failure\n", "20x12@0"},
		{"planned, not done", "Date,Exercise,Weight (kg),Reps\n2025-01-01,Curl,,\n2025-01-01,Row,20,12\n", "20x12"},
		{"count and list disagree", "Date,Exercise,Weight (kg),Sets,Reps\n2025-01-01,Squat,100,3,8/8\n", `"8/8" has 2 numbers for 3 sets.`},
		{"range of reps", "Date,Exercise,Weight (kg),Reps\n2025-01-01,Squat,100,8-10\n", `"8-10" is not a number of repetitions.`},
		{"part of a rep", "Date,Exercise,Weight (kg),Reps\n2025-01-01,Squat,100,8.5\n", `"8.5" is not a whole number of repetitions.`},
		{"no reps", "Date,Exercise,Weight (kg),Reps\n2025-01-01,Squat,100,\n", `"100": there is a weight but no repetitions.`},
		{"no exercise", "Date,Exercise,Weight (kg),Reps\n2025-01-01,,100,5\n", `the set has no exercise.`},
		{"too many", "Date,Exercise,Weight (kg),Reps\n2025-01-01,Squat,100,500\n", `500 is outside 1 to 100 repetitions.`},
	} {
		t.Run(c.name, func(t *testing.T) {
			tb := open(t, c.text, Options{})
			res, err := ReadSets(tb, guess(t, tb, Training, Hint{}))
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, s := range res.Values() {
				g := fmt.Sprintf("%gx%d", s.WeightKg, s.Reps)
				if s.RIR != nil {
					g += fmt.Sprintf("@%g", *s.RIR)
				}
				got = append(got, g)
			}
			for _, e := range res.Bad {
				got = append(got, e.Message)
			}
			if strings.Join(got, " ") != c.want {
				t.Errorf("read %q, want %q", got, c.want)
			}
		})
	}
}

func TestReadMeasurements(t *testing.T) {
	tb := open(t, strings.Join([]string{
		"Date,Method,By,BF %,Chest (mm),Waist (in),Weight (lb),Notes",
		"13/1/2025,7-site calipers,Imani,12.3,8,32,180,morning",
		"13/1/2025,DEXA,clinic,14.1,,,,",
		"13/1/2025,calipers 7-site,Imani,,,,181,", // clashes with the first
		"14/1/2025,crystal ball,,12,,,,",
		"15/1/2025,,,12,,,,",
		"16/1/2025,tape,,,,320,,",
	}, "\n"), Options{})
	m := guess(t, tb, Measurements, Hint{})
	if len(m.Questions) > 0 {
		t.Fatalf("asked %q", questions(m))
	}
	res, err := ReadMeasurements(tb, m)
	if err != nil {
		t.Fatal(err)
	}
	if got := asJSON(t, res.Values()); got != `[{"date":"2025-01-13","method":"scan","by":"clinic","body_fat_pct":14.1}]` {
		t.Errorf("read %s", got)
	}
	for i, want := range []string{
		"row 2: column \"Weight (lb)\": row 4", "row 4: column \"Weight (lb)\": row 2", `row 5: column "Method": "crystal ball" is not a known method`,
		"row 6: column \"Method\": the measurement has no method", `row 7: column "Waist (in)": "320" in in: 812.8 is outside 10 to 250 cm`,
	} {
		if i >= len(res.Bad) || !strings.Contains(res.Bad[i].Error(), want) {
			t.Errorf("faults:\n%s\nwant %q", faults(res.Bad), want)
			break
		}
	}
}

func TestReadRefuses(t *testing.T) {
	tb := open(t, "Date,Weight (kg)\n2025-01-01,80\n", Options{})
	m := guess(t, tb, Days, Hint{})
	if _, err := ReadSets(tb, m); fault.KindOf(err) != fault.Invalid {
		t.Errorf("sets from a table of days: %v", err)
	}
	if _, err := ReadDays(open(t, "Date,Mass\n2025-01-01,80\n", Options{}), m); fault.KindOf(err) != fault.Invalid {
		t.Errorf("other headings: %v", err)
	}
	tm := guess(t, tb, Training, Hint{})
	answer(t, &tm, "weight-unit=kg")
	if _, err := ReadSets(tb, tm); fault.KindOf(err) != fault.Unclear {
		t.Errorf("sets without exercises: %v", err)
	}
	if res, err := ReadSessions(tb, tm); err != nil || len(res.Notes) != 1 {
		t.Errorf("sessions without columns: %v %v", res, err)
	}
}

// A formula cell gives the value stored with it (ECMA-376 part 1, 18.3.1.4: f and
// v), and is not reckoned: 1+1 would be 2. One that was never reckoned is empty.
func TestFormulaCells(t *testing.T) {
	data := workbook(t, map[string][][]any{"Log": {{"Date", "Weight (kg)", "Steps"}, {45720, 82.5, 9001}, {45721, 82.75, 9002}}}, "Log")
	data = edited(t, data, "xl/worksheets/sheet1.xml", "<v>82.5</v>", "<f>1+1</f><v>82.5</v>", "<v>82.75</v>", "<f>1+1</f>")
	tb, err := Open("a.xlsx", bytes.NewReader(data), Options{})
	if err != nil {
		t.Fatal(err)
	}
	res, err := ReadDays(tb, guess(t, tb, Days, Hint{}))
	if err != nil {
		t.Fatal(err)
	}
	if got := asJSON(t, res.Values()); got != `[{"date":"2025-03-04","weight_kg":82.5,"steps":9001},{"date":"2025-03-05","steps":9002}]` {
		t.Errorf("read %s, %s", got, faults(res.Bad))
	}
}

// In the 1904 date system (ECMA-376 part 1, 18.17.4.1) the same day has a number
// 1462 lower: 4 March 2025 is 45720 in one and 44258 in the other.
func TestWorkbookOf1904(t *testing.T) {
	data := workbook(t, map[string][][]any{"Log": {{"Date", "Weight (kg)"}, {45720 - 1462, 82.5}}}, "Log")
	data = edited(t, data, "xl/workbook.xml", "<workbookPr ", `<workbookPr date1904="1" `)
	tb, err := Open("a.xlsx", bytes.NewReader(data), Options{})
	if err != nil {
		t.Fatal(err)
	}
	m := guess(t, tb, Days, Hint{})
	res, err := ReadDays(tb, m)
	if err != nil || len(res.Good) != 1 || res.Good[0].Value.Date.String() != "2025-03-04" || m.Columns[0].Sample != "2025-03-04" {
		t.Errorf("read %v, %v, sample %q", res.Good, err, m.Columns[0].Sample)
	}
}

// edited replaces texts in a part of a workbook; each must be there.
func edited(t *testing.T, data []byte, part string, oldnew ...string) []byte {
	t.Helper()
	in, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	out := zip.NewWriter(&b)
	for _, f := range in.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		content, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if f.Name == part {
			for i := 0; i < len(oldnew); i += 2 {
				if !bytes.Contains(content, []byte(oldnew[i])) {
					t.Fatalf("%s has no %s:\n%s", part, oldnew[i], content)
				}
			}
			content = []byte(strings.NewReplacer(oldnew...).Replace(string(content)))
		}
		w, err := out.Create(f.Name)
		if err == nil {
			_, err = w.Write(content)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
