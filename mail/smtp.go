package mail

import (
	"context"
	"crypto/rand"
	"errors"
	"net"
	"net/textproto"
	"strconv"
	"strings"
	"time"

	gomail "github.com/wneessen/go-mail"

	"glidepath/fault"
)

// patience is how long the server may take to let us in, and again to take a
// message.
const patience = 15 * time.Second

// SMTP sends by one server, a connection a message. It is safe for several
// goroutines.
type SMTP struct {
	host, from string
	options    []gomail.Option
}

func newSMTP(s *settings, password string) (*SMTP, error) {
	out := &SMTP{host: s.Host, from: s.From, options: []gomail.Option{gomail.WithPort(s.Port), gomail.WithTimeout(patience)}}
	switch s.TLS {
	case directTLS:
		out.options = append(out.options, gomail.WithSSL())
	case startTLS:
		out.options = append(out.options, gomail.WithTLSPolicy(gomail.TLSMandatory))
	case noTLS:
		out.options = append(out.options, gomail.WithTLSPolicy(gomail.NoTLS))
	}
	if s.User != "" {
		out.options = append(out.options, gomail.WithSMTPAuth(gomail.SMTPAuthAutoDiscover), gomail.WithUsername(s.User), gomail.WithPassword(password))
	}
	if _, err := gomail.NewClient(out.host, out.options...); err != nil {
		return nil, fault.New(fault.Invalid, "the mail server cannot be used: %v.", err)
	}
	return out, nil
}

// Send implements Sender. A message that was taken is sent, even where the server
// fails to say goodbye.
func (s *SMTP) Send(ctx context.Context, m Message) error {
	if err := m.Validate(); err != nil {
		return err
	}
	letter := gomail.NewMsg(gomail.WithNoDefaultUserAgent())
	err := errors.Join(letter.From(s.from), letter.To(m.To))
	if err != nil {
		return fault.New(fault.Invalid, "this is not one e-mail address.").WithField("to")
	}
	letter.Subject(m.Subject)
	letter.SetDate()
	_, domain, _ := strings.Cut(letter.GetFrom()[0].Address, "@")
	letter.SetMessageIDWithValue(rand.Text() + "@" + domain) // the library's own would name this computer
	letter.SetBodyString(gomail.TypeTextPlain, strings.ReplaceAll(m.Text, "\r\n", "\n"))
	// A client keeps a connection, so each message has its own.
	client, err := gomail.NewClient(s.host, s.options...)
	if err != nil {
		return err
	}
	// Where this fails the library leaves the connection to the garbage collector.
	if err := client.DialWithContext(ctx); err != nil {
		return s.notIn(err)
	}
	err = client.Send(letter)
	_ = client.Close() // it is sent or not by now
	if err == nil || letter.IsDelivered() {
		return nil
	}
	return notTaken(err)
}

// notIn says why the server did not let us in.
func (s *SMTP) notIn(err error) error {
	f := fault.New(Undelivered, "the mail server %s did not let us in, so nothing was sent: %s.", s.host, oneLine(err)).
		WithHint("Try again; if it fails again, whoever runs this desk should look at the file of --smtp.")
	if network, ok := errors.AsType[net.Error](err); ok && network.Timeout() {
		f.Message = "the mail server " + s.host + " did not answer in time, so nothing was sent."
	} else if said, ok := errors.AsType[*textproto.Error](err); ok && said.Code == 535 { // RFC 4954, section 6
		f.Message = "the mail server " + s.host + " did not take the user and password, so nothing was sent."
	}
	return f
}

// notTaken says why the server did not take a message.
func notTaken(err error) error {
	f := fault.New(Undelivered, "the mail server did not take the message, so it was not sent.").
		WithHint("Try again; if it fails again, copy the text and send it another way.")
	sent, ok := errors.AsType[*gomail.SendError](err)
	switch {
	case !ok:
	case sent.Reason == gomail.ErrSMTPRcptTo && sent.ErrorCode() >= 500:
		f.Kind, f.Field = fault.Invalid, "to"
		f.Message, f.Hint = "the mail server does not take this address, so nothing was sent.", "See whether it is mistyped."
	case sent.Reason == gomail.ErrSMTPMailFrom && sent.ErrorCode() >= 500:
		f.Message, f.Hint = "the mail server does not take our sender, so nothing was sent.", "Whoever runs this desk should look at from in the file of --smtp."
	case sent.Reason == gomail.ErrSMTPDataClose && sent.ErrorCode() == 0: // the text was gone, the answer never came
		f.Kind, f.Message = Unsure, "the mail server did not say whether it took the message: it may have been sent, or not."
		f.Hint = "Ask before you send it again."
	case sent.ErrorCode() >= 400:
		f.Message = strings.TrimSuffix(f.Message, ".") + " (its answer was " + strconv.Itoa(sent.ErrorCode()) + ")."
	}
	return f
}

// oneLine is an error of the network or the server as part of a sentence.
func oneLine(err error) string {
	const most = 200
	text := []rune(strings.Join(strings.FieldsFunc(err.Error(), notInLine), " "))
	if len(text) > most {
		text = append(text[:most], '…')
	}
	return strings.TrimRight(string(text), ".")
}
