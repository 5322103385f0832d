// Package phrase makes clauses into sentences: what the engine and the faults say
// in lower case and without a stop, as a reader is shown it.
package phrase

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Capital makes the first letter a capital.
func Capital(s string) string {
	if s == "" {
		return ""
	}
	first, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[n:]
}

// Sentence begins with a capital and ends with a stop; "" stays "".
func Sentence(s string) string {
	s = strings.TrimSpace(s)
	if s != "" && !strings.ContainsAny(s[len(s)-1:], ".!?") {
		s += "."
	}
	return Capital(s)
}
