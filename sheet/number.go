package sheet

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// cellError is what is wrong with one cell, before it is known where it stands.
type cellError struct{ why, hint string }

// maxNumber is far above any quantity of this field; what is larger is a slip.
const maxNumber = 1e12

// plainNumber reads a number as machines write it: digits with an optional sign,
// decimal point and exponent, and nothing else. It is the quick path for most cells.
func plainNumber(s string) (float64, bool) {
	if s == "" || len(s) > 32 {
		return 0, false
	}
	for i := range len(s) {
		switch c := s[i]; {
		case c >= '0' && c <= '9', c == '.', c == '-', c == '+':
		case (c == 'e' || c == 'E') && i > 0 && i < len(s)-1:
		default:
			return 0, false
		}
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}

// number holds a number found at the start of a cell, as digits with a decimal
// point, and how sure its reading is.
type scanned struct {
	text    string // sign, digits, point, digits
	rest    string // what follows
	groups  byte   // the mark that must be grouping, 0 where none
	decimal byte   // the mark that must be the decimal one, 0 where none
	unclear byte   // the one mark that may be either (as in 2,350), 0 where none
}

// scanNumber reads the number at the start of s. A comma or point that can be only
// a decimal mark, or only a thousands separator, is taken as what it is; one
// followed by exactly three digits is read by the decimal mark given.
func scanNumber(s string, decimal byte) (scanned, bool) {
	var out scanned
	var b strings.Builder
	s = strings.TrimSpace(s)
	switch {
	case strings.HasPrefix(s, "-"), strings.HasPrefix(s, "+"):
		if s[0] == '-' {
			b.WriteByte('-')
		}
		s = s[1:]
	case strings.HasPrefix(s, "\u2212"): // the minus sign proper
		b.WriteByte('-')
		s = s[len("\u2212"):]
	}
	groups, marks, end := splitDigits(s)
	if end == 0 {
		return out, false
	}
	out.rest = s[end:]
	last := len(marks) - 1
	point := -1 // the index of the group after the decimal mark
	if last >= 0 {
		mark := marks[last]
		same := strings.Count(string(marks), string(mark))
		three := len(groups[last+1]) == 3 && groups[0] != "" && len(groups[0]) <= 3 && groups[0] != "0"
		switch {
		case mark != ',' && mark != '.': // a space or apostrophe only ever groups
		case same > 1:
			out.groups = mark
		case last > 0: // another mark before it, as in 1.234,5
			point, out.decimal = last+1, mark
		case !three:
			point, out.decimal = last+1, mark
		default:
			out.unclear = mark
			if mark == decimal {
				point = last + 1
			}
		}
	}
	for i, g := range groups {
		if i == point {
			b.WriteByte('.')
		} else if i > 0 && len(g) != 3 || i == 0 && len(groups) > 1 && point != 1 && (len(g) > 3 || g == "") {
			return out, false // not groups of thousands
		}
		b.WriteString(g)
	}
	for i := range marks { // all grouping marks must be the same
		if i+1 != point && marks[i] != marks[0] {
			return out, false
		}
	}
	out.text = b.String()
	return out, true
}

// splitDigits cuts the longest run of digits and single marks between them.
// Spaces and apostrophes count as marks only between a digit and three digits: 5'10
// is feet and inches.
func splitDigits(s string) (groups []string, marks []byte, end int) {
	i, start := 0, 0
	for i < len(s) {
		if isDigit(s[i]) {
			i++
			continue
		}
		mark, size := groupMark(s[i:])
		if mark == 0 || i+size >= len(s) || !isDigit(s[i+size]) {
			break
		}
		if (mark == ' ' || mark == '\'') && (i == start || digitRun(s[i+size:]) != 3) {
			break
		}
		groups, marks = append(groups, s[start:i]), append(marks, mark)
		i += size
		start = i
	}
	if i == start && len(marks) == 0 {
		return nil, nil, 0
	}
	groups = append(groups, s[start:i])
	// A trailing mark, as in "82.", belongs to the number but says nothing.
	if i < len(s) && (s[i] == '.' || s[i] == ',') && len(marks) == 0 {
		i++
	}
	return groups, marks, i
}

func groupMark(s string) (mark byte, size int) {
	switch s[0] {
	case ',', '.', ' ':
		return s[0], 1
	case '\'':
		return '\'', 1
	}
	switch r, n := utf8.DecodeRuneInString(s); r {
	case '\u00a0', '\u202f', '\u2009': // no-break, narrow no-break and thin space
		return ' ', n
	case '\u2019': // the typographic apostrophe of Swiss sheets
		return '\'', n
	}
	return 0, 0
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func digitRun(s string) int {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	return n
}

// readNumber reads a whole cell that holds nothing but a number.
func readNumber(s string, decimal byte) (float64, *cellError) {
	v, rest, bad := leadingNumber(s, decimal)
	if bad == nil && rest != "" {
		bad = notNumber()
	}
	return v, bad
}

func notNumber() *cellError {
	return &cellError{"it is not a number.", "Write digits only, or leave the cell empty."}
}

// leadingNumber reads the number at the start of a cell and gives what follows it.
func leadingNumber(s string, decimal byte) (v float64, rest string, bad *cellError) {
	n, ok := scanNumber(s, decimal)
	if !ok {
		return 0, s, notNumber()
	}
	v, err := strconv.ParseFloat(n.text, 64)
	rest = strings.TrimSpace(n.rest)
	if err == nil && len(rest) > 1 && (rest[0] == 'e' || rest[0] == 'E') {
		if exp, bad := strconv.Atoi(rest[1:]); bad == nil {
			v, err = strconv.ParseFloat(n.text+"e"+strconv.Itoa(exp), 64)
			rest = ""
		}
	}
	if err != nil || v > maxNumber || v < -maxNumber {
		return 0, rest, &cellError{"the number is too large.", ""}
	}
	return v, rest, nil
}

// blank reports whether a cell says that nothing is recorded.
func blank(s string) bool {
	if s == "" {
		return true
	}
	if len(s) > 8 {
		return strings.TrimSpace(s) == ""
	}
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "", "-", "--", "\u2013", "\u2014", "?", ".", "n/a", "na", "#n/a", "nil", "null", "none", "n.a.":
		return true
	}
	return false
}

// emptyText is blank for free text, in which words such as "none" mean something.
func emptyText(s string) bool {
	switch strings.TrimSpace(s) {
	case "", "-", "--", "\u2013", "\u2014":
		return true
	}
	return false
}

// formulaError reports whether a cell holds a spreadsheet's error value.
func formulaError(s string) bool {
	switch s {
	case "#DIV/0!", "#REF!", "#VALUE!", "#NAME?", "#NUM!", "#NULL!", "#SPILL!", "#CALC!":
		return true
	}
	return false
}
