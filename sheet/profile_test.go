package sheet

import (
	"encoding/json"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

func exampleProfile(t testing.TB) []byte {
	t.Helper()
	b, err := os.ReadFile("testdata/profile.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Conversions by the International Yard and Pound Agreement (1959): 5 ft 6 in is
// 66 x 2.54 cm, 143 lb is 143 x 0.45359237 kg; 9800 kJ is 9800/4.184 kcal.
func TestReadProfile(t *testing.T) {
	a, err := ReadProfile("testdata/profile.yaml", exampleProfile(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"height", a.HeightCm, 66 * 2.54},
		{"weight", a.WeightKg, 143 * 0.45359237},
		{"maintenance", *a.MaintenanceEnergyKcal, 9800 / 4.184},
		{"stage weight", a.StageWeights[0].WeightKg, 121.5 * 0.45359237},
		{"waist", a.BodyFat[0].GirthsCm["waist"], 28 * 2.54},
		{"hip", a.BodyFat[0].GirthsCm["hip"], 96.5},
		{"thigh fold", a.BodyFat[0].FoldsMm["thigh"], 24},
		{"class limit", *a.Shows[1].ClassLimit.HeightLess, 105},
		{"protein", a.Limits.ProteinGPerKgFFM, 2.4},
	} {
		if math.Abs(c.got-c.want) > 1e-8 {
			t.Errorf("%s is %v, want %v", c.what, c.got, c.want)
		}
	}
	if a.ID != "mara" || a.BirthDate != civil.Of(1994, 5, 17) || a.TrainingDays[4].String() != "saturday" || a.Cardio[0] != athlete.InclineWalk ||
		!a.MenstrualCycle || a.Screening.Cautions[0] != athlete.BoneStressInjury || !a.Events[0].Maintenance {
		t.Errorf("read %+v", a)
	}
}

// The example shows every field there is.
func TestExampleProfileIsWhole(t *testing.T) {
	text := string(exampleProfile(t))
	for name := range yamlFields(reflect.TypeFor[athlete.Athlete]()) {
		alias := strings.TrimSuffix(strings.TrimSuffix(name, "_kg"), "_cm")
		if !strings.Contains(text, "\n"+name+":") && !strings.Contains(text, "\n"+alias+":") {
			t.Errorf("the example has no %s", name)
		}
	}
}

func TestProfileWrittenOtherwise(t *testing.T) {
	const yaml = "id: a\nname: A\nsex: male\nbirth_date: 1990-01-01\nHEIGHT\nWEIGHT\nweighed_on: 2025-01-01\ntraining_years: 5\nsteps_per_day: 8000\n" +
		"cardio_minutes_per_week: 0\ncardio_minutes_max: 200\nscreening: {answered_on: 2025-01-01}\n"
	for _, c := range []struct {
		height, weight string
		cm, kg         float64
	}{
		{"height_cm: 180", "weight_kg: 82.5", 180, 82.5},
		{"height: 180 cm", "weight: 82.5kg", 180, 82.5},
		{`height: 5'11"`, "weight: 12 st 7 lb", 71 * 2.54, 175 * 0.45359237},
		{"height: 5 ft 11 in", "weight: \"180 lb\"", 71 * 2.54, 180 * 0.45359237},
		{"height_cm: 71 in", "weight_kg: 180lbs", 71 * 2.54, 180 * 0.45359237},
	} {
		a, err := ReadProfile("a.yaml", []byte(strings.NewReplacer("HEIGHT", c.height, "WEIGHT", c.weight).Replace(yaml)))
		if err != nil || math.Abs(a.HeightCm-c.cm) > 1e-8 || math.Abs(a.WeightKg-c.kg) > 1e-8 {
			t.Errorf("%s, %s read as %v cm, %v kg, %v", c.height, c.weight, a.HeightCm, a.WeightKg, err)
		}
	}
	a, err := ReadProfile("a.yaml", exampleProfile(t))
	if err != nil {
		t.Fatal(err)
	}
	a.Name = "Ångström 😀 \"M\""
	for _, indent := range []string{"", "\t", "  "} {
		data, err := json.MarshalIndent(a, "", indent)
		if err != nil {
			t.Fatal(err)
		}
		back, err := ReadProfile("a.json", data)
		if diff := cmp.Diff(a, back, cmpopts.EquateEmpty()); err != nil || diff != "" {
			t.Errorf("JSON with indent %q: %v\n%s", indent, err, diff)
		}
	}
	bom := append([]byte("\xef\xbb\xbf"), exampleProfile(t)...)
	if _, err := ReadProfile("a.yaml", bom); err != nil {
		t.Errorf("with a byte-order mark: %v", err)
	}
}

func TestProfileFaults(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"id: a\nnmae: b\nshows:\n  - {dat: 2025-01-01}\n", "p.yaml: line 2, column 1: the field \"nmae\" is not known. Is it name?\np.yaml: line 4, column 6: the field \"dat\" is not known. Is it date?"},
		{"id: a\nxyzzy: 1\n", "line 2, column 1: the field \"xyzzy\" is not known."},
		{"id: a\nid: b\n", "line 2, column 1:"},
		{"id: [a\n", "line 1"},
		{"id: a\nweight: 80\n", "line 2, column 9: weight has no unit. Write it with one, or as weight_kg."},
		{"id: a\nweight: 80 litres\n", "line 2, column 9: weight: \"80 litres\" "},
		{"id: a\nheight_cm: 1800 mm\n", "in millimetres"},
		{"id: a\nheight_cm: tall\n", "line 2, column 12: height_cm: \"tall\" is not a number."},
		{"id: a\nbirth_date: 17.05.1994\n", "YYYY-MM-DD"},
		{"id: a\ntraining_years: many\n", "line 2, column 17"},
		{"id: a\ntraining_days: [someday]\n", "not a day of the week"},
		{"id: &x a\nname: *x\n", "anchors, aliases and tags are not read"},
		{"id: !!str a\n", "anchors, aliases and tags"},
		{"id: a\n---\nid: b\n", "more than one profile"},
		{"", "empty"},
		{"# nothing\n", "empty"},
		{"- a\n- b\n", "p.yaml"},
		{"just text", "p.yaml"},
		{"id: A B\nsex: x\n", "the id \"A B\" is not 1 to 40"},
		{"id: a\nheight_cm: .nan\n", "height_cm"},
		{"id: a\nheight_cm: .inf\n", "height_cm"},
		{"id: a\nweight_kg: 1e999\n", "p.yaml"},
		{strings.Repeat("[", 100000), "nested"},
		{"a: " + strings.Repeat("{a: ", 1000), "nested"},
		{strings.Repeat("- ", 50000), "nested"},
		{strings.Repeat("x", maxProfileBytes+1), "1 MB"},
		{"\x00\x00\x00\x00", "p.yaml"},
	} {
		_, err := ReadProfile("dir/p.yaml", []byte(c.text))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%.40q gave\n%v\nwant %q", c.text, err, c.want)
			continue
		}
		if fault.KindOf(err) == "" && len(fault.All(err)) == 0 {
			t.Errorf("%.40q: not a fault: %v", c.text, err)
		}
	}
}

