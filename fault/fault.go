// Package fault has the one kind of error that crosses the program's edges.
package fault

import (
	"errors"
	"fmt"
	"strings"
)

// Kind says who can mend an error and how an edge should answer.
type Kind string

// The kinds. Anything that is not an *Error is internal.
const (
	Invalid  Kind = "invalid"   // the input is wrong; the user can mend it
	Unclear  Kind = "unclear"   // the input is ambiguous; the user must say what is meant
	NotFound Kind = "not_found" // no such thing
	Conflict Kind = "conflict"  // it clashes with what is stored
	Refused  Kind = "refused"   // it would go beyond a safety floor

	SignIn    Kind = "sign_in"   // nobody is signed in, or the sign-in failed
	Forbidden Kind = "forbidden" // who asks is known and may not do it
	TooMany   Kind = "too_many"  // too often in too short a time; later it works again
)

// Error is an error that a person can act on.
type Error struct {
	Kind    Kind   `json:"kind"`
	Message string `json:"message"`          // what is wrong, one sentence
	Hint    string `json:"hint,omitempty"`   // how to mend it
	File    string `json:"file,omitempty"`   // where: each part is empty or 0 when it does not apply
	Row     int    `json:"row,omitempty"`    // counted from 1 as a spreadsheet shows it
	Column  string `json:"column,omitempty"` // the column's heading
	At      int    `json:"at,omitempty"`     // in a text, whose line Row is: the character of the line, from 1
	Field   string `json:"field,omitempty"`
	Value   string `json:"value,omitempty"` // the offending value as written
	Cause   error  `json:"-"`
}

// New makes an Error of a kind with a formatted sentence.
func New(kind Kind, format string, args ...any) *Error {
	return &Error{Kind: kind, Message: fmt.Sprintf(format, args...)}
}

// WithHint sets how to mend it.
func (e *Error) WithHint(format string, args ...any) *Error {
	e.Hint = fmt.Sprintf(format, args...)
	return e
}

// WithField sets the field.
func (e *Error) WithField(field string) *Error {
	e.Field = field
	return e
}

// Error is one line: where, what, and how to mend it.
func (e *Error) Error() string {
	var b strings.Builder
	if e.File != "" {
		fmt.Fprintf(&b, "%s: ", e.File)
	}
	switch {
	case e.At > 0:
		fmt.Fprintf(&b, "line %d, character %d: ", e.Row, e.At)
	case e.Row > 0:
		fmt.Fprintf(&b, "row %d: ", e.Row)
	}
	switch {
	case e.At > 0: // the place says it
	case e.Column != "":
		fmt.Fprintf(&b, "column %q: ", e.Column)
	case e.Field != "":
		fmt.Fprintf(&b, "%s: ", e.Field)
	}
	b.WriteString(e.Message)
	if e.Hint != "" {
		b.WriteString(" ")
		b.WriteString(e.Hint)
	}
	return b.String()
}

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.Cause }

// KindOf finds the kind of err, or "" where it is internal.
func KindOf(err error) Kind {
	if e, ok := errors.AsType[*Error](err); ok {
		return e.Kind
	}
	return ""
}

// All lists the Errors in err, through errors.Join, in order.
func All(err error) []*Error {
	var many interface{ Unwrap() []error }
	if e, ok := errors.AsType[*Error](err); ok && !errors.As(err, &many) {
		return []*Error{e}
	}
	if !errors.As(err, &many) {
		return nil
	}
	var out []*Error
	for _, one := range many.Unwrap() {
		out = append(out, All(one)...)
	}
	return out
}
