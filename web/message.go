package web

import (
	"context"
	"crypto/sha256"
	"maps"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"time"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/fault"
	"glidepath/mail"
	"glidepath/report"
)

// messagePage is the draft of what to write to the athlete.
type messagePage struct {
	Form    form   // to, subject, text
	ToHint  string // where the address is from
	CanKeep bool
	CanSend bool
	Kept    string
	Waits   bool         // this week's review is not decided yet
	Unsure  *fault.Error // whether it was sent
}

func showMessage(r *request) error {
	d, err := r.dossier(func(o *app.Options) { o.Futures = -1 })
	if err != nil {
		return err
	}
	p := d.Current
	if p != nil && p.From == r.asOf { // what is new in it shows against the one before
		if n := len(d.Prescriptions); n > 1 {
			d.Current = &d.Prescriptions[n-2]
		} else {
			d.Current = nil
		}
	}
	body := messagePage{Form: form{Values: url.Values{
		"text": {report.Message(d, p, r.visitor.Name)}, "subject": {"Your week from " + chart.Notation{}.Date(r.asOf)},
	}}}
	body.Waits = d.Proposal != nil && r.document(d).Review.Decision.State == ""
	if r.canSend() {
		first := firstName(d.Athlete.Name)
		body.ToHint = "No e-mail address is known of " + first + ", so type it."
		login, err := r.s.o.Accounts.AthleteLogin(r.ctx(), r.visitor, d.Athlete.ID)
		if err != nil {
			return err
		}
		if mail.IsAddress(login) {
			body.Form.Values.Set("to", login)
			body.ToHint = "With it " + first + " signs in."
		}
	}
	return r.message(http.StatusOK, &d.Athlete, body, nil)
}

// message writes the page with what was typed and what was wrong with it.
func (r *request) message(code int, a *athlete.Athlete, body messagePage, wrong error) error {
	p := page{Title: "Message to " + a.Name, Athlete: a, Tab: "review"}
	body.CanKeep, body.CanSend = r.s.o.KeepMessage != nil && !r.desk.invented, r.canSend()
	switch {
	case fault.KindOf(wrong) == mail.Unsure:
		body.Unsure = fault.All(wrong)[0]
	case wrong != nil:
		body.Form.Wrong, p.Faults = wrongIn(wrong, map[string]string{"to": "to", "subject": "subject", "text": "text"})
	}
	p.Body = body
	return r.page(code, "message", p)
}

// canSend reports whether the reader may send: what goes out is the coach's word,
// so an assistant only drafts it.
func (r *request) canSend() bool {
	return r.s.o.Mail != nil && !r.desk.invented && r.may(access.Decide)
}

func keepMessage(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	a, err := r.athlete()
	if err != nil {
		return err
	}
	body := messagePage{Form: form{Values: typed}}
	switch {
	case r.s.o.KeepMessage == nil || r.desk.invented:
		return fault.New(fault.NotFound, "This server keeps no messages.").WithHint("Copy the text, or start it with --outbox and a folder.")
	case typed.Get("text") == "":
		return r.message(http.StatusUnprocessableEntity, a, body, fault.New(fault.Invalid, "the message is empty, so it was not kept.").WithField("text"))
	}
	if body.Kept, err = r.s.o.KeepMessage(a.ID, r.asOf, typed.Get("text")+"\n"); err != nil {
		return err
	}
	return r.message(http.StatusOK, a, body, nil)
}

// sendMessage sends what was typed by e-mail. The reader going away in the middle
// neither stops it nor keeps it out of the record.
func sendMessage(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	a, err := r.athlete()
	if err != nil {
		return err
	}
	if !r.canSend() {
		return fault.New(fault.NotFound, "This server sends no messages.").WithHint("Copy the text, or start it with --smtp and a file.")
	}
	m := mail.Message{To: typed.Get("to"), Subject: typed.Get("subject"), Text: typed.Get("text") + "\n"}
	ctx := context.WithoutCancel(r.ctx())
	done, err := r.s.sending.begin(a.ID, m, r.s.o.Now())
	if err == nil {
		err = r.s.o.Mail.Send(ctx, m)
		done(err == nil)
	}
	words := "sent a message by e-mail"
	switch fault.KindOf(err) {
	case mail.Unsure:
		words = "sent a message by e-mail, and was not told whether it was taken"
	case "":
		if err != nil {
			return err
		}
	default:
		return r.message(status(err), a, messagePage{Form: form{Values: typed}}, err)
	}
	if failed := r.s.o.Accounts.Record(ctx, r.visitor, access.Decide, a.ID, words); failed != nil {
		r.s.o.Log.Error("the record was not kept", "route", r.route.pattern, "error", failed)
	}
	if err != nil {
		return r.message(status(err), a, messagePage{Form: form{Values: typed}}, err)
	}
	return r.done("/athletes/"+a.ID, "sent")
}

// sameMessage is how long the same message is not sent again: a button pressed
// twice sends once.
const sameMessage = 10 * time.Minute

// sending remembers what was sent lately, and by what it is known nothing else.
type sending struct {
	mu   sync.Mutex
	sent map[[sha256.Size]byte]time.Time
}

// begin is a fault of kind Conflict where the very same is being sent or was just
// sent; else done must be called with whether it was.
func (s *sending) begin(athleteID string, m mail.Message, now time.Time) (done func(sent bool), err error) {
	key := sha256.Sum256([]byte(strings.Join([]string{athleteID, m.To, m.Subject, m.Text}, "\x00")))
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.sent == nil {
		s.sent = map[[sha256.Size]byte]time.Time{}
	}
	maps.DeleteFunc(s.sent, func(_ [sha256.Size]byte, at time.Time) bool { return now.Sub(at) >= sameMessage })
	if _, again := s.sent[key]; again {
		return nil, fault.New(fault.Conflict, "this very message was sent a moment ago, so it was not sent again.")
	}
	s.sent[key] = now
	return func(sent bool) {
		if !sent {
			s.mu.Lock()
			defer s.mu.Unlock()
			delete(s.sent, key)
		}
	}, nil
}
