package sheet

import (
	"fmt"
	"strings"

	"glidepath/athlete"
)

// boutDetails are the fields of a stretch of cardio beside its minutes and kind.
var boutDetails = []Field{
	FieldCardioSpeed, FieldCardioGrade, FieldCardioWatts, FieldCardioStepRate, FieldCardioStep,
	FieldCardioCode, FieldCardioClaimed, FieldCardioBy,
}

// boutColumns are the columns of one stretch of cardio.
type boutColumns struct {
	minutes, kind *mappedColumn
	details       map[Field]*mappedColumn
}

func cardioPlan(mapped []mappedColumn) []boutColumns {
	groups := map[int]*boutColumns{}
	var order []int
	for i := range mapped {
		c := &mapped[i]
		if !c.spec.many {
			continue
		}
		if groups[c.Group] == nil {
			groups[c.Group] = &boutColumns{details: map[Field]*mappedColumn{}}
			order = append(order, c.Group)
		}
		g := groups[c.Group]
		switch c.Field {
		case FieldCardio:
			g.minutes = c
		case FieldCardioKind:
			g.kind = c
		default:
			g.details[c.Field] = c
		}
	}
	var plan []boutColumns
	for _, n := range order {
		if groups[n].minutes != nil {
			plan = append(plan, *groups[n])
		}
	}
	return plan
}

// bouts reads one stretch of cardio; a cell may hold several.
func (r *reader) bouts(p boutColumns) []athlete.CardioBout {
	s := r.cell(p.minutes.Column)
	if s == "" {
		return nil
	}
	kind := p.minutes.CardioKind
	if p.kind != nil {
		if word := r.cell(p.kind.Column); word != "" && !noCardio(word) {
			k, ok := cardioKindOf(word)
			if !ok && letters(word) == string(athlete.OtherActivity) {
				k, ok = athlete.OtherActivity, true
			}
			if !ok {
				r.reject(p.kind.Column, &cellError{"it is not a kind of cardio.", cardioHint()})
				return nil
			}
			if k != "" {
				kind = k
			}
		}
	}
	bouts, bad := cardioCell(s, kind, p.minutes.Unit, r.mark)
	if bad != nil {
		r.reject(p.minutes.Column, bad)
		return nil
	}
	if len(bouts) == 1 {
		r.details(p.details, &bouts[0])
	}
	return bouts
}

// details reads what else is known of a stretch of cardio.
func (r *reader) details(of map[Field]*mappedColumn, b *athlete.CardioBout) {
	if len(of) == 0 {
		return
	}
	for _, d := range []struct {
		field Field
		into  **float64
	}{
		{FieldCardioSpeed, &b.SpeedKmh},
		{FieldCardioGrade, &b.GradePct},
		{FieldCardioWatts, &b.Watts},
		{FieldCardioStepRate, &b.StepsPerMin},
		{FieldCardioStep, &b.StepHeightCm},
		{FieldCardioClaimed, &b.ClaimedKcal},
	} {
		r.detail(of[d.field], d.into)
	}
	if c := of[FieldCardioCode]; c != nil {
		b.Code = activityCode(r.cell(c.Column))
	}
	if b.ClaimedKcal == nil {
		return
	}
	b.ClaimedBy = claimSource(of[FieldCardioClaimed].Heading)
	if c := of[FieldCardioBy]; c != nil {
		if word := r.cell(c.Column); word != "" {
			if b.ClaimedBy = claimSource(word); b.ClaimedBy == "" {
				r.reject(c.Column, &cellError{"it is neither a machine nor a watch.", `Write "machine" or "watch".`})
			}
		}
	}
}

// activityCode is a code of five digits; a spreadsheet takes zeros off its front.
func activityCode(s string) string {
	s = cleanText(s, maxName)
	if n := digitRun(s); n == len(s) && n > 0 && n < 5 {
		return strings.Repeat("0", 5-n) + s
	}
	return s
}

// claimSource tells what claimed an energy by people's words, "" where they do not
// say.
func claimSource(words string) athlete.ClaimSource {
	for w := range strings.FieldsFuncSeq(foldHeading(strings.ToLower(words)), func(x rune) bool { return x < 'a' || x > 'z' }) {
		switch w {
		case "machine", "console", "display", "treadmill", "bike", "stepper", "ergometer", "gerat", "geraet":
			return athlete.ByMachine
		case "watch", "tracker", "wristband", "band", "uhr", "montre", "reloj", "orologio":
			return athlete.ByWatch
		}
	}
	return ""
}

// boutBounds are wide bounds on what the domain does not bound itself; judgement.
var boutBounds = map[Field]span{
	FieldCardioSpeed: {KmPerHour, 0, 60}, FieldCardioGrade: {Percent, -30, 60}, FieldCardioWatts: {Watt, 0, 2000},
}

func (r *reader) detail(c *mappedColumn, into **float64) {
	if c == nil {
		return
	}
	if s := r.cell(c.Column); s != "" {
		if v, ok := r.quantity(c, s); ok {
			if p, bounded := boutBounds[c.Field]; bounded && (v < p.low || v > p.high) {
				r.reject(c.Column, &cellError{fmt.Sprintf("it is outside %g to %g %s.", p.low, p.high, p.unit), ""})
				return
			}
			*into = new(v)
		}
	}
}
