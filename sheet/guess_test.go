package sheet

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// Headings as coaches and athletes write them (common practice, no source; other
// languages from memory). An empty field is a heading that must not be taken.
func TestHeadings(t *testing.T) {
	for _, c := range []struct {
		kind    Kind
		heading string
		field   Field
		unit    Unit
	}{
		{Days, "Weight", FieldWeight, ""},
		{Days, "Weight (lb)", FieldWeight, Pound},
		{Days, "BW kg", FieldWeight, Kg},
		{Days, "bodyweight", FieldWeight, ""},
		{Days, "Body-weight [lbs]", FieldWeight, Pound},
		{Days, "WeightKg", FieldWeight, Kg},
		{Days, "lbs", FieldWeight, Pound},
		{Days, "AM weight", FieldWeight, ""},
		{Days, "Wieght", FieldWeight, ""},
		{Days, "Weigth (kg)", FieldWeight, Kg},
		{Days, "Weigh-in", FieldWeight, ""},
		{Days, "Scale weight", FieldWeight, ""},
		{Days, "Gewicht", FieldWeight, ""},
		{Days, "Körpergewicht (kg)", FieldWeight, Kg},
		{Days, "Poids", FieldWeight, ""},
		{Days, "Peso corporal", FieldWeight, ""},
		{Days, "Vikt", FieldWeight, ""},
		{Days, "Weight goal", "", ""},
		{Days, "Weight change", "", ""},
		{Days, "7 day avg weight", "", ""},
		{Days, "Evening weight", "", ""},
		{Days, "Weekly average", "", ""},
		{Days, "kcal", FieldEnergy, Kcal},
		{Days, "Calories", FieldEnergy, Kcal},
		{Days, "Cals", FieldEnergy, Kcal},
		{Days, "Total calories", FieldEnergy, Kcal},
		{Days, "Energy (kJ)", FieldEnergy, KJ},
		{Days, "Energy", FieldEnergy, ""},
		{Days, "Calroies", FieldEnergy, ""},
		{Days, "Calories in", FieldEnergy, Kcal},
		{Days, "Kalorien", FieldEnergy, Kcal},
		{Days, "Energie (kJ)", FieldEnergy, KJ},
		{Days, "Calories burned", "", ""},
		{Days, "Goal kcal", "", ""},
		{Days, "Energy level", "", ""},
		{Days, "Energy (1-10)", "", ""},
		{Days, "Cardio calories", FieldCardioClaimed, Kcal},
		{Days, "Machine kcal", FieldCardioClaimed, Kcal},
		{Days, "Watch (kJ)", FieldCardioClaimed, KJ},
		{Days, "Cardio 2 claimed by", FieldCardioBy, ""},
		{Days, "Step height (cm)", FieldCardioStep, Cm},
		{Days, "Step rate", FieldCardioStepRate, ""},
		{Days, "Calories out", "", ""},
		{Days, "Protein", FieldProtein, ""},
		{Days, "Protien (g)", FieldProtein, Gram},
		{Days, "Eiweiß", FieldProtein, ""},
		{Days, "Protéines", FieldProtein, ""},
		{Days, "Protein target", "", ""},
		{Days, "Carbs g", FieldCarbohydrate, Gram},
		{Days, "Carbohydrates", FieldCarbohydrate, ""},
		{Days, "Carbohydates", FieldCarbohydrate, ""},
		{Days, "Net carbs", "", ""},
		{Days, "Kohlenhydrate", FieldCarbohydrate, ""},
		{Days, "Glucides", FieldCarbohydrate, ""},
		{Days, "Fat", FieldFat, ""},
		{Days, "Fats (g)", FieldFat, Gram},
		{Days, "Fett", FieldFat, ""},
		{Days, "Lipides", FieldFat, ""},
		{Days, "Saturated fat", "", ""},
		{Days, "Body fat", "", ""},
		{Days, "Fiber", FieldFibre, ""},
		{Days, "Fibre (g)", FieldFibre, Gram},
		{Days, "Sodium mg", FieldSodium, Milligram},
		{Days, "Salt (g)", FieldSodium, Gram},
		{Days, "Steps", FieldSteps, ""},
		{Days, "Step count", FieldSteps, ""},
		{Days, "Steps (k)", FieldSteps, Thousand},
		{Days, "Step goal", "", ""},
		{Days, "Schritte", FieldSteps, ""},
		{Days, "Cardio (min)", FieldCardio, Minute},
		{Days, "Treadmill mins", FieldCardio, Minute},
		{Days, "Bike", FieldCardio, ""},
		{Days, "Incline walk (min)", FieldCardio, Minute},
		{Days, "HIIT", FieldCardio, ""},
		{Days, "LISS", FieldCardio, ""},
		{Days, "Cardio type", FieldCardioKind, ""},
		{Days, "Cardio 2 kind", FieldCardioKind, ""},
		{Days, "Running (km)", "", ""},
		{Days, "Speed mph", FieldCardioSpeed, MilePerHour},
		{Days, "Sleep (hrs)", FieldSleep, Hour},
		{Days, "Hours slept", FieldSleep, Hour},
		{Days, "Sleep (hh:mm)", FieldSleep, ""},
		{Days, "Sleep quality", "", ""},
		{Days, "Schlaf", FieldSleep, ""},
		{Days, "Hunger (1-10)", FieldHunger, OneToTen},
		{Days, "hunger /5", FieldHunger, OneToFive},
		{Days, "Fatigue", FieldFatigue, ""},
		{Days, "Soreness (1-10)", FieldSoreness, OneToTen},
		{Days, "DOMS", FieldSoreness, ""},
		{Days, "Muskelkater", FieldSoreness, ""},
		{Days, "Courbatures /5", FieldSoreness, OneToFive},
		{Days, "Motivation", FieldMotivation, ""},
		{Days, "Motivación", FieldMotivation, ""},
		{Days, "Mood", FieldMood, ""},
		{Days, "Stimmung (1-10)", FieldMood, OneToTen},
		{Days, "Pain (0-10)", FieldPain, OneToTen},
		{Days, "Schmerzen", FieldPain, ""},
		{Days, "Douleur", FieldPain, ""},
		{Days, "Pain where", FieldPainWhere, ""},
		{Days, "Pain location", FieldPainWhere, ""},
		{Days, "Pain killers", "", ""},
		{Days, "Today's weight", FieldWeight, ""},
		{Days, "RHR", FieldRestingPulse, ""},
		{Days, "Resting HR (bpm)", FieldRestingPulse, BeatsPerMin},
		{Days, "Max HR", "", ""},
		{Days, "Cycle day", FieldCycleDay, ""},
		{Days, "Day type", FieldDayType, ""},
		{Days, "Notes", FieldNotes, ""},
		{Days, "Date (dd/mm/yyyy)", FieldDate, ""},
		{Days, "Datum", FieldDate, ""},
		{Days, "Fecha", FieldDate, ""},
		{Days, "Water (l)", "", ""},
		{Days, "Glucose", "", ""},
		{Days, "", "", ""},
		{Training, "Exercise", FieldExercise, ""},
		{Training, "Excercise", FieldExercise, ""},
		{Training, "Übung", FieldExercise, ""},
		{Training, "Load (kg)", FieldWeight, Kg},
		{Training, "Weight (lbs)", FieldWeight, Pound},
		{Training, "Reps", FieldReps, ""},
		{Training, "Set 2 reps", FieldReps, ""},
		{Training, "Target reps", "", ""},
		{Training, "Sets", FieldSets, ""},
		{Training, "RIR", FieldRIR, ""},
		{Training, "Reps in reserve", FieldRIR, ""},
		{Training, "RPE", FieldRPE, ""},
		{Training, "Session RPE", FieldSessionRPE, ""},
		{Training, "sRPE", FieldSessionRPE, ""},
		{Training, "Duration (min)", FieldSessionMinutes, Minute},
		{Training, "Side", FieldSide, ""},
		{Training, "Set", "", ""},
		{Programmes, "Week", FieldWeek, ""},
		{Programmes, "Woche", FieldWeek, ""},
		{Programmes, "Day", FieldDay, ""},
		{Programmes, "Workout", FieldSession, ""},
		{Programmes, "Übung", FieldExercise, ""},
		{Programmes, "Target sets", FieldSets, ""},
		{Programmes, "Rep range", FieldReps, ""},
		{Programmes, "Target RIR", FieldRIR, ""},
		{Programmes, "Rest (s)", FieldRest, Second},
		{Programmes, "Pause (min)", FieldRest, Minute},
		{Programmes, "Rest (sec)", FieldRest, Second},
		{Programmes, "Weight (kg)", "", ""},
		{Measurements, "BF %", FieldBodyFat, Percent},
		{Measurements, "Body fat", FieldBodyFat, ""},
		{Measurements, "Körperfett", FieldBodyFat, ""},
		{Measurements, "Method", FieldMethod, ""},
		{Measurements, "Measured by", FieldBy, ""},
		{Measurements, "Triceps", "fold.triceps", ""},
		{Measurements, "Subscap (mm)", "fold.subscapular", Mm},
		{Measurements, "Chest (mm)", "fold.chest", Mm},
		{Measurements, "Chest girth", "girth.chest", ""},
		{Measurements, "Waist (in)", "girth.waist", Inch},
		{Measurements, "Abdominal skinfold", "fold.abdomen", ""},
		{Measurements, "Thigh", "site.thigh", ""},
		{Measurements, "Upper arm cm", "girth.arm", Cm},
		{Measurements, "Biceps circumference", "girth.arm", ""},
		{Measurements, "Mid-axillary", "fold.axilla", ""},
		{Measurements, "Iliac crest fold", "fold.suprailium", ""},
		{Measurements, "Fat mass (kg)", "", ""},
		{Measurements, "Hip (lb)", "", ""},
	} {
		h := parseHeading(c.heading)
		m := matchHeading(c.kind, h)
		if m.field != c.field || c.field != "" && h.unit != c.unit {
			t.Errorf("%s %q = %q in %q (%s), want %q in %q", c.kind, c.heading, m.field, h.unit, m.reason, c.field, c.unit)
		}
		if m.reason == "" || (m.field == "") != (m.confidence == 0) {
			t.Errorf("%s %q: confidence %v, reason %q", c.kind, c.heading, m.confidence, m.reason)
		}
	}
}

