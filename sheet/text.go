package sheet

import (
	"strings"
	"unicode"
)

// Longest texts taken, in characters.
const (
	maxNote = 2000
	maxName = 120
)

// cleanText makes a cell fit to show: control and direction characters go, runs
// of spaces become one, and what is beyond most characters is cut off.
func cleanText(s string, most int) string {
	s = unguard(s)
	if isClean(s) && len(s) <= most {
		return s
	}
	var b strings.Builder
	n, space := 0, false
	for _, r := range s {
		if unicode.IsSpace(r) {
			space = n > 0
			continue
		}
		if hidden(r) {
			continue
		}
		if space {
			b.WriteByte(' ')
			n++
			space = false
		}
		if n >= most {
			break
		}
		b.WriteRune(r)
		n++
	}
	return strings.TrimSpace(b.String())
}

func isClean(s string) bool {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c >= 0x7f || c == ' ' && (i == 0 || i == len(s)-1 || s[i+1] == ' ') {
			return false
		}
	}
	return true
}

// hidden reports characters that are not seen, or turn the text around them.
func hidden(r rune) bool {
	return unicode.IsControl(r) || r == 0xfffd || unicode.Is(unicode.Cf, r) || r >= 0xe000 && r <= 0xf8ff
}

// A cell that begins like a formula is run by spreadsheet programs that open a
// CSV file. On writing, such a text gets an apostrophe before it, which the same
// programs take as "this is text"; on reading, it is taken off again.
const formulaStarts = "=+-@"

func guard(s string) string {
	if rest := strings.TrimLeft(s, "'"); rest != "" && strings.IndexByte(formulaStarts, rest[0]) >= 0 {
		if _, plain := plainNumber(s); !plain {
			return "'" + s
		}
	}
	return s
}

func unguard(s string) string {
	if len(s) < 2 || s[0] != '\'' {
		return s
	}
	if rest := strings.TrimLeft(s, "'"); rest != "" && strings.IndexByte(formulaStarts, rest[0]) >= 0 {
		return s[1:]
	}
	return s
}
