package mail_test

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"fmt"
	"io"
	"mime"
	"mime/quotedprintable"
	"net/http/httptest"
	netmail "net/mail"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"glidepath/fault"
	"glidepath/mail"
	"glidepath/mail/mailtest"
)

// file writes settings that are their owner's alone.
func file(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "smtp.yaml")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

const from = "from: Imogen Ash <imogen@example.org>\n"

// sender sends to a test server in the clear.
func sender(t *testing.T, s *mailtest.Server) *mail.SMTP {
	t.Helper()
	out, err := mail.FromFile(file(t, fmt.Sprintf("host: 127.0.0.1\nport: %d\ntls: none\n", s.Port)+from))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

var good = mail.Message{To: "priya@example.org", Subject: "Your week from 2 March", Text: "Hello Priya,\r\n\r\n.a line with a dot\r\nweight 62.4 kg, “well done”\r\n"}

// read takes a letter apart as its reader's program does.
func read(t *testing.T, l mailtest.Letter) (h netmail.Header, text string) {
	t.Helper()
	m, err := netmail.ReadMessage(strings.NewReader(l.Data))
	if err != nil {
		t.Fatal(err)
	}
	body := m.Body
	if m.Header.Get("Content-Transfer-Encoding") == "quoted-printable" {
		body = quotedprintable.NewReader(m.Body)
	}
	raw, err := io.ReadAll(body)
	if err != nil {
		t.Fatal(err)
	}
	return m.Header, strings.ReplaceAll(string(raw), "\r\n", "\n")
}

func TestSend(t *testing.T) {
	server := mailtest.Start(t, mailtest.Options{})
	if err := sender(t, server).Send(t.Context(), good); err != nil {
		t.Fatal(err)
	}
	letters := server.Letters()
	if len(letters) != 1 {
		t.Fatalf("%d letters were taken", len(letters))
	}
	l := letters[0]
	if !strings.HasPrefix(l.From, "FROM:<imogen@example.org>") || l.To != "TO:<priya@example.org>" {
		t.Errorf("the envelope is from %s to %s", l.From, l.To)
	}
	h, text := read(t, l)
	if want := strings.ReplaceAll(good.Text, "\r\n", "\n"); strings.TrimRight(text, "\n") != strings.TrimRight(want, "\n") {
		t.Errorf("the text came as %q, not %q", text, want)
	}
	if kind, p, err := mime.ParseMediaType(h.Get("Content-Type")); err != nil || kind != "text/plain" || !strings.EqualFold(p["charset"], "utf-8") {
		t.Errorf("the text is %s", h.Get("Content-Type"))
	}
	for name, want := range map[string]string{"From": `"Imogen Ash" <imogen@example.org>`, "To": "<priya@example.org>", "Subject": good.Subject, "User-Agent": "", "X-Mailer": ""} {
		if got := h.Get(name); got != want {
			t.Errorf("%s is %q, not %q", name, got, want)
		}
	}
	if h.Get("Date") == "" || !strings.HasSuffix(h.Get("Message-Id"), "@example.org>") {
		t.Errorf("it lacks a date or an id (RFC 5322, section 3.6): %v", h)
	}
}

// certificate is one for 127.0.0.1, with who trusts it.
func certificate(t *testing.T) (server, client *tls.Config) {
	t.Helper()
	s := httptest.NewTLSServer(nil)
	defer s.Close()
	pool := x509.NewCertPool()
	pool.AddCert(s.Certificate())
	return &tls.Config{Certificates: s.TLS.Certificates, MinVersion: tls.VersionTLS12}, &tls.Config{RootCAs: pool, ServerName: "127.0.0.1", MinVersion: tls.VersionTLS12}
}

// With TLS the password and the message go over it alone, and a server that cannot
// speak it gets neither.
func TestPrivate(t *testing.T) {
	serverTLS, clientTLS := certificate(t)
	for _, way := range []string{"starttls", "tls"} {
		for name, c := range map[string]struct {
			offered, trusted bool
			password, want   string
		}{
			"sent":           {true, true, "a secret", ""},
			"wrong password": {true, true, "another", "did not take the user and password"},
			"not trusted":    {true, false, "a secret", "did not let us in"},
			"no TLS":         {false, true, "a secret", "did not let us in"},
		} {
			t.Run(way+" "+name, func(t *testing.T) {
				o := mailtest.Options{User: "imogen", Password: "a secret", Direct: way == "tls" && c.offered}
				if c.offered {
					o.TLS = serverTLS
				}
				server := mailtest.Start(t, o)
				path := file(t, fmt.Sprintf("host: 127.0.0.1\nport: %d\ntls: %s\nuser: imogen\npassword_file: pw\n", server.Port, way)+from)
				if err := os.WriteFile(filepath.Join(filepath.Dir(path), "pw"), []byte(c.password+"\r\n"), 0o600); err != nil {
					t.Fatal(err)
				}
				s, err := mail.FromFile(path)
				if err != nil {
					t.Fatal(err)
				}
				if c.trusted {
					s.Trust(clientTLS)
				}
				s.Hurry(2 * time.Second)
				err = s.Send(t.Context(), good)
				letters := server.Letters()
				if c.want == "" {
					if err != nil || len(letters) != 1 || !letters[0].Private {
						t.Errorf("%v, %d letters", err, len(letters))
					}
					return
				}
				if err == nil || !strings.Contains(err.Error(), c.want) || fault.KindOf(err) != mail.Undelivered || len(letters) != 0 {
					t.Errorf("%v (%s), %d letters", err, fault.KindOf(err), len(letters))
				}
			})
		}
	}
}

// Every way in which a server fails is a sentence that says whether it was sent.
func TestServerFails(t *testing.T) {
	for name, c := range map[string]struct {
		answers map[string]string
		kind    fault.Kind // "" is sent
		want    string
	}{
		"silent":          {map[string]string{"banner": ""}, mail.Undelivered, "did not answer in time, so nothing was sent"},
		"busy":            {map[string]string{"banner": "421 busy"}, mail.Undelivered, "421"},
		"no such address": {map[string]string{"RCPT": "550 no such user"}, fault.Invalid, "does not take this address, so nothing was sent"},
		"address later":   {map[string]string{"RCPT": "451 greylisted"}, mail.Undelivered, "451"},
		"sender":          {map[string]string{"MAIL": "553 not yours"}, mail.Undelivered, "does not take our sender, so nothing was sent"},
		"refused":         {map[string]string{"taken": "554 looks like spam"}, mail.Undelivered, "so it was not sent (its answer was 554)"},
		"silent at data":  {map[string]string{"DATA": ""}, mail.Undelivered, "it was not sent"},
		"no word":         {map[string]string{"taken": ""}, mail.Unsure, "may have been sent, or not"},
		"hangs up":        {map[string]string{"taken": "close"}, mail.Unsure, "may have been sent, or not"},
		"no goodbye":      {map[string]string{"QUIT": "close"}, "", ""},
		"no reset":        {map[string]string{"RSET": "500 what"}, "", ""},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			server := mailtest.Start(t, mailtest.Options{Answers: c.answers})
			s := sender(t, server)
			s.Hurry(300 * time.Millisecond)
			err := s.Send(t.Context(), good)
			if fault.KindOf(err) != c.kind || err != nil && !strings.Contains(err.Error(), c.want) || err == nil != (len(server.Letters()) == 1) {
				t.Errorf("%v (%s), %d letters", err, fault.KindOf(err), len(server.Letters()))
			}
		})
	}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if err := sender(t, mailtest.Start(t, mailtest.Options{})).Send(ctx, good); fault.KindOf(err) != mail.Undelivered {
		t.Errorf("after the end: %v", err)
	}
}

