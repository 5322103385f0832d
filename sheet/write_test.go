package sheet

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// drawDay makes any day that the domain allows, its texts clean as reading leaves
// them. Energy is near what the macros give, as on real days: reading compares them.
func drawDay(t *rapid.T, on civil.Date) athlete.Day {
	number := func(name string, low, high float64) *float64 {
		if rapid.Bool().Draw(t, "no "+name) {
			return nil
		}
		v := rapid.Float64Range(low, high).Draw(t, name)
		if rapid.Bool().Draw(t, "round "+name) {
			v = math.Max(low, math.Min(high, math.Round(v*1000)/1000)) // three decimals, as in thousands
		}
		return new(v)
	}
	texts := rapid.StringOfN(rapid.RuneFrom([]rune("ab Zé9,;.=+-@'\"|/é漢")), 0, 12, -1)
	d := athlete.Day{
		Date: on, WeightKg: number("weight", 20, 500), ProteinG: number("protein", 1, 900), CarbohydrateG: number("carbohydrate", 1, 2500),
		FatG: number("fat", 1, 900), FibreG: number("fibre", 0, 250), SodiumMg: number("sodium", 0, 30000), Steps: number("steps", 0, 100000),
		SleepH: number("sleep", 0, 24), Hunger: number("hunger", 0, 10), Fatigue: number("fatigue", 0, 10),
		Soreness: number("soreness", 0, 10), Motivation: number("motivation", 0, 10), Mood: number("mood", 0, 10), Pain: number("pain", 0, 10),
		PainWhere: rapid.SampledFrom(append(athlete.Regions(), "")).Draw(t, "where"), RestingPulse: number("pulse", 20, 200),
		DayType: rapid.SampledFrom([]athlete.DayType{"", athlete.TrainingDay, athlete.RestDay, athlete.RefeedDay, athlete.DietBreakDay}).Draw(t, "type"),
		Notes:   cleanText("x"+texts.Draw(t, "notes"), maxNote)[1:],
	}
	d.Notes = strings.TrimSpace(d.Notes)
	if d.ProteinG != nil && d.CarbohydrateG != nil && d.FatG != nil {
		d.EnergyKcal = new(math.Min(15000, 4**d.ProteinG+4**d.CarbohydrateG+9**d.FatG))
	}
	for i := range rapid.IntRange(0, 3).Draw(t, "bouts") {
		b := athlete.CardioBout{Kind: rapid.SampledFrom(athlete.CardioKinds()).Draw(t, fmt.Sprint("kind", i)), Minutes: rapid.Float64Range(0.5, 600).Draw(t, fmt.Sprint("min", i))}
		b.SpeedKmh, b.GradePct, b.Watts = number("speed", 0, 60), number("grade", -30, 60), number("watts", 0, 2000)
		b.StepsPerMin, b.StepHeightCm = number("step rate", 1, 200), number("step height", 1, 60)
		if b.ClaimedKcal = number("claimed", 0, 6000); b.ClaimedKcal != nil {
			b.ClaimedBy = rapid.SampledFrom(append(athlete.ClaimSources(), "")).Draw(t, "claimed by")
		}
		if rapid.Bool().Draw(t, "other") {
			b.Kind, b.Code = athlete.OtherActivity, rapid.StringMatching(`[0-9]{5}`).Draw(t, "code")
		}
		d.Cardio = append(d.Cardio, b)
	}
	if rapid.Bool().Draw(t, "cycle") {
		d.CycleDay = new(rapid.IntRange(1, 120).Draw(t, "cycle day"))
	}
	if rapid.Bool().Draw(t, "stands") {
		d.WeightStands = &athlete.WeightStands{Use: rapid.Bool().Draw(t, "use"), Who: strings.TrimSpace(rapid.StringMatching(`[A-Z][a-z]{0,8}`).Draw(t, "who"))}
	}
	return d
}

func TestWriteDaysRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var days []athlete.Day
		on := civil.Of(2025, 1, 1)
		for range rapid.IntRange(1, 12).Draw(t, "days") {
			on = on.AddDays(rapid.IntRange(1, 40).Draw(t, "gap"))
			if d := drawDay(t, on); !d.Empty() {
				days = append(days, d)
			}
		}
		if len(days) == 0 {
			return
		}
		var b bytes.Buffer
		if err := WriteDays(&b, days); err != nil {
			t.Fatal(err)
		}
		text := b.String()
		tb, err := Open("days.csv", &b, Options{})
		if err != nil {
			t.Fatal(err)
		}
		m, err := Guess(tb, "", Hint{})
		if err != nil || m.Kind != Days || len(m.Questions) > 0 {
			t.Fatalf("guessed %q, %q, %v for\n%s", m.Kind, questions(m), err, text)
		}
		for _, c := range m.Columns {
			if c.Field == "" {
				t.Fatalf("column %q is not taken: %s", c.Heading, c.Reason)
			}
		}
		res, err := ReadDays(tb, m)
		if err != nil || len(res.Bad) > 0 {
			t.Fatalf("%v\n%s\nof\n%s", err, faults(res.Bad), text)
		}
		if diff := cmp.Diff(days, res.Values(), cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("the days differ (-written +read):\n%s\n%s", diff, text)
		}
	})
}