func guess(t testing.TB, tb *Table, k Kind, h Hint) Mapping {
	t.Helper()
	m, err := Guess(tb, k, h)
	if err != nil {
		t.Fatalf("Guess: %v", err)
	}
	return m
}

// questions lists what is asked, as id or id=likely.
func questions(m Mapping) string {
	var out []string
	for _, q := range m.Questions {
		s := q.ID
		if q.Likely != "" {
			s += "=" + q.Likely
		}
		out = append(out, s)
	}
	return strings.Join(out, " ")
}

// What is clear is read, what is not is asked: never silently guessed.
func TestQuestions(t *testing.T) {
	for _, c := range []struct {
		name, text string
		kind       Kind
		hint       Hint
		want       string // the questions
		check      string // order, decimal mark and unit of the second column where clear
	}{
		{"days above 12, day first", "Date,Weight (kg)\n13/02/2025,80\n01/02/2025,81\n", Days, Hint{}, "", "dmy point kg"},
		{"days above 12, month first", "Date,Weight (kg)\n02/13/2025,80\n01/02/2025,81\n", Days, Hint{}, "", "mdy point kg"},
		{"no day above 12", "Date,Weight (kg)\n01/02/2025,80\n05/02/2025,81\n", Days, Hint{}, "date-order", ""},
		{"no day above 12, day after day", "Date,Weight (kg)\n01/02/2025,80\n02/02/2025,81\n03/02/2025,81\n", Days, Hint{}, "date-order=dmy", ""},
		{"orders mixed", "Date,Weight (kg)\n13/02/2025,80\n02/14/2025,81\n15/02/2025,81\n", Days, Hint{}, "date-order=dmy", ""},
		{"heading states the order", "Date (dd/mm/yyyy),Weight (kg)\n01/02/2025,80\n", Days, Hint{}, "", "dmy point kg"},
		{"ISO 8601", "Date,Weight (kg)\n2025-02-01,80\n", Days, Hint{}, "", " point kg"},
		{"short years, year last", "Date,Weight (kg)\n13.02.25,80\n14.02.25,81\n", Days, Hint{}, "", "dmy point kg"},
		{"short years, year first", "Date,Weight (kg)\n25-02-13,80\n25-02-14,81\n", Days, Hint{}, "", "ymd point kg"},
		{"short years, one row", "Date,Weight (kg)\n25-02-13,80\n", Days, Hint{}, "date-order", ""},
		{"no year", "Date,Weight (kg)\n13/2,80\n14/2,81\n", Days, Hint{On: civil.Of(2025, 3, 1)}, "year", ""},
		{"no dates", "When was it,Weight (kg),Steps\nearly,80,9000\nlate,80,9000\nlater,80,9000\n", Days, Hint{}, "date-column", ""},
		{"dates without heading", "x,Weight (kg)\n2025-02-01,80\n2025-02-02,80\n", Days, Hint{}, "", " point kg"},

		{"weight without unit", "Date,Weight\n2025-02-01,80\n2025-02-02,81\n", Days, Hint{}, "weight-unit", ""},
		{"weight without unit, imperial athlete", "Date,Weight\n2025-02-01,80\n", Days, Hint{Units: athlete.Imperial}, "weight-unit=lb", ""},
		{"weight known, kg", "Date,Weight\n2025-02-01,80\n2025-02-02,81\n", Days, Hint{WeightKg: 82}, "", " point kg"},
		{"weight known, lb", "Date,Weight\n2025-02-01,180\n2025-02-02,181\n", Days, Hint{WeightKg: 82}, "", " point lb"},
		{"weight known, st", "Date,Weight\n2025-02-01,12.9\n2025-02-02,12.8\n", Days, Hint{WeightKg: 82}, "", " point st"},
		{"kg only by magnitude", "Date,Weight\n2025-02-01,55\n2025-02-02,56\n", Days, Hint{}, "", " point kg"},
		{"lb only by magnitude", "Date,Weight\n2025-02-01,231\n2025-02-02,232\n", Days, Hint{}, "", " point lb"},
		{"kg and lb mixed", "Date,Weight\n2025-02-01,80\n2025-02-02,180\n2025-02-03,80\n", Days, Hint{WeightKg: 82}, "weight-unit=kg", ""},
		{"one lb among kg", "Date,Weight\n" + rowsOf(20, "80") + "2025-03-01,176\n", Days, Hint{WeightKg: 82}, "", " point kg"},
		{"heading against the athlete", "Date,Weight (kg)\n2025-02-01,180\n2025-02-02,181\n", Days, Hint{WeightKg: 82}, "weight-unit=lb", ""},
		{"each with its unit", "Date,Weight\n2025-02-01,80 kg\n2025-02-02,180 lb\n", Days, Hint{}, "", " point "},

		{"energy, both units possible", "Date,Energy\n2025-02-01,3200\n2025-02-02,3300\n", Days, Hint{}, "energy-unit", ""},
		{"energy, kcal by size", "Date,Energy\n2025-02-01,1900\n2025-02-02,2100\n", Days, Hint{}, "", " point kcal"},
		{"energy, kJ by size", "Date,Energy\n2025-02-01,8900\n2025-02-02,9100\n", Days, Hint{}, "", " point kJ"},
		{"energy, kcal by macros", "Date,Energy,Protein,Carbs,Fat\n" + rowsOf(3, "3200,200,400,90"), Days, Hint{}, "", " point kcal"},
		{"energy, kJ by macros", "Date,Energy,Protein,Carbs,Fat\n" + rowsOf(3, "5200,120,90,45"), Days, Hint{}, "", " point kJ"},
		{"calories that are kJ", "Date,Calories,Protein,Carbs,Fat\n" + rowsOf(3, "5200,120,90,45"), Days, Hint{}, "energy-unit=kJ", ""},
		{"a feeling of energy", "Date,Energy,Weight (kg)\n2025-02-01,7,80\n2025-02-02,6,80\n", Days, Hint{}, "", " point "},

		{"decimal commas", "Datum;Gewicht (kg)\n2025-02-01;80,5\n", Days, Hint{}, "", " comma kg"},
		{"thousands point", "Datum;Schritte\n2025-02-01;10.234\n2025-02-02;8.900\n2025-02-03;312\n", Days, Hint{}, "", " comma count"},
		{"thousands or decimals", "Datum;Fett\n2025-02-01;1.234\n", Days, Hint{}, "", " point g"},
		{"decimals or thousands", "Date;Protein (g);Sodium (mg)\n2025-02-01;50;200.500\n2025-02-02;50;1.200\n", Days, Hint{}, "decimal=comma", ""},
		{"decimals or thousands, and so the unit", "Date;Sodium\n2025-02-01;2.300\n", Days, Hint{}, "decimal=comma sodium-unit", ""},
		{"three decimals", "Date,kcal\n2025-02-01,600\n2025-02-02,\"601,000\"\n", Days, Hint{}, "", " comma kcal"},
		{"thousands comma, energy", "Date,Calories\n2025-02-01,\"2,350\"\n", Days, Hint{}, "", " point kcal"},
		{"thousands point, energy", "Date;kcal\n2025-02-01;2.350\n", Days, Hint{}, "", " comma kcal"},
		{"both marks", "Date;Weight (kg);kcal\n2025-02-01;80.5;2100\n2025-02-02;80,5;2.350\n", Days, Hint{}, "decimal=comma", ""},

		{"sleep in hours", "Date,Sleep\n2025-02-01,7.5\n2025-02-02,8\n", Days, Hint{}, "", " point h"},
		{"sleep in minutes", "Date,Sleep\n2025-02-01,430\n2025-02-02,480\n", Days, Hint{}, "", " point min"},
		{"sodium in grams", "Date,Sodium\n2025-02-01,2.3\n2025-02-02,2.8\n", Days, Hint{}, "", " point g"},
		{"salt", "Date,Salt (g)\n2025-02-01,6\n", Days, Hint{}, "", " point g-salt"},
		{"salt in mg is not sodium", "Date,Salt (mg),Steps\n2025-02-01,6000,9000\n", Days, Hint{}, "", " point "},
		{"hunger up to 5", "Date,Hunger\n" + rowsOf(10, "3") + "2025-03-01,5\n", Days, Hint{}, "hunger-unit", ""},
		{"hunger up to 8", "Date,Hunger\n" + rowsOf(10, "3") + "2025-03-01,8\n", Days, Hint{}, "", " point 1-10"},
		{"cardio of no kind", "Date,Cardio\n2025-02-01,30\n", Days, Hint{}, "cardio-kind", ""},
		{"cardio with kinds", "Date,Cardio\n2025-02-01,30 min bike\n", Days, Hint{}, "", " point "},
		{"speed without unit", "Date,Walking (min),Speed\n2025-02-01,30,5\n", Days, Hint{}, "cardio-speed-unit", ""},

		{"bar weights", "Date,Exercise,Weight,Reps\n2025-02-01,Squat,100,5\n", Training, Hint{Units: athlete.Metric}, "weight-unit=kg", ""},
		{"bar weights in lb", "Date,Weight (lb),Exercise,Reps\n2025-02-01,225,Squat,5\n", Training, Hint{}, "", " point lb"},
		{"body fat, no method", "Date,BF\n2025-02-01,15\n", Measurements, Hint{}, "method", ""},
		{"body fat as a fraction", "Date,BF,Method\n2025-02-01,0.153,dxa\n", Measurements, Hint{}, "", " point fraction"},
		{"waist in cm", "Date,Waist\n2025-02-01,81\n", Measurements, Hint{}, "", " point cm"},
		{"waist in inches", "Date,Waist\n2025-02-01,32\n", Measurements, Hint{}, "", " point in"},
		{"thigh alone", "Date,Thigh,Method\n2025-02-01,24,tape\n", Measurements, Hint{}, "site-thigh", ""},
		{"three folds, method by columns", "Date,Triceps,Suprailiac,Thigh\n2025-02-01,12,10,18\n", Measurements, Hint{}, "", " point mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := guess(t, open(t, c.text, Options{}), c.kind, c.hint)
			if got := questions(m); got != c.want {
				t.Fatalf("asked %q, want %q", got, c.want)
			}
			if got := fmt.Sprintf("%s %s %s", m.DateOrder, m.Decimal, m.Columns[1].Unit); c.check != "" && got != c.check {
				t.Errorf("read as %q, want %q", got, c.check)
			}
			for _, q := range m.Questions {
				if q.Text == "" || q.Likely != "" && !slices.ContainsFunc(q.Choices, func(o Choice) bool { return o.Value == q.Likely }) {
					t.Errorf("question %+v offers what it does not have", q)
				}
			}
		})
	}
}

