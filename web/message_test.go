package web_test

import (
	"context"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"glidepath/access"
	"glidepath/account"
	"glidepath/mail"
	"glidepath/mail/mailtest"
	"glidepath/web"
)

// byMail has a desk that sends by a mail server on loopback.
func byMail(t *testing.T, o mailtest.Options) (*world, *mailtest.Server) {
	t.Helper()
	server := mailtest.Start(t, o)
	path := filepath.Join(t.TempDir(), "smtp.yaml")
	text := fmt.Sprintf("host: 127.0.0.1\nport: %d\ntls: none\nfrom: Wren Owner <wren@example.org>\n", server.Port)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	sender, err := mail.FromFile(path)
	if err != nil {
		t.Fatal(err)
	}
	w := serve(t, func(o *web.Options) { o.Mail = sender })
	if err := fill(t.Context(), w.app); err != nil {
		t.Fatal(err)
	}
	w.today = demo().AsOf
	return w, server
}

// recorded is how often the record says something.
func (w *world) recorded(what string) (n int) {
	w.t.Helper()
	all, err := w.accounts.Entries(w.t.Context(), account.Console(""), account.Query{})
	if err != nil {
		w.t.Fatal(err)
	}
	for i := range all {
		if all[i].What == what {
			n++
		}
	}
	return n
}

const message = "/athletes/" + changing + "/message"

// A message goes to the address of the athlete's account, once, when the button is
// pressed, and the record has it.
func TestSendMessage(t *testing.T) {
	w, server := byMail(t, mailtest.Options{})
	b := w.owner()
	b.get(message).wants(t, http.StatusOK, "No e-mail address is known of Aroha")
	one := account.Account{Login: "aroha@example.org", Name: "Aroha Jensen", Role: access.Athlete, AthleteID: changing}
	if _, err := w.accounts.Add(t.Context(), b.who, one, password); err != nil {
		t.Fatal(err)
	}
	b.get(message).wants(t, http.StatusOK, "Send by e-mail", `value="aroha@example.org"`, `value="Your week from `, "With it Aroha signs in")
	b.post(message, "text", "Hello Aroha").wants(t, http.StatusOK, "Kept in")
	if n := len(server.Letters()); n != 0 {
		t.Fatalf("%d letters went out without the button", n)
	}
	typed := []string{"to", one.Login, "subject", "Your week", "text", "Hello Aroha,\r\n.rest well"}
	got := b.post(message+"/send", typed...).wants(t, http.StatusOK, "the mail server took the message")
	if !strings.HasPrefix(got.path, "/athletes/"+changing+"?") {
		t.Errorf("sending leads to %s", got.path)
	}
	b.post(message+"/send", typed...).wants(t, http.StatusConflict, "was sent a moment ago", "rest well")
	letters := server.Letters()
	if len(letters) != 1 || letters[0].To != "TO:<aroha@example.org>" || !strings.Contains(letters[0].Data, "\n.rest well") {
		t.Errorf("what went out is %+v", letters)
	}
	if n := w.recorded("sent a message by e-mail"); n != 1 {
		t.Errorf("the record has it %d times", n)
	}
}

