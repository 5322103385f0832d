package cli

import (
	"io"
	"os"
	"runtime"
	"strconv"

	"golang.org/x/term"
)

const (
	plainWidth  = 80  // where nothing says how wide the page is
	leastWidth  = 60  // narrower than this, tables do not read
	widestWidth = 120 // wider lines do not read either
)

// isTerminal reports whether a stream is a person's screen or keyboard.
func isTerminal(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// width is how many columns there are to write in. COLUMNS decides where it is
// set; what is not a terminal has 80, so that output does not depend on where it
// was made.
func (s *session) width(w io.Writer) int {
	n := plainWidth
	if c, err := strconv.Atoi(s.env["COLUMNS"]); err == nil && c > 0 {
		n = c
	} else if f, ok := w.(*os.File); ok && isTerminal(f) {
		if c, _, err := term.GetSize(int(f.Fd())); err == nil {
			n = c
		}
	}
	return max(leastWidth, min(n, widestWidth))
}

// asks reports whether questions can be put to a person.
func (s *session) asks() bool {
	return isTerminal(s.stdin) && isTerminal(s.stderr) && !s.json
}

// workers is how many cores a forecast may use; its answer does not depend on it.
func workers() int { return runtime.GOMAXPROCS(0) }