// rowsOf makes n rows of February 2025 with the same cells.
func rowsOf(n int, cells string) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "%s,%s\n", civil.Of(2025, 2, 1).AddDays(i), cells)
	}
	return b.String()
}

func TestGuessKind(t *testing.T) {
	for _, c := range []struct {
		headings string
		want     Kind
	}{
		{"Date,Weight,Calories,Protein", Days},
		{"Date,Exercise,Weight,Reps", Training},
		{"Date,Waist,Hip,Neck", Measurements},
		{"Date,BF %,Weight", Measurements},
		{"Date,Session RPE,Duration", Training},
		{"Date,Weight", ""},
	} {
		m := guess(t, open(t, c.headings+"\n2025-01-01,1,1,1\n", Options{}), "", Hint{})
		if m.Kind != c.want || c.want == "" && questions(m) != "kind" {
			t.Errorf("%s is %q with %q, want %q", c.headings, m.Kind, questions(m), c.want)
		}
	}
}

// Answers and the flags that set columns lead to the same mapping as guessing.
func TestAnswersAndSets(t *testing.T) {
	tb := open(t, "Day of it,Mass,Cals,Run\n01/02/2025,180,3200,30\n02/02/2025,181,3300,\n", Options{})
	m := guess(t, tb, Days, Hint{Columns: []string{"day of it=date", "Run=cardio:min:running"}})
	if got := questions(m); got != "date-order=dmy weight-unit" {
		t.Fatalf("asked %q", got)
	}
	if _, err := ReadDays(tb, m); fault.KindOf(err) != fault.Unclear || !strings.Contains(err.Error(), "date-order=dmy|mdy") {
		t.Errorf("read in spite of open questions: %v", err)
	}
	for _, c := range []struct{ id, choice string }{{"date-order", "later"}, {"weight-unit", "kcal"}, {"nothing", "x"}, {"energy-level", "1"}} {
		if err := m.Answer(c.id, c.choice); err == nil {
			t.Errorf("%s=%s was taken", c.id, c.choice)
		}
	}
	for _, c := range []struct{ id, choice string }{{"Date-Order", "DMY"}, {"weight-unit", "pounds"}} {
		if err := m.Answer(c.id, c.choice); err != nil {
			t.Errorf("%s=%s: %v", c.id, c.choice, err)
		}
	}
	data, err := json.Marshal(m)
	var kept Mapping
	if err == nil {
		err = json.Unmarshal(data, &kept)
	}
	if err != nil || !reflect.DeepEqual(kept.Columns, m.Columns) || !kept.Fits(tb) {
		t.Fatalf("the mapping does not survive JSON: %v", err)
	}
	res, err := ReadDays(tb, kept)
	if err != nil || len(res.Good) != 2 || len(res.Bad) != 0 {
		t.Fatalf("read %v, %v, %v", res.Good, res.Bad, err)
	}
	d := res.Good[0].Value
	if d.Date.String() != "2025-02-01" || fmt.Sprintf("%.4f", *d.WeightKg) != "81.6466" || d.Cardio[0] != (athlete.CardioBout{Kind: athlete.Running, Minutes: 30}) {
		t.Errorf("day read as %+v", d)
	}
	if err := m.Set("Mass="); err != nil || m.has(FieldWeight) {
		t.Errorf("leaving a column out: %v", err)
	}
	if err := m.Set("column b=weight"); err != nil || questions(m) != "weight-unit" {
		t.Errorf("setting a column without a unit: %v, asked %q", err, questions(m))
	}
	if err := m.Set("Cals=weight:kg"); err != nil || questions(m) != "" || m.Columns[1].Field != "" {
		t.Errorf("a second weight column: %v, %q, %+v", err, questions(m), m.Columns[1])
	}
	for _, bad := range []string{"Mass", "Nope=weight", "Mass=length", "Mass=weight:cm", "Mass=weight:kg:running", "Run=cardio:min:flying"} {
		if err := m.Set(bad); fault.KindOf(err) == "" {
			t.Errorf("Set(%q) = %v", bad, err)
		}
	}
	if (&Mapping{Kind: Days, Columns: []Column{{Heading: "x", Field: FieldDate}}}).Fits(tb) {
		t.Error("a mapping of other headings fits")
	}
}