// What cannot be sent is told in a sentence, with everything that was typed.
func TestSendMessageFails(t *testing.T) {
	for name, c := range map[string]struct {
		answers     map[string]string
		to, subject string
		code        int
		says        string
		sent        int
	}{
		"no address":     {nil, "", "Week", http.StatusUnprocessableEntity, "no address to go to", 0},
		"a name":         {nil, "aroha", "Week", http.StatusUnprocessableEntity, "not one e-mail address", 0},
		"two":            {nil, "a@example.org,b@example.org", "Week", http.StatusUnprocessableEntity, "not one e-mail address", 0},
		"header to":      {nil, "a@example.org\r\nBcc: b@example.org", "Week", http.StatusUnprocessableEntity, "not one e-mail address", 0},
		"header subject": {nil, "a@example.org", "Week\r\nBcc: b@example.org", http.StatusUnprocessableEntity, "a subject is 1 to 200 characters on one line", 0},
		"unknown":        {map[string]string{"RCPT": "550 <script>"}, "a@example.org", "Week", http.StatusUnprocessableEntity, "does not take this address", 0},
		"refused":        {map[string]string{"banner": "554 <script>alert(1)</script>"}, "a@example.org", "Week", http.StatusFailedDependency, "did not let us in, so nothing was sent", 0},
		"no word":        {map[string]string{"taken": "close"}, "a@example.org", "Week", http.StatusFailedDependency, "may have been sent, or not", 1},
	} {
		t.Run(name, func(t *testing.T) {
			w, _ := byMail(t, mailtest.Options{Answers: c.answers})
			b := w.owner()
			got := b.post(message+"/send", "to", c.to, "subject", c.subject, "text", "Hello <b>Aroha</b>").wants(t, c.code, c.says, "Hello &lt;b&gt;Aroha&lt;/b&gt;")
			if strings.Contains(got.body, "<script>alert") || c.sent > 0 && strings.Contains(got.body, "That was not done") {
				t.Errorf("it says %s", short(got.body))
			}
			if n := w.recorded("sent a message by e-mail, and was not told whether it was taken") + w.recorded("sent a message by e-mail"); n != c.sent {
				t.Errorf("the record has it %d times", n)
			}
		})
	}
}

// Sending is offered to who may decide, where a mail server is known, and never
// for an invented athlete.
func TestSendingIsOffered(t *testing.T) {
	w, server := byMail(t, mailtest.Options{})
	owner := w.owner()
	for role, want := range map[access.Role]bool{access.Coach: true, access.Assistant: false} {
		page := w.role(owner, role, changing).get(message).wants(t, http.StatusOK)
		if strings.Contains(page.body, "Send by e-mail") != want {
			t.Errorf("sending is offered to the %s: %v", role, !want)
		}
	}
	owner.post("/demo").wants(t, http.StatusOK, "Invented")
	if page := owner.get(message).wants(t, http.StatusOK); strings.Contains(page.body, "Send by e-mail") {
		t.Error("a message to an invented athlete can be sent")
	}
	typed := []string{"to", "a@example.org", "subject", "Week", "text", "Hello"}
	owner.post(message+"/send", typed...).wants(t, http.StatusNotFound, "sends no messages")
	without := filled(t)
	b := without.owner()
	if page := b.get(message).wants(t, http.StatusOK, "Nothing is sent from here"); strings.Contains(page.body, "/send") {
		t.Error("sending is offered without a mail server")
	}
	b.post(message+"/send", typed...).wants(t, http.StatusNotFound, "sends no messages")
	if n := len(server.Letters()); n != 0 {
		t.Errorf("%d letters went out", n)
	}
}

// gone is a sender whose reader goes away while it sends.
type gone struct{ during func() error }

func (g gone) Send(ctx context.Context, _ mail.Message) error {
	if err := g.during(); err != nil {
		return err
	}
	return ctx.Err()
}

// A reader who goes away in the middle neither stops a message nor keeps it out of
// the record.
func TestReaderGoesAway(t *testing.T) {
	ctx, leave := context.WithCancel(t.Context())
	w := serve(t, func(o *web.Options) { o.Mail = gone{func() error { leave(); return nil }} })
	a := mara()
	if err := w.app.AddAthlete(t.Context(), a, w.today, false); err != nil {
		t.Fatal(err)
	}
	b := w.owner()
	r, err := http.NewRequestWithContext(ctx, http.MethodPost, w.URL+"/athletes/mara/message/send", strings.NewReader("to=a%40example.org&subject=Week&text=Hello"))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	if res, err := b.client.Do(r); err == nil {
		_ = res.Body.Close()
	}
	w.Close() // waits for what is under way
	if n := w.recorded("sent a message by e-mail"); n != 1 {
		t.Errorf("the record has it %d times", n)
	}
}
