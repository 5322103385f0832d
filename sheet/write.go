package sheet

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"glidepath/athlete"
	"glidepath/fault"
)

// whyHeading is the column that WriteRejected adds.
const whyHeading = "why"

// WriteRejected writes the rows that bad names as CSV, in the table's own columns
// and cells, with a last column that says what is wrong with each. Mended, the
// file can be read by the same mapping. Date cells of a workbook, which are day
// numbers, are written as ISO 8601 dates.
func WriteRejected(w io.Writer, t *Table, m Mapping, bad []*fault.Error) error {
	why := map[int][]string{}
	for _, e := range bad {
		where := ""
		if e.Column != "" {
			where = e.Column + ": "
		}
		reason := strings.TrimSpace(where + e.Message + " " + e.Hint)
		if !slices.Contains(why[e.Row], reason) { // sets and sessions find the same in a row
			why[e.Row] = append(why[e.Row], reason)
		}
	}
	out := csv.NewWriter(w)
	old := len(t.Headings)
	if old > 0 && foldHeading(t.Headings[old-1]) == whyHeading {
		old-- // the file was itself one of rejected rows
	}
	header := make([]string, 0, old+1)
	for _, h := range t.Headings[:old] {
		header = append(header, guard(h))
	}
	if err := out.Write(append(header, whyHeading)); err != nil {
		return err
	}
	if slices.ContainsFunc(t.Units, func(u string) bool { return u != "" }) {
		if err := out.Write(append(slices.Clone(t.Units[:old]), "")); err != nil {
			return err
		}
	}
	for i := range t.Rows {
		r := &t.Rows[i]
		reasons, rejected := why[r.Number]
		if !rejected {
			continue
		}
		record := make([]string, old, old+1)
		var beyond []string // stays beyond the headings, lest a shifted row pass for a right one
		for j, cell := range r.Cells {
			switch {
			case j < old:
				record[j] = guard(unguard(t.portable(cell, j, &m)))
			case j >= len(t.Headings):
				beyond = append(beyond, guard(unguard(cell)))
			}
		}
		record = append(record, guard(strings.Join(reasons, " | ")))
		if err := out.Write(append(record, beyond...)); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// portable is a cell as it can stand in a CSV file: a workbook's day numbers as
// dates, and its numbers so that no mark can be taken for a thousands separator.
func (t *Table) portable(cell string, column int, m *Mapping) string {
	if !t.workbook || column >= len(m.Columns) || m.Columns[column].Field == "" {
		return cell
	}
	if m.Columns[column].Field == FieldDate {
		if w := takeDate(cell); w.form == serialDate {
			return (&dates{date1904: t.date1904, swapped: m.SwapDateCells}).fromSerial(w.serial).String()
		}
		return cell
	}
	if v, plain := plainNumber(cell); plain {
		return decimals(v)
	}
	return cell
}

// dayColumns are the single columns of an export, in order, with headings that
// state their units.
var dayColumns = []struct {
	heading string
	field   Field
}{
	{"Weight (kg)", FieldWeight},
	{"Energy (kcal)", FieldEnergy},
	{"Protein (g)", FieldProtein},
	{"Carbohydrate (g)", FieldCarbohydrate},
	{"Fat (g)", FieldFat},
	{"Fibre (g)", FieldFibre},
	{"Sodium (mg)", FieldSodium},
	{"Steps (count)", FieldSteps},
	{"Sleep (h)", FieldSleep},
	{"Hunger (1-10)", FieldHunger},
	{"Fatigue (1-10)", FieldFatigue},
	{"Soreness (1-10)", FieldSoreness},
	{"Motivation (1-10)", FieldMotivation},
	{"Mood (1-10)", FieldMood},
	{"Pain (0-10)", FieldPain},
	{"Resting pulse (bpm)", FieldRestingPulse},
}

// WriteDays writes days as CSV in SI units and ISO 8601 dates, such that Open,
// Guess and ReadDays give the same days again without a question. Cells are
// trimmed texts; a bout of no minutes is not written.
func WriteDays(w io.Writer, days []athlete.Day) error {
	bouts := 0
	for i := range days {
		bouts = max(bouts, len(days[i].Cardio))
	}
	header := []string{"Date"}
	for _, c := range dayColumns {
		header = append(header, c.heading)
	}
	columns := boutColumnsOf(days)
	for n := range bouts {
		for _, c := range columns {
			header = append(header, fmt.Sprintf("Cardio %d %s", n+1, c.heading))
		}
	}
	header = append(header, "Pain where", "Cycle day", "Day type", "Notes", "Weight stands", "Weight stands by")
	out := csv.NewWriter(w)
	if err := out.Write(header); err != nil {
		return err
	}
	record := make([]string, 0, len(header))
	for i := range days {
		record = dayRecord(record[:0], &days[i], bouts, columns)
		if err := out.Write(record); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// boutColumn is a column of an export that every stretch of cardio has.
type boutColumn struct {
	heading string
	cell    func(*athlete.CardioBout) string
}

var usualBoutColumns = []boutColumn{
	{"kind", func(b *athlete.CardioBout) string { return string(b.Kind) }},
	{"(min)", func(b *athlete.CardioBout) string { return decimals(b.Minutes) }},
	{"speed (km/h)", func(b *athlete.CardioBout) string { return optional(b.SpeedKmh) }},
	{"grade (%)", func(b *athlete.CardioBout) string { return optional(b.GradePct) }},
	{"power (W)", func(b *athlete.CardioBout) string { return optional(b.Watts) }},
}

// rareBoutColumns are written where some stretch has a value for them.
var rareBoutColumns = []boutColumn{
	{"step rate", func(b *athlete.CardioBout) string { return optional(b.StepsPerMin) }},
	{"step height (cm)", func(b *athlete.CardioBout) string { return optional(b.StepHeightCm) }},
	{"code", func(b *athlete.CardioBout) string { return guard(b.Code) }},
	{"claimed (kcal)", func(b *athlete.CardioBout) string { return optional(b.ClaimedKcal) }},
	{"claimed by", func(b *athlete.CardioBout) string { return string(b.ClaimedBy) }},
}

func boutColumnsOf(days []athlete.Day) []boutColumn {
	columns := slices.Clone(usualBoutColumns)
	for _, c := range rareBoutColumns {
		if slices.ContainsFunc(days, func(d athlete.Day) bool {
			return slices.ContainsFunc(d.Cardio, func(b athlete.CardioBout) bool { return c.cell(&b) != "" })
		}) {
			columns = append(columns, c)
		}
	}
	return columns
}

func dayRecord(record []string, d *athlete.Day, bouts int, columns []boutColumn) []string {
	record = append(record, d.Date.String())
	for _, c := range dayColumns {
		record = append(record, optional(*dayNumber(d, c.field)))
	}
	cardio := slices.DeleteFunc(slices.Clone(d.Cardio), func(b athlete.CardioBout) bool { return b.Minutes == 0 })
	for n := range bouts {
		for _, c := range columns {
			if n < len(cardio) {
				record = append(record, c.cell(&cardio[n]))
			} else {
				record = append(record, "")
			}
		}
	}
	cycle := ""
	if d.CycleDay != nil {
		cycle = strconv.Itoa(*d.CycleDay)
	}
	stands, by := "", ""
	if d.WeightStands != nil {
		stands, by = "leave out", guard(d.WeightStands.Who)
		if d.WeightStands.Use {
			stands = "use"
		}
	}
	return append(record, string(d.PainWhere), cycle, string(d.DayType), guard(d.Notes), stands, by)
}

func optional(v *float64) string {
	if v == nil {
		return ""
	}
	return decimals(*v)
}

// decimals writes a number exactly. One with three decimals gets a fourth, since
// elsewhere 2.350 may be two thousand.
func decimals(v float64) string {
	s := strconv.FormatFloat(v, 'f', -1, 64)
	if at := strings.IndexByte(s, '.'); at >= 0 && len(s)-at == 4 {
		s += "0"
	}
	return s
}