func TestSiteAnswer(t *testing.T) {
	tb := open(t, "Date,Thigh,Method\n2025-02-01,24,tape\n", Options{})
	for _, c := range []struct{ choice, want string }{{"fold", "fold.thigh 24"}, {"girth-in", "girth.thigh 60.96"}} {
		m := guess(t, tb, Measurements, Hint{})
		if err := m.Answer("site-thigh", c.choice); err != nil {
			t.Fatal(err)
		}
		res, err := ReadMeasurements(tb, m)
		if err != nil || len(res.Good) != 1 {
			t.Fatalf("%v %v", res.Bad, err)
		}
		v := res.Good[0].Value
		if got := fmt.Sprintf("%s %v", m.Columns[1].Field, v.FoldsMm["thigh"]+v.GirthsCm["thigh"]); got != c.want {
			t.Errorf("%s gave %s, want %s", c.choice, got, c.want)
		}
	}
}

// A spreadsheet set to month first turned 04/02/2025 (4 February) into a date cell
// of 2 April and left 13/02/2025 as text: known behaviour of spreadsheets, from
// memory.
func TestSwappedDateCells(t *testing.T) {
	apr2, mar2 := civil.Of(2025, 4, 2), civil.Of(2025, 3, 2)
	serial := func(d civil.Date) int { return d.DaysSince(civil.Of(1899, 12, 30)) }
	data := workbook(t, map[string][][]any{"Log": {
		{"Date", "Weight (kg)"}, {serial(mar2), 80}, {serial(apr2), 80.1}, {"13/02/2025", 80.2}, {"14/02/2025", 80.3},
	}}, "Log")
	tb, err := Open("a.xlsx", bytes.NewReader(data), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for choice, want := range map[string]string{"swap": "2025-02-03 2025-02-04 2025-02-13 2025-02-14", "keep": "2025-03-02 2025-04-02 2025-02-13 2025-02-14"} {
		m := guess(t, tb, Days, Hint{})
		if questions(m) != "swapped-dates=swap" {
			t.Fatalf("asked %q", questions(m))
		}
		if err := m.Answer("swapped-dates", choice); err != nil {
			t.Fatal(err)
		}
		res, err := ReadDays(tb, m)
		var got []string
		for _, r := range res.Good {
			got = append(got, r.Value.Date.String())
		}
		if err != nil || strings.Join(got, " ") != want {
			t.Errorf("%s gave %v, %v; want %s", choice, got, err, want)
		}
	}
}

func TestDescribeMapping(t *testing.T) {
	m := guess(t, open(t, "Date,BW (lb),Protien,Weather\n1/13/2025,181.5,180,ok\n", Options{}), Days, Hint{})
	var got []string
	for _, l := range DescribeMapping(m) {
		got = append(got, fmt.Sprintf("%s|%s|%s|%s|%s", l.Column, l.Field, l.Unit, l.Example, l.Sure))
	}
	want := []string{
		"Date|date||1/13/2025 = 2025-01-13|sure", "BW (lb)|weight|lb|181.5 = 82.33 kg|sure", "Protien|protein|g|180 = 180 g|please check", "Weather|||ok|",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// A kept mapping serves the next file with the same headings, but not blindly.
func TestReuse(t *testing.T) {
	const first = "Date,Weight,Steps,Cardio\n01/02/2025,80,9000,30\n02/02/2025,81,9000,30\n"
	m := guess(t, open(t, first, Options{}), Days, Hint{})
	answer(t, &m, "date-order=dmy", "weight-unit=kg", "cardio-kind=walking")
	for _, c := range []struct {
		name, text string
		hint       Hint
		want       string
		order      string
	}{
		{"the same manner", "Date,Weight,Steps,Cardio\n03/02/2025,80,9000,20\n", Hint{WeightKg: 80}, "", "dmy"},
		{"now in pounds", "Date,Weight,Steps,Cardio\n03/02/2025,176,9000,20\n", Hint{WeightKg: 80}, "weight-unit=lb", "dmy"},
		{"now month first", "Date,Weight,Steps,Cardio\n02/13/2025,80,9000,20\n", Hint{WeightKg: 80}, "", "mdy"},
		{"now without years", "Date,Weight,Steps,Cardio\n3/2,80,9000,20\n", Hint{WeightKg: 80}, "year", "dmy"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := Reuse(open(t, c.text, Options{}), m, c.hint)
			if err != nil || questions(got) != c.want || got.DateOrder != c.order || got.Columns[3].CardioKind != athlete.Walking {
				t.Errorf("asked %q, order %q, %v; want %q, %q", questions(got), got.DateOrder, err, c.want, c.order)
			}
		})
	}
	if m.Columns[1].Confidence != 1 || m.Columns[1].Sample != "80" {
		t.Errorf("reusing changed the kept mapping: %+v", m.Columns[1])
	}
	if _, err := Reuse(open(t, "Date,Mass\n2025-01-01,80\n", Options{}), m, Hint{}); fault.KindOf(err) != fault.Invalid {
		t.Errorf("other headings: %v", err)
	}
	late := guess(t, open(t, "Date,Weight (kg),Sodium\n2025-02-01,80,\n", Options{}), Days, Hint{})
	again, err := Reuse(open(t, "Date,Weight (kg),Sodium\n2025-02-01,80,2.3\n", Options{}), late, Hint{})
	if err != nil || late.Columns[2].Unit != "" || again.Columns[2].Unit != Gram {
		t.Errorf("a unit first needed now is %q, %v", again.Columns[2].Unit, err)
	}
}
