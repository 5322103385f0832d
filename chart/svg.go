package chart

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// typeSize is the one size of text in a drawing, in its own units; the page
// scales a drawing to between 0.8 and 1.1.
const typeSize = 13.0

// lineHeight is from one line of text to the next.
const lineHeight = 17.0

// canvas writes an SVG element.
type canvas struct {
	width, height float64
	id            string
	body          strings.Builder
	clips         int
}

type anchor string

const (
	start  anchor = "start"
	middle anchor = "middle"
	end    anchor = "end"
)

// el writes an empty element from pairs of attribute name and value; a value is
// a string or a float64.
func (c *canvas) el(name string, attrs ...any) {
	c.tag(name, attrs)
	c.body.WriteString("/>")
}

func (c *canvas) open(name string, attrs ...any) {
	c.tag(name, attrs)
	c.body.WriteString(">")
}

func (c *canvas) close(name string) { c.body.WriteString("</" + name + ">") }

func (c *canvas) tag(name string, attrs []any) {
	c.body.WriteString("<" + name)
	for i := 0; i+1 < len(attrs); i += 2 {
		var value string
		switch v := attrs[i+1].(type) {
		case string:
			value = escaped(v)
		case float64:
			value = coordinate(v)
		default:
			panic(fmt.Sprintf("chart: attribute %v is a %T", attrs[i], v))
		}
		fmt.Fprintf(&c.body, ` %s="%s"`, attrs[i], value)
	}
}

// text writes a line of text with its baseline at y.
func (c *canvas) text(x, y float64, a anchor, class, s string) {
	if s == "" {
		return
	}
	attrs := []any{"x", x, "y", y}
	if a != start {
		attrs = append(attrs, "text-anchor", string(a))
	}
	if class != "" {
		attrs = append(attrs, "class", class)
	}
	c.open("text", attrs...)
	c.body.WriteString(escaped(s))
	c.close("text")
}

func (c *canvas) line(class string, x1, y1, x2, y2 float64) {
	c.el("path", "class", class, "d", "M"+coordinate(x1)+" "+coordinate(y1)+"L"+coordinate(x2)+" "+coordinate(y2))
}

func (c *canvas) rect(class string, x, y, w, h float64) {
	c.el("rect", "class", class, "x", x, "y", y, "width", math.Max(w, 0), "height", math.Max(h, 0))
}

// clip opens a group that shows only what is within a frame.
func (c *canvas) clip(f frame) {
	c.clips++
	id := fmt.Sprintf("%sclip%d", c.id, c.clips)
	c.open("clipPath", "id", id)
	c.rect("", f.left, f.top-3, f.right-f.left, f.bottom-f.top+6)
	c.close("clipPath")
	c.open("g", "clip-path", "url(#"+id+")")
}

// document is the finished element, with the title and the description that a
// screen reader reads.
func (c *canvas) document(title, desc string, o Options) string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="chart" viewBox="0 0 %s %s" width="%[1]s" height="%[2]s" font-size="%[3]s" role="img" aria-labelledby="%[4]stitle %[4]sdesc">`,
		coordinate(c.width), coordinate(c.height), coordinate(typeSize), escaped(c.id))
	fmt.Fprintf(&b, `<title id="%[1]stitle">%[2]s</title><desc id="%[1]sdesc">%[3]s</desc>`, escaped(c.id), escaped(title), escaped(desc))
	if o.Standalone {
		b.WriteString("<style>" + escaped(Style()) + "</style>")
		fmt.Fprintf(&b, `<rect class="paper" width="%s" height="%s"/>`, coordinate(c.width), coordinate(c.height))
	}
	b.WriteString(c.body.String())
	b.WriteString("</svg>")
	return b.String()
}

// coordinate writes a number to a tenth of a unit, which the eye can't tell from
// more, without a needless zero.
func coordinate(v float64) string {
	if !finite(v) {
		panic("chart: a coordinate is not finite")
	}
	r := math.Round(v*10) / 10
	if r == 0 {
		return "0"
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

func escaped(s string) string {
	var b bytes.Buffer
	// Writing to a bytes.Buffer never fails.
	_ = xml.EscapeText(&b, []byte(s))
	return b.String()
}