// An athlete of any valid shape is read back as written.
func TestProfileRoundTrip(t *testing.T) {
	texts := rapid.StringOfN(rapid.RuneFrom([]rune("ab Zé9:#-'\"\\{}[]&*!|>%@`,?~=漢😀\n")), 1, 15, -1)
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		a := athlete.Athlete{
			ID: rapid.StringMatching(`[a-z0-9][a-z0-9-]{0,30}`).Draw(t, "id"), Name: texts.Draw(t, "name"), Sex: rapid.SampledFrom([]athlete.Sex{athlete.Female, athlete.Male}).Draw(t, "sex"),
			BirthDate: civil.Of(1980, 1, 1).AddDays(rapid.IntRange(0, 9000).Draw(t, "born")), HeightCm: f("cm", 120, 230), WeightKg: f("kg", 35, 220),
			TrainingYears: f("years", 0, 70), StepsPerDay: f("steps", 0, 60000), CardioMinutesMax: f("max", 0, 2500), CardioMinutesPerWeek: f("now", 0, 2500),
			TrainingDays: []athlete.Weekday{1, 3, 6}, Cardio: athlete.CardioKinds()[:rapid.IntRange(0, 10).Draw(t, "kinds")],
			FoodsLiked: rapid.SliceOfN(texts, 0, 3).Draw(t, "liked"), MenstrualCycle: rapid.Bool().Draw(t, "cycle"),
		}
		if rapid.Bool().Draw(t, "show") {
			a.Shows = []athlete.Show{{
				ID: "s", Name: texts.Draw(t, "show name"), Date: civil.Of(2025, 6, 14), TargetBodyFatPct: f("target", 10, 40), TargetStageWeight: new(f("stage", 35, 200)),
				ClassLimit: &athlete.ClassLimit{HeightLess: new(f("less", 90, 110)), AllowanceKg: f("allow", 0, 9)},
			}}
			a.BodyFat = []athlete.Measurement{{Date: civil.Of(2025, 1, 1), Method: athlete.Calipers7, By: texts.Draw(t, "by"), FoldsMm: map[string]float64{"chest": f("fold", 1, 90)}}}
			l := athlete.DefaultLimits(a.Sex)
			a.Limits = &l
		}
		if a.Validate() != nil {
			t.Skip("not a valid athlete")
		}
		out, err := WriteProfile(a)
		if err != nil {
			t.Fatal(err)
		}
		back, err := ReadProfile("a.yaml", out)
		if diff := cmp.Diff(a, back, cmpopts.EquateEmpty()); err != nil || diff != "" {
			t.Fatalf("%v\n%s\n%s", err, diff, out)
		}
	})
}

func FuzzReadProfile(f *testing.F) {
	f.Add(exampleProfile(f))
	for _, s := range []string{"id: a\nweight: 80 kg\n", "{\"id\": \"a\"}", "a: &a [*a, *a]\n", "? [a]\n: b\n", "id: |\n  a\n b", "<<: {a: b}\n", "folds_mm: {a: 1}\n", "height: 5'", "\xff\xfe"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		a, err := ReadProfile("p.yaml", data)
		if err != nil {
			if len(fault.All(err)) == 0 {
				t.Fatalf("not a fault: %v", err)
			}
			return
		}
		if err := a.Validate(); err != nil {
			t.Fatalf("read a profile that is not valid: %v", err)
		}
	})
}
