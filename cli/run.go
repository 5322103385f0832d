package cli

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"glidepath/fault"
	"glidepath/phrase"
)

// The exit statuses, as documented in the help of the root command.
const (
	exitOK       = 0
	exitInternal = 1
	exitUsage    = 2
	exitInvalid  = 3
	exitNotFound = 4
	exitConflict = 5
	exitRefused  = 6
	exitUnclear  = 7
)

var exitOf = map[fault.Kind]int{
	fault.Invalid: exitInvalid, fault.NotFound: exitNotFound, fault.Conflict: exitConflict,
	fault.Refused: exitRefused, fault.Unclear: exitUnclear,
	fault.SignIn: exitInvalid, fault.Forbidden: exitInvalid, fault.TooMany: exitInvalid,
}

// usageError is a wrong call of the program, as opposed to wrong data.
type usageError struct{ message string }

func (e *usageError) Error() string { return e.message }

func usage(format string, args ...any) error {
	return &usageError{fmt.Sprintf(format, args...)}
}

// Run runs the program with its arguments (without the program's own name) and
// environment, and returns the exit status. It touches nothing of the process, so
// that a test can run the whole program; a terminal is recognised by stdin and
// stdout being an *os.File.
func Run(ctx context.Context, args, env []string, stdin io.Reader, stdout, stderr io.Writer) int {
	s := newSession(env, stdin, stdout, stderr)
	root := newRoot(s)
	root.SetArgs(args)
	called, err := root.ExecuteContextC(ctx)
	if noting := s.keepRecord(ctx, err != nil); err == nil {
		err = noting
	}
	if closing := s.close(); err == nil {
		err = closing
	}
	if err == nil {
		return exitOK
	}
	if s.path == "" { // the call was never understood
		s.path, s.json = called.CommandPath(), s.json || slices.Contains(args, "--json")
		if fault.KindOf(err) == "" {
			err = &usageError{phrase.Sentence(err.Error())}
		}
	}
	code := exitCode(err)
	s.complain(err, code)
	return code
}

// exitCode takes the gravest of the faults: a floor before anything else.
func exitCode(err error) int {
	if _, ok := errors.AsType[*usageError](err); ok {
		return exitUsage
	}
	code := exitInternal
	for i, f := range fault.All(err) {
		if f.Kind == fault.Refused {
			return exitRefused
		}
		if i == 0 {
			code = exitOf[f.Kind]
		}
	}
	return code
}

// complaint is an error as JSON.
type complaint struct {
	ExitCode int            `json:"exit_code"`
	Errors   []*fault.Error `json:"errors"`
}

const (
	usageKind    fault.Kind = "usage"
	internalKind fault.Kind = "internal"
)

// complain writes an error to the error stream.
func (s *session) complain(err error, code int) {
	faults := fault.All(err)
	switch code {
	case exitUsage:
		faults = []*fault.Error{fault.New(usageKind, "%s", err.Error()).WithHint("See %s --help.", s.path)}
	case exitInternal:
		e := fault.New(internalKind, "something failed that should not: %v.", err)
		if errors.Is(err, context.Canceled) {
			e = fault.New(internalKind, "stopped before the end; nothing was changed.")
		}
		faults = []*fault.Error{e}
	}
	if s.json {
		text, err := json.MarshalIndent(complaint{code, faults}, "", "  ")
		if err == nil {
			_, _ = fmt.Fprintf(s.stderr, "%s\n", text) // there is nowhere left to say so
			return
		}
	}
	p := s.errPage()
	for _, f := range faults {
		switch {
		case f.Kind == fault.Invalid || f.File != "":
			p.hanging("", f.Error())
		default: // the field's name would only get in the way
			p.hanging("", plainFault(f))
		}
	}
	_ = p.flush() // as above
}

// plainFault is a fault as sentences, without where it is.
func plainFault(f *fault.Error) string {
	return strings.TrimSpace(phrase.Sentence(f.Message) + " " + f.Hint)
}