// A hostile address or subject never reaches the server, and what does is one
// header of one message to one person.
func TestHostile(t *testing.T) {
	server := mailtest.Start(t, mailtest.Options{})
	s := sender(t, server)
	for _, to := range []string{
		"", "priya", "priya@example.org\r\nBcc: eve@example.org", "priya@example.org, eve@example.org", "Priya <priya@example.org>",
		"<priya@example.org>", "priya@example.org\x00", " priya@example.org", `"a b"@example.org`, "priya@example.org (eve)", "a:b@c;",
		"priya@[127.0.0.1]", strings.Repeat("a", 250) + "@example.org", "priya@example.org> SIZE=1 RCPT TO:<eve@example.org",
	} {
		m := good
		m.To = to
		wantField(t, s.Send(t.Context(), m), "to", to)
	}
	for _, subject := range []string{"", "a\r\nBcc: eve@example.org", "a\nb", "a\rb", "a\x00b", "a\u2028b", "a\u0085b", "\xff", strings.Repeat("é", 201)} {
		m := good
		m.Subject = subject
		wantField(t, s.Send(t.Context(), m), "subject", subject)
	}
	for _, text := range []string{"", " \r\n", "a\x00", "\xff", strings.Repeat("x", 128_001)} {
		m := good
		m.Text = text
		wantField(t, s.Send(t.Context(), m), "text", text[:min(len(text), 20)])
	}
	if n := len(server.Letters()); n != 0 {
		t.Fatalf("%d of them were sent", n)
	}
	odd := mail.Message{To: "o'neill+gym@example.org", Subject: "Überprüfung =?utf-8?q?=0ABcc:_eve=40example.org?= " + strings.Repeat("lang ", 25) + "ende", Text: ".\r\nBcc: eve@example.org\r\n.\r\nQUIT\r\n"}
	if err := s.Send(t.Context(), odd); err != nil {
		t.Fatal(err)
	}
	l := server.Letters()[0]
	h, text := read(t, l)
	subject, err := new(mime.WordDecoder).DecodeHeader(h.Get("Subject"))
	if err != nil || strings.ReplaceAll(subject, "\n", "") != odd.Subject || h.Get("Bcc") != "" || l.To != "TO:<o'neill+gym@example.org>" {
		t.Errorf("%v; the subject came as %q, to %s with %v", err, subject, l.To, h)
	}
	if strings.TrimRight(text, "\n") != strings.TrimRight(strings.ReplaceAll(odd.Text, "\r\n", "\n"), "\n") {
		t.Errorf("the text came as %q", text)
	}
	for line := range strings.SplitSeq(l.Data, "\n") { // RFC 5321, section 4.5.3.1.6
		if len(line) > 998 {
			t.Errorf("a line of %d bytes", len(line))
		}
	}
}

func wantField(t *testing.T, err error, field, value string) {
	t.Helper()
	all := fault.All(err)
	if len(all) != 1 || all[0].Kind != fault.Invalid || all[0].Field != field {
		t.Errorf("%q: %v", value, err)
	}
}

// FuzzIsAddress: whatever is taken for an address is one line and one mailbox.
func FuzzIsAddress(f *testing.F) {
	for _, s := range []string{"priya@example.org", "a@b, c@d", "a@b\r\nc", "<a@b>", "a@[::1]", `"a"@b`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if mail.IsAddress(text) && (strings.ContainsAny(text, "\r\n\x00 <>,;") || strings.Count(text, "@") != 1) {
			t.Errorf("%q is taken for an address", text)
		}
	})
}
