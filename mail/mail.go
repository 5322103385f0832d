// Package mail sends plain messages by SMTP (RFC 5321), through a server that the
// owner of the desk names in a file. It knows nothing of athletes.
package mail

import (
	"context"
	"net/mail"
	"strings"
	"unicode"
	"unicode/utf8"

	"glidepath/fault"
)

// The kinds of fault that sending has of its own.
const (
	Undelivered fault.Kind = "undelivered" // it was not sent
	Unsure      fault.Kind = "unsure"      // the server had the text and never answered: it may have been sent
)

// Message is plain text to one person.
type Message struct {
	To      string // a bare address, as in priya@example.org
	Subject string // one line
	Text    string
}

// Sender sends a message, or says why it was not sent. What the writer can mend is
// Invalid with the field "to", "subject" or "text"; the rest is Undelivered, or
// Unsure.
type Sender interface {
	Send(ctx context.Context, m Message) error
}

// Bounds of a message. An address is at most 254 bytes (RFC 5321, errata 1690); the
// others are judgement.
const (
	maxAddress = 254
	maxSubject = 200     // characters
	maxText    = 128_000 // bytes
)

// IsAddress reports whether a text is one bare e-mail address.
func IsAddress(text string) bool {
	if len(text) > maxAddress || strings.ContainsFunc(text, notInAddress) {
		return false
	}
	a, err := mail.ParseAddress(text)
	return err == nil && a.Name == "" && a.Address == text
}

// notInAddress leaves out what RFC 5322 lets stand in quotes or comments, and no
// provider gives out: it is where headers and second addresses are smuggled in.
func notInAddress(r rune) bool {
	return unicode.IsControl(r) || unicode.IsSpace(r) || strings.ContainsRune(`"(),:;<>[\]`, r) || r == utf8.RuneError
}

// Validate checks a message before anything goes over the wire.
func (m *Message) Validate() error {
	switch {
	case m.To == "":
		return fault.New(fault.Invalid, "the message has no address to go to.").WithField("to")
	case !IsAddress(m.To):
		return fault.New(fault.Invalid, "this is not one e-mail address.").WithField("to").WithHint("Write it bare, as in priya@example.org.")
	case m.Subject == "" || utf8.RuneCountInString(m.Subject) > maxSubject || strings.ContainsFunc(m.Subject, notInLine):
		return fault.New(fault.Invalid, "a subject is 1 to %d characters on one line.", maxSubject).WithField("subject")
	case strings.TrimSpace(m.Text) == "":
		return fault.New(fault.Invalid, "the message is empty.").WithField("text")
	case len(m.Text) > maxText || !utf8.ValidString(m.Text) || strings.ContainsRune(m.Text, 0):
		return fault.New(fault.Invalid, "a message is at most %d kB of plain text.", maxText/1000).WithField("text")
	}
	return nil
}

func notInLine(r rune) bool {
	return unicode.IsControl(r) || r == '\u2028' || r == '\u2029' || r == utf8.RuneError
}
