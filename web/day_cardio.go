package web

import (
	"slices"
	"strings"

	"glidepath/athlete"
	"glidepath/fault"
)

// mostBouts is how many stretches of cardio a day can have here.
const mostBouts = 4

// otherKind goes before the code of an activity that is none of the kinds.
const otherKind = string(athlete.OtherActivity) + " "

// boutParts are the parts of a stretch of cardio as they are typed: "30 elliptical,
// machine 320 kcal" is 30 minutes, and the claim of a machine.
type boutParts struct{ Minutes, Kind, Claim, By string }

func (p boutParts) text() string {
	out := p.Minutes + " " + p.Kind
	if p.Claim != "" {
		by := p.By
		if by == "" {
			by = string(athlete.ByMachine)
		}
		out += ", " + by + " " + p.Claim + " kcal"
	}
	return out
}

// readBout takes a stretch apart. A part that is not there is empty.
func readBout(text string) (p boutParts) {
	text, claim, _ := strings.Cut(strings.TrimSpace(text), ", ")
	p.Minutes, p.Kind, _ = strings.Cut(text, " ")
	p.Kind = strings.TrimSpace(p.Kind)
	p.By, p.Claim, _ = strings.Cut(strings.TrimSpace(claim), " ")
	p.Claim = strings.TrimSpace(strings.TrimSuffix(p.Claim, "kcal"))
	return p
}

// boutsText writes cardio as "30 walking, watch 140 kcal; 20.5 cycling".
func boutsText(bouts []athlete.CardioBout) string {
	parts := make([]string, len(bouts))
	for i, b := range bouts {
		p := boutParts{Minutes: shortNumber(b.Minutes), Kind: string(b.Kind), By: string(b.ClaimedBy)}
		if b.Code != "" {
			p.Kind = otherKind + b.Code
		}
		if b.ClaimedKcal != nil {
			p.Claim = shortNumber(*b.ClaimedKcal)
		}
		parts[i] = p.text()
	}
	return strings.Join(parts, "; ")
}

// setCardio reads what boutsText writes. A stretch that was there already keeps
// what the page does not ask, as its speed.
func setCardio(put *athlete.Day, text string, now *athlete.Day, _ athlete.Units) error {
	known := slices.Clone(now.Cardio)
	for part := range strings.SplitSeq(text, ";") {
		p := readBout(part)
		if p.Minutes == "" {
			continue
		}
		b, err := p.bout()
		if err != nil {
			return err
		}
		if i := slices.IndexFunc(known, func(o athlete.CardioBout) bool {
			return o.Kind == b.Kind && o.Code == b.Code && shortNumber(o.Minutes) == shortNumber(b.Minutes)
		}); i >= 0 {
			claimed, by := b.ClaimedKcal, b.ClaimedBy
			b = known[i]
			b.ClaimedKcal, b.ClaimedBy = claimed, by
			known = slices.Delete(known, i, i+1)
		}
		put.Cardio = append(put.Cardio, b)
	}
	if len(put.Cardio) > max(mostBouts, len(now.Cardio)) {
		return fault.New(fault.Invalid, "a day takes up to %d stretches of cardio here.", mostBouts).WithHint("Add them together by kind.")
	}
	return nil
}

func (p boutParts) bout() (athlete.CardioBout, error) {
	b := athlete.CardioBout{Kind: athlete.CardioKind(p.Kind)}
	var err error
	if b.Minutes, err = typedNumber(p.Minutes, false); err != nil {
		return b, err
	}
	if code, is := strings.CutPrefix(p.Kind, otherKind); is {
		b.Kind, b.Code = athlete.OtherActivity, code
	}
	if !b.Kind.Valid() || b.Kind == athlete.OtherActivity && b.Code == "" {
		return b, fault.New(fault.Invalid, "choose the kind of cardio for the %s minutes.", p.Minutes)
	}
	if p.Claim == "" {
		return b, nil
	}
	kcal, err := typedNumber(p.Claim, true)
	if err != nil {
		return b, err
	}
	b.ClaimedKcal, b.ClaimedBy = &kcal, athlete.ClaimSource(p.By)
	return b, nil
}
