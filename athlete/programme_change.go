package athlete

import (
	"slices"

	"glidepath/civil"
)

// BegunOn is the programme as a new one that begins on a date, with the week that
// is due then, so that a change of it does not start the round anew. Its weeks are
// copies. The date is on or after From.
func (p *Programme) BegunOn(on civil.Date) Programme {
	out := *p
	out.From, out.Version = on, 0
	_, due := p.WeekOn(on)
	out.Weeks = nil
	for _, w := range slices.Concat(p.Weeks[due:], p.Weeks[:due]) {
		out.Weeks = append(out.Weeks, w.Copy())
	}
	return out
}
