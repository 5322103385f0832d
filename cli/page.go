package cli

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"glidepath/civil"
	"glidepath/phrase"
)

// page writes text for people: paragraphs, lists and tables that fit the width.
// The no-break space keeps a number with its unit while lines are broken, and is
// written as a plain one.
type page struct {
	out   io.Writer
	width int
	buf   bytes.Buffer
}

func (s *session) page() *page    { return &page{out: s.stdout, width: s.width(s.stdout)} }
func (s *session) errPage() *page { return &page{out: s.stderr, width: s.width(s.stderr)} }

const nbsp = "\u00a0"

// flush writes the page out.
func (p *page) flush() error {
	_, err := p.out.Write([]byte(strings.ReplaceAll(p.buf.String(), nbsp, " ")))
	p.buf.Reset()
	return err
}

// gap is an empty line, never two, never at the top.
func (p *page) gap() {
	if b := p.buf.Bytes(); len(b) > 0 && !bytes.HasSuffix(b, []byte("\n\n")) {
		p.buf.WriteByte('\n')
	}
}

// heading opens a section.
func (p *page) heading(format string, args ...any) {
	p.gap()
	p.hanging("", fmt.Sprintf(format, args...))
}

// para is a paragraph of its own.
func (p *page) para(format string, args ...any) {
	p.gap()
	p.hanging("", fmt.Sprintf(format, args...))
}

// line goes on in the present paragraph's place with a new line.
func (p *page) line(format string, args ...any) {
	p.hanging("", fmt.Sprintf(format, args...))
}

// list has an item for each sentence.
func (p *page) list(items []string) {
	for _, it := range items {
		p.hanging("  - ", phrase.Sentence(it))
	}
}

// raw writes a line as it is: a command to copy must not be broken.
func (p *page) raw(line string) { p.buf.WriteString(line + "\n") }

// hanging writes text behind a mark, its further lines under its first word.
func (p *page) hanging(mark, words string) {
	indent := strings.Repeat(" ", text.StringWidth(mark))
	for i, l := range wrap(words, p.width-len(indent)) {
		if i == 0 {
			p.buf.WriteString(mark)
		} else {
			p.buf.WriteString(indent)
		}
		p.buf.WriteString(l + "\n")
	}
}

// fact is a line of a name and what is so, in two columns.
type fact struct{ name, is string }

func (p *page) facts(all ...fact) {
	wide := 0
	for _, f := range all {
		wide = max(wide, text.StringWidth(f.name))
	}
	for _, f := range all {
		if f.is != "" {
			p.hanging("  "+text.Pad(f.name, wide+2, ' '), f.is)
		}
	}
}

// wrap breaks text at spaces into lines of at most width, unless a word is wider.
func wrap(s string, width int) []string {
	var lines []string
	s = strings.ReplaceAll(s, " %", nbsp+"%") // sentences from elsewhere
	for para := range strings.SplitSeq(s, "\n") {
		line, wide := "", 0
		for w := range strings.SplitSeq(para, " ") {
			n := text.StringWidth(w)
			switch {
			case line == "":
				line, wide = w, n
			case wide+1+n > width:
				lines, line, wide = append(lines, line), w, n
			default:
				line, wide = line+" "+w, wide+1+n
			}
		}
		lines = append(lines, line)
	}
	return lines
}

// column of a table. One column may be flexible: it takes the width that the
// others leave, and its text is broken.
type column struct {
	head string
	left bool // text; else a number, to the right
	flex bool
	wide bool // only where the page is wide
}

// wideFrom is the width from which on a page has room for more.
const wideFrom = 100

// date is a date in a table: with its year where there is room.
func (p *page) date(d civil.Date) string {
	if p.width >= wideFrom || d.IsZero() {
		return date(d)
	}
	return strings.ReplaceAll(d.Format("2 Jan"), " ", nbsp)
}

// fitting drops the columns that only a wide page has room for.
func (p *page) fitting(columns []column, rows [][]string) ([]column, [][]string) {
	if p.width >= wideFrom {
		return columns, rows
	}
	var kept []column
	out := make([][]string, len(rows))
	for i, c := range columns {
		if c.wide {
			continue
		}
		kept = append(kept, c)
		for j := range rows {
			out[j] = append(out[j], rows[j][i])
		}
	}
	return kept, out
}

// table writes rows under headings, with nothing round them.
func (p *page) table(columns []column, rows [][]string) {
	columns, rows = p.fitting(columns, rows)
	t := table.NewWriter()
	t.SetStyle(plainStyle())
	head := make(table.Row, len(columns))
	configs := make([]table.ColumnConfig, len(columns))
	taken, flex := 2, -1
	for i, c := range columns {
		head[i] = c.head
		configs[i] = table.ColumnConfig{Number: i + 1, Align: text.AlignRight, AlignHeader: text.AlignRight, VAlign: text.VAlignTop}
		if c.left || c.flex {
			configs[i].Align, configs[i].AlignHeader = text.AlignLeft, text.AlignLeft
		}
		wide := 0
		for l := range strings.SplitSeq(c.head, "\n") {
			wide = max(wide, text.StringWidth(l))
		}
		for _, r := range rows {
			wide = max(wide, text.StringWidth(r[i]))
		}
		if c.flex {
			flex = i
			continue
		}
		taken += wide + 2
	}
	if flex >= 0 {
		room := max(16, p.width-taken)
		configs[flex].WidthMax = room
		configs[flex].WidthMaxEnforcer = func(s string, n int) string { return strings.Join(wrap(s, n), "\n") }
	}
	t.AppendHeader(head)
	for _, r := range rows {
		row := make(table.Row, len(r))
		for i, cell := range r {
			row[i] = cell
		}
		t.AppendRow(row)
	}
	t.SetColumnConfigs(configs)
	for l := range strings.SplitSeq(t.Render(), "\n") {
		p.buf.WriteString("  " + strings.TrimRight(l, " ") + "\n")
	}
}

func plainStyle() table.Style {
	st := table.StyleDefault
	st.Box.PaddingLeft, st.Box.PaddingRight = "", "  "
	st.Format.Header = text.FormatDefault
	st.Options = table.OptionsNoBordersAndSeparators
	return st
}
