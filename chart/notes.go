package chart

import (
	"fmt"
	"slices"
	"strings"

	"glidepath/civil"
)

// Notes are the days that somebody wrote on. Those of the coach's side are for that
// side alone: a picture for others leaves them out.
type Notes struct{ Coach, Athlete []civil.Date }

// noteKind is whose notes are drawn in a row of their own.
type noteKind struct {
	class, name string
	days        []civil.Date
	// shape is a mark whose middle goes from x1 to x2.
	shape func(c *canvas, x1, x2, y float64)
}

func (n Notes) kinds() []noteKind {
	all := []noteKind{
		{"note-coach", "coach’s notes", n.Coach, coachMark},
		{"note-athlete", "athlete’s notes", n.Athlete, athleteMark},
	}
	return slices.DeleteFunc(all, func(k noteKind) bool { return len(k.days) == 0 })
}

// half is half the height of a mark; one day's is as wide as it is high.
const half = 3.5

func coachMark(c *canvas, x1, x2, y float64) {
	c.rect("note-coach", x1-half, y-half, x2-x1+2*half, 2*half)
}

func athleteMark(c *canvas, x1, x2, y float64) {
	const reach = half + 0.8 // a lozenge looks smaller than a square
	var p path
	p.polygon(x1-reach, y, x1, y-reach, x2, y-reach, x2+reach, y, x2, y+reach, x1, y+reach)
	c.el("path", "class", "note-athlete", "d", p.b.String())
}

// noted are days whose marks would touch, as one.
type noted struct {
	from, to civil.Date
	days     int
}

// joined makes one mark of days that lie so close that theirs would touch.
func joined(f frame, days []civil.Date) []noted {
	const apart = 2*half + 2.5
	days = slices.Clone(days)
	slices.Sort(days)
	var out []noted
	for _, d := range slices.Compact(days) {
		if !f.holds(d) {
			continue
		}
		if n := len(out); n > 0 && f.x(d)-f.x(out[n-1].to) < apart {
			out[n-1].to = d
			out[n-1].days++
			continue
		}
		out = append(out, noted{d, d, 1})
	}
	return out
}

// notes draws a row of marks for each side that wrote, and returns the foot.
func (d *corridorDrawing) notes(f frame, y float64) float64 {
	for _, k := range d.Notes.kinds() {
		all := joined(f, k.days)
		if len(all) == 0 {
			continue
		}
		y += lineHeight
		for _, r := range all {
			d.c.open("g")
			d.c.open("title")
			d.c.body.WriteString(escaped(k.words(r, d.o.Notation)))
			d.c.close("title")
			k.shape(d.c, f.x(r.from), f.x(r.to), y)
			d.c.close("g")
		}
		if !d.o.Narrow {
			d.c.text(f.right+22, y+4.5, start, "", k.name)
		}
	}
	return y
}

// words name a mark, as in "Coach's notes, 3 days from 2 Mar 2026 to 5 Mar 2026".
func (k *noteKind) words(r noted, n Notation) string {
	name := strings.ToUpper(k.name[:1]) + k.name[1:]
	if r.days == 1 {
		return name + ", " + n.Date(r.from)
	}
	return fmt.Sprintf("%s, %d days from %s to %s", name, r.days, n.Date(r.from), n.Date(r.to))
}

// describe says when somebody wrote, for a screen reader; what they wrote stands
// elsewhere in the page.
func (n Notes) describe(nt Notation, d days) (sentences []string) {
	const most = 10
	for _, k := range n.kinds() {
		var on []string
		for _, day := range k.days {
			if day >= d.from && day <= d.to {
				on = append(on, nt.Date(day))
			}
		}
		switch more := len(on) - most; {
		case len(on) == 0:
			continue
		case more > 0:
			on = append(on[len(on)-most:], fmt.Sprintf("%d days before", more))
		}
		sentences = append(sentences, fmt.Sprintf("%s%s are on %s.", strings.ToUpper(k.name[:1]), k.name[1:], strings.Join(on, ", ")))
	}
	return sentences
}