// A text that a spreadsheet would run as a formula is written as text (CSV
// injection, CWE-1236), and read back as it was.
func TestFormulaGuard(t *testing.T) {
	for in, want := range map[string]string{
		"=1+1": "'=1+1", "+49 30": "'+49 30", "-": "'-", "@x": "'@x", "'=x": "''=x", "-3.5": "-3.5", "+7": "+7", "'tis": "'tis", "a=b": "a=b", "": "",
	} {
		if got := guard(in); got != want || unguard(got) != in {
			t.Errorf("guard(%q) = %q, back %q; want %q", in, got, unguard(got), want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOf(rapid.RuneFrom([]rune("'=+-@1.a "))).Draw(t, "s")
		if strings.HasPrefix(s, "'") && guard(s) == s { // an apostrophe before a number is taken off
			return
		}
		if got := unguard(guard(s)); got != s {
			t.Fatalf("%q came back as %q", s, got)
		}
	})
}

func TestCleanText(t *testing.T) {
	for in, want := range map[string]string{
		"plain": "plain", "  two \t words\n": "two words", "a\x00b\x1bc": "abc", "\u202egnp.exe": "gnp.exe", "\ufeffx\u200b": "x", "é漢": "é漢", "\xff": "",
	} {
		if got := cleanText(in, 100); got != want {
			t.Errorf("cleanText(%q) = %q, want %q", in, got, want)
		}
	}
	if got := cleanText(strings.Repeat("é ", 100), 10); len([]rune(got)) > 10 {
		t.Errorf("cut to %q", got)
	}
}

// manyDays is a CSV of n daily rows of an invented athlete, in pounds, with
// thousands separators and dates in words of numbers.
func manyDays(n int) []byte {
	rng := rand.New(rand.NewPCG(1, 2))
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	_ = w.Write([]string{"Date", "Weight (lb)", "Calories", "Protein", "Carbs", "Fat", "Fibre", "Sodium (mg)", "Steps", "Bike (min)", "Sleep (hh:mm)", "Hunger (1-10)", "Day type", "Notes"})
	on := civil.Of(1950, 1, 1)
	for i := range n {
		_ = w.Write([]string{
			on.AddDays(i % 62000).Format("1/2/2006"), fmt.Sprintf("%.1f", 180+rng.NormFloat64()), fmt.Sprint(2000 + rng.IntN(400)), fmt.Sprint(180 + rng.IntN(9)),
			fmt.Sprint(200 + rng.IntN(40)), fmt.Sprint(60 + rng.IntN(9)), fmt.Sprint(30 + rng.IntN(9)), fmt.Sprint(2300 + rng.IntN(900)),
			fmt.Sprintf("9,%03d", rng.IntN(1000)), fmt.Sprint(20 + rng.IntN(20)), fmt.Sprintf("7:%02d", rng.IntN(60)), fmt.Sprint(1 + rng.IntN(9)), "training", "felt fine",
		})
	}
	w.Flush()
	return b.Bytes()
}

func BenchmarkReadDays(b *testing.B) {
	const n = 62000 // every date that is read, once
	data := manyDays(n)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		tb, err := Open("a.csv", bytes.NewReader(data), Options{})
		if err != nil {
			b.Fatal(err)
		}
		m, err := Guess(tb, "", Hint{WeightKg: 82})
		if err != nil || len(m.Questions) > 0 {
			b.Fatal(err, m.Questions)
		}
		res, err := ReadDays(tb, m)
		if err != nil || len(res.Good) != n {
			b.Fatal(err, len(res.Good), faults(res.Bad[:min(len(res.Bad), 3)]))
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n*1e5/1e9, "s/100krows")
}

func BenchmarkReadWorkbook(b *testing.B) {
	const n = 20000
	rows := [][]any{{"Date", "Weight (kg)", "Calories", "Protein", "Carbs", "Fat", "Steps"}}
	for i := range n {
		rows = append(rows, []any{25000 + i, 82.5, 2300, 180, 220, 65, 9000})
	}
	data := workbook(b, map[string][][]any{"A": rows}, "A")
	b.ReportAllocs()
	for b.Loop() {
		tb, err := Open("a.xlsx", bytes.NewReader(data), Options{})
		if err != nil {
			b.Fatal(err)
		}
		m, err := Guess(tb, Days, Hint{WeightKg: 82})
		if err != nil || len(m.Questions) > 0 {
			b.Fatal(err, m.Questions)
		}
		if res, err := ReadDays(tb, m); err != nil || len(res.Good) != n {
			b.Fatal(err, len(res.Good))
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n*1e5/1e9, "s/100krows")
}
