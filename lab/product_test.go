package lab

import (
	"context"
	"reflect"
	"testing"
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/decision"
	"glidepath/store"
)

// coached is the product by its use cases on a real database, as the command
// line and the pages have it: reviewed, and accepted by a coach.
type coached struct {
	app *app.App
	id  string
}

func (p *coached) week(on civil.Date, n news) (order, error) {
	ctx := context.Background()
	_, err := p.app.Record(ctx, p.id, app.Batch{
		Days: n.days, Measurements: n.measurements, Sets: n.sets, Sessions: n.sessions,
	}, app.Source{Name: "a test", At: on.Time()})
	if err != nil {
		return order{}, err
	}
	d, err := p.app.Review(ctx, p.id, on, app.Options{Futures: -1})
	if err != nil {
		return order{}, err
	}
	if a := d.Proposal.Action; a != decision.Change && a != decision.Begin {
		return order{}, nil
	}
	plan, err := p.app.Decide(ctx, p.id, on, app.Accepted, app.Edit{}, "", "a test")
	last := d.Reading.Daily[len(d.Reading.Daily)-1]
	return order{plan, last.TrendKg.Value, last.LeanKg.Value}, err
}

// The laboratory's short cut, a dossier on a store in memory, lives the same
// season as the use cases on a database.
func TestShortCutIsTheProduct(t *testing.T) {
	for _, m := range []Measuring{ScanGrade, EyeOnly} {
		c := &Cohort{Seed: 7, Measuring: m, Athletes: 2, CheckIntervals: true}
		short, err := c.Run(t.Context(), Product, nil)
		if err != nil {
			t.Fatal(err)
		}
		changes := 0
		for i := range short {
			long := lived(t, c, i)
			changes += long.Changes
			if len(short[i].Checks) == 0 {
				t.Errorf("no interval of athlete %d was checked", i)
			}
			long.Told, long.Checks = short[i].Told, short[i].Checks
			if !reflect.DeepEqual(short[i], long) {
				t.Errorf("short cut %+v\nuse cases %+v", short[i], long)
			}
		}
		if changes == 0 {
			t.Error("nothing was ever changed")
		}
	}
}

// lived is the season of an athlete under the use cases on a database.
func lived(t *testing.T, c *Cohort, i int) Outcome {
	t.Helper()
	st, err := store.OpenMemory(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := st.Close(); err != nil {
			t.Error(err)
		}
	}()
	s := c.draw(i)
	p := &coached{&app.App{Store: st, Now: func() time.Time { return firstDay.Time() }}, s.spec.Athlete.ID}
	if err := p.app.AddAthlete(t.Context(), s.spec.Athlete, firstDay, false); err != nil {
		t.Fatal(err)
	}
	out, err := s.live(i, p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// What is in the store in memory up to a date is what a database would give.
func TestMemoryGivesWhatIsDatedByThen(t *testing.T) {
	m := &memory{}
	for i := range 5 {
		d := athlete.Day{Date: firstDay.AddDays(i), WeightKg: new(80.0)}
		if i == 3 {
			d.WeightKg = nil // an empty day is not kept
		}
		if _, err := m.PutDays("", []athlete.Day{d}, app.Source{}); err != nil {
			t.Fatal(err)
		}
	}
	for to, want := range []int{1, 2, 3, 3, 4} {
		got, err := m.Days("", 0, firstDay.AddDays(to))
		if err != nil || len(got) != want {
			t.Errorf("to day %d: %d days, %v; want %d", to, len(got), err, want)
		}
	}
	p := athlete.Prescription{From: firstDay.AddDays(7)}
	if err := m.AddPrescription("", &p); err != nil || p.Version != 1 {
		t.Errorf("version %d, %v", p.Version, err)
	}
	if got, _ := m.Prescriptions("", firstDay); len(got) != 0 {
		t.Errorf("a prescription of next week stands today: %v", got)
	}
}
