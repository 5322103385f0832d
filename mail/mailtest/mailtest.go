// Package mailtest has a small mail server on loopback for tests, which speaks
// enough of RFC 5321, STARTTLS (RFC 3207) and AUTH PLAIN (RFC 4616).
package mailtest

import (
	"bufio"
	"bytes"
	"crypto/tls"
	"encoding/base64"
	"io"
	"net"
	"net/textproto"
	"strings"
	"sync"
	"testing"
)

// Letter is what the server took.
type Letter struct {
	From, To string // of the envelope
	Data     string // as it came over the wire, without dot stuffing
	Private  bool   // it came by TLS
}

// Options say how the server behaves. The zero value takes everything in the clear.
type Options struct {
	TLS      *tls.Config // offers STARTTLS
	Direct   bool        // speaks TLS from the first byte
	User     string      // who must sign in, with Password
	Password string
	// Answers are given in place of its own, by command: a line such as "550 no", ""
	// for none at all (it then hangs), "close" to hang up. "banner" is the first line, and "taken" the one
	// after the text.
	Answers map[string]string
}

// Server is a running server.
type Server struct {
	Port int

	o       Options
	closing chan struct{}
	mu      sync.Mutex
	letters []Letter
}

// Start starts a server that ends with the test.
func Start(t testing.TB, o Options) *Server {
	t.Helper()
	listener, err := new(net.ListenConfig).Listen(t.Context(), "tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s := &Server{Port: listener.Addr().(*net.TCPAddr).Port, o: o, closing: make(chan struct{})}
	var serving sync.WaitGroup
	serving.Go(func() {
		for {
			c, err := listener.Accept()
			if err != nil {
				return // closed with the test
			}
			serving.Go(func() { s.serve(c) })
		}
	})
	t.Cleanup(func() {
		close(s.closing)
		_ = listener.Close()
		serving.Wait()
	})
	return s
}

// Letters are what was taken so far.
func (s *Server) Letters() []Letter {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]Letter(nil), s.letters...)
}

// talk is one connection.
type talk struct {
	*Server
	c       net.Conn
	r       *bufio.Reader
	private bool
	known   bool
	letter  Letter
}

func (s *Server) serve(c net.Conn) {
	t := &talk{Server: s, c: c}
	over := make(chan struct{})
	defer close(over)
	go func() { // a client that gave up may leave its connection open
		select {
		case <-s.closing:
		case <-over:
		}
		_ = c.Close()
	}()
	if s.o.Direct {
		t.secure()
	}
	t.r = bufio.NewReader(t.c)
	if !t.say("banner", "220 test ESMTP") {
		return
	}
	for {
		line, err := t.r.ReadString('\n')
		if err != nil {
			return
		}
		verb, rest, _ := strings.Cut(strings.TrimRight(line, "\r\n"), " ")
		if !t.do(strings.ToUpper(verb), rest) {
			return
		}
	}
}

func (t *talk) secure() {
	t.c, t.private = tls.Server(t.c, t.o.TLS), true
	t.r = bufio.NewReader(t.c)
}

// say answers, unless something else is to be answered; false ends the talk.
func (t *talk) say(command, line string) bool {
	if instead, ok := t.o.Answers[command]; ok {
		line = instead
	}
	switch line {
	case "":
		<-t.closing
		return false
	case "close":
		return false
	}
	_, err := io.WriteString(t.c, line+"\r\n")
	return err == nil
}

func (t *talk) do(verb, rest string) bool {
	switch verb {
	case "EHLO":
		lines := []string{"250-test"}
		if t.o.TLS != nil && !t.private {
			lines = append(lines, "250-STARTTLS")
		}
		if t.o.User != "" && t.private {
			lines = append(lines, "250-AUTH PLAIN")
		}
		return t.say(verb, strings.Join(append(lines, "250 8BITMIME"), "\r\n"))
	case "STARTTLS":
		if t.o.TLS == nil || !t.say(verb, "220 go on") {
			return false
		}
		t.secure()
		return true
	case "AUTH":
		secret, err := base64.StdEncoding.DecodeString(strings.TrimPrefix(rest, "PLAIN "))
		if t.known = err == nil && string(secret) == "\x00"+t.o.User+"\x00"+t.o.Password; !t.known {
			return t.say(verb, "535 5.7.8 no such user")
		}
		return t.say(verb, "235 welcome")
	case "MAIL":
		if t.o.User != "" && !t.known {
			return t.say(verb, "530 sign in first")
		}
		t.letter = Letter{From: rest, Private: t.private}
		return t.say(verb, "250 ok")
	case "RCPT":
		t.letter.To += rest
		return t.say(verb, "250 ok")
	case "DATA":
		return t.say(verb, "354 go on") && t.take()
	case "QUIT":
		_ = t.say(verb, "221 bye")
		return false
	}
	return t.say(verb, "250 ok") // NOOP, RSET
}

// take reads the text of a message.
func (t *talk) take() bool {
	var raw bytes.Buffer
	for {
		line, err := t.r.ReadString('\n')
		if err != nil {
			return false
		}
		raw.WriteString(line)
		if line == ".\r\n" {
			break
		}
	}
	data, err := textproto.NewReader(bufio.NewReader(&raw)).ReadDotBytes()
	if err != nil {
		return false
	}
	t.letter.Data = string(data)
	if answer, ok := t.o.Answers["taken"]; !ok || strings.HasPrefix(answer, "2") {
		t.mu.Lock()
		t.letters = append(t.letters, t.letter)
		t.mu.Unlock()
	}
	return t.say("taken", "250 taken")
}
