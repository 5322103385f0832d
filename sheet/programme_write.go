package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"glidepath/athlete"
)

// WriteProgramme writes a programme as text that ReadProgramme reads back the same,
// but for its version and author, which are those of who keeps it. A week like
// another is written as such.
func WriteProgramme(p athlete.Programme) string {
	var b strings.Builder
	fmt.Fprintf(&b, "programme: %s\n", textFor(p.Name, "programme: "))
	if !p.From.IsZero() {
		fmt.Fprintf(&b, "from: %s\n", p.From)
	}
	if p.Phase != "" {
		fmt.Fprintf(&b, "phase: %s\n", p.Phase)
	}
	writeNotes(&b, "", p.Notes)
	bodies := make([]string, len(p.Weeks))
	for i := range p.Weeks {
		w := &p.Weeks[i]
		bodies[i] = weekBody(w)
		b.WriteString("\n")
		fmt.Fprintf(&b, "week %d", i+1)
		if like := likeWeek(p.Weeks[:i], bodies, w, bodies[i]); like != "" {
			b.WriteString(" = " + like + "\n")
			continue
		}
		if w.Deload {
			b.WriteString(" deload")
		}
		b.WriteString("\n" + bodies[i])
	}
	return b.String()
}

// likeWeek says which earlier week a week is like, "" for none.
func likeWeek(before []athlete.ProgrammeWeek, bodies []string, w *athlete.ProgrammeWeek, body string) string {
	if body == "" {
		return ""
	}
	for i := range before {
		if before[i].Deload == w.Deload && bodies[i] == body {
			return fmt.Sprintf("week %d", i+1)
		}
	}
	for i := range before {
		if easier := before[i].AsDeload(); w.Deload && !before[i].Deload && weekBody(&easier) == body {
			return fmt.Sprintf("deload of week %d", i+1)
		}
	}
	return ""
}

func weekBody(w *athlete.ProgrammeWeek) string {
	var b strings.Builder
	for i := range w.Sessions {
		s := &w.Sessions[i]
		head := "session: "
		if s.Day != nil {
			head = s.Day.String() + ": "
		}
		fmt.Fprintf(&b, "  %s%s\n", head, textFor(s.Name, head))
		writeNotes(&b, "    ", s.Notes)
		for j := range s.Exercises {
			e := &s.Exercises[j]
			fmt.Fprintf(&b, "    %s: %s", exerciseName(e.Exercise), doseText(e))
			if e.Notes != "" {
				fmt.Fprintf(&b, "  # %s", noteText(e.Notes))
			}
			b.WriteString("\n")
		}
	}
	return b.String()
}

// textFor is a text as it can stand after a head, in quotation marks where it would
// be read as something else.
func textFor(s, head string) string {
	p := partsOf(head + s)
	if text, note := cutNote(p.rest); s != "" && oneLine(s) && p.kind != exercisePart && note == "" && plainOrQuoted(text) == s {
		return s
	}
	return strconv.Quote(s)
}

// oneLine reports whether a text has no character that ends or hides a line.
func oneLine(s string) bool { return !strings.ContainsAny(s, "\n\r") && cleanText(s, len(s)) == s }

func noteText(s string) string {
	if oneLine(s) && plainOrQuoted(s) == s {
		return s
	}
	return strconv.Quote(s)
}

func exerciseName(s string) string {
	if line := s + ": 1 x 1"; oneLine(s) && !strings.HasPrefix(s, "#") && !strings.HasPrefix(s, `"`) && !bullet.MatchString(line) && !weekLine.MatchString(line) {
		if p := partsOf(line); p.kind == exercisePart && p.name == s && p.rest == "1 x 1" {
			return s
		}
	}
	return strconv.Quote(s)
}

// writeNotes writes notes, a line each where they can stand so.
func writeNotes(b *strings.Builder, indent, notes string) {
	if notes == "" {
		return
	}
	lines := strings.Split(notes, "\n")
	if slices.ContainsFunc(lines, func(l string) bool { return l == "" || noteText(l) != l }) {
		lines = []string{strconv.Quote(notes)}
	}
	for _, l := range lines {
		fmt.Fprintf(b, "%snotes: %s\n", indent, l)
	}
}
