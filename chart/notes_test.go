package chart_test

import (
	"encoding/xml"
	"errors"
	"io"
	"strconv"
	"strings"
	"testing"

	"glidepath/chart"
	"glidepath/chart/charttest"
	"glidepath/civil"
)

// noteMark is a mark of the drawing: from where to where it goes, and its name.
type noteMark struct {
	class       string
	left, right float64
	y           float64
	name        string
}

// noteMarks reads the marks of notes out of a drawing.
func noteMarks(t *testing.T, svg string) (out []noteMark) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	name := ""
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		if e.Name.Local == "title" {
			if err := d.DecodeElement(&name, &e); err != nil {
				t.Fatal(err)
			}
			continue
		}
		m := noteMark{class: attr(e, "class"), name: name}
		switch m.class {
		case "note-coach":
			m.left, m.y = number(attr(e, "x")), number(attr(e, "y"))
			m.right = m.left + number(attr(e, "width"))
		case "note-athlete":
			var xs []float64
			for _, part := range strings.FieldsFunc(attr(e, "d"), func(r rune) bool { return strings.ContainsRune("MLHVZ ", r) }) {
				v, err := strconv.ParseFloat(part, 64)
				if err != nil {
					t.Fatal(err)
				}
				xs = append(xs, v)
			}
			m.left, m.right, m.y = xs[0], xs[6], xs[1]
		default:
			continue
		}
		out = append(out, m)
	}
}

// Every note is in one mark, marks of a row do not touch, and each has a name.
func TestNotesAreMarked(t *testing.T) {
	for _, o := range []chart.Options{{}, {Narrow: true}} {
		ch := charttest.New().Corridor
		marks := noteMarks(t, ch.SVG(o))
		if o.Narrow { // the first of each kind is in the key
			marks = marks[2:]
		}
		seen := map[string]int{}
		for i, m := range marks {
			seen[m.class]++
			if m.name == "" || !strings.Contains(m.name, "notes, ") {
				t.Errorf("narrow %v: a mark is named %q", o.Narrow, m.name)
			}
			for _, other := range marks[:i] {
				if other.class == m.class && other.right > m.left-1 && m.right > other.left-1 {
					t.Errorf("narrow %v: %q touches %q", o.Narrow, m.name, other.name)
				}
				if other.class != m.class && other.y == m.y {
					t.Errorf("narrow %v: both kinds are in one row", o.Narrow)
				}
			}
		}
		if seen["note-coach"] != 3 || seen["note-athlete"] < 10 { // two of four of the coach's are of days in a row
			t.Errorf("narrow %v: marks %v", o.Narrow, seen)
		}
	}
	ch := charttest.New().Corridor
	svg := ch.SVG(chart.Options{})
	for _, want := range []string{
		"Coach’s notes are on ", // the description
		"Coach’s notes, 2 days from ", "Athlete’s notes, 8 days from 4 May 2026 to 12 May 2026", ">coach’s notes</text>", ">athlete’s notes</text>",
	} {
		if !strings.Contains(svg, want) {
			t.Errorf("the drawing does not say %q", want)
		}
	}
	near := ch.Between(chart.Window{From: charttest.PrepFrom, To: charttest.PrepFrom.AddDays(30)})
	if got := near.Notes.Coach; len(got) != 1 || got[0] != charttest.PrepFrom.AddDays(20) {
		t.Errorf("of the month there is %v", got)
	}
	ch.Notes = chart.Notes{Coach: []civil.Date{charttest.LogFrom.AddDays(-40)}}
	if far := ch.SVG(chart.Options{}); len(noteMarks(t, far)) != 0 || strings.Contains(far, "are on") {
		t.Error("a note from before the drawing is in it")
	}
}
