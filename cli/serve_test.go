package cli

import (
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"glidepath/civil"
)

// The program serves the pages and the JSON interface, and ends when it is told.
func TestServe(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	out, in := io.Pipe()
	done := make(chan int)
	go func() {
		args := []string{"serve", "--data", filepath.Join(t.TempDir(), "desk.db"), "--addr", "127.0.0.1:0"}
		done <- Run(ctx, args, nil, strings.NewReader(""), in, t.Output())
		_ = in.Close()
	}()
	said := make([]byte, 400)
	n, err := io.ReadAtLeast(out, said, 40)
	if err != nil {
		t.Fatal(err)
	}
	address := regexp.MustCompile(`http://[0-9.:]+/`).FindString(string(said[:n]))
	if address == "" {
		t.Fatalf("it says %q", said[:n])
	}
	for path, want := range map[string]string{"": "Whose desk is this?", "api/openapi.json": `"openapi"`, "help": "What it never does"} {
		client := &http.Client{Timeout: 10 * time.Second}
		r, err := http.NewRequestWithContext(ctx, http.MethodGet, address+path, http.NoBody)
		if err != nil {
			t.Fatal(err)
		}
		got, err := client.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(got.Body)
		_ = got.Body.Close()
		if err != nil || got.StatusCode != http.StatusOK || !strings.Contains(string(text), want) {
			t.Errorf("/%s: %d, %v, lacks %q", path, got.StatusCode, err, want)
		}
	}
	stop()
	if code := <-done; code != exitOK {
		t.Errorf("it ends with status %d", code)
	}
}

func TestForwarded(t *testing.T) {
	r := &http.Request{Header: http.Header{"X-Forwarded-For": {"127.0.0.1, 203.0.113.9"}}, RemoteAddr: "127.0.0.1:1"}
	if got := forwarded(r); got != "203.0.113.9" {
		t.Errorf("who comes through a proxy comes from %q", got)
	}
	r.Header.Add("X-Forwarded-For", "203.0.113.10")
	if got := forwarded(r); got != "203.0.113.10" {
		t.Errorf("a proxy that adds a line of its own says %q", got)
	}
	if got := forwarded(&http.Request{RemoteAddr: "127.0.0.1:1"}); got != "" {
		t.Errorf("who came round the proxy comes from %q", got)
	}
	if got := remote(r); got != "127.0.0.1:1" {
		t.Errorf("without a proxy a header is believed: %q", got)
	}
}

// A name that was made to point to this computer is not this computer.
func TestThisComputer(t *testing.T) {
	ok := thisComputer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(http.StatusNoContent) }))
	for host, want := range map[string]int{
		"127.0.0.1:8417": 204, "localhost:8417": 204, "localhost": 204, "[::1]:8417": 204,
		"example.org:8417": 421, "127.0.0.1.example.org": 421, "": 421,
	} {
		out := httptest.NewRecorder()
		ok.ServeHTTP(out, &http.Request{Host: host})
		if out.Code != want {
			t.Errorf("%q is answered %d, not %d", host, out.Code, want)
		}
	}
}

// A message never takes the place of an earlier one.
func TestOutbox(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "out")
	keep := outbox(folder)
	on := civil.Of(2026, 3, 2)
	for i, want := range []string{"2026-03-02-mara.txt", "2026-03-02-mara-2.txt"} {
		name, err := keep("mara", on, strings.Repeat("x", i+1))
		if err != nil || name != want {
			t.Errorf("kept as %q, %v", name, err)
		}
		text, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil || len(text) != i+1 {
			t.Errorf("%s has %q, %v", name, text, err)
		}
	}
}

// A file of the mail server that others can read, or that is wrong, is refused
// before anything is served.
func TestServeSMTP(t *testing.T) {
	for want, c := range map[string]struct {
		text string
		mode os.FileMode
	}{
		"others on this computer can read": {"host: localhost\ntls: none\nfrom: a@example.org\n", 0o644},
		"in the clear":                     {"host: smtp.example.org\ntls: none\nfrom: a@example.org\n", 0o600},
		"unknown field":                    {"host: smtp.example.org\npass: x\n", 0o600},
	} {
		path := filepath.Join(t.TempDir(), "smtp.yaml")
		if err := os.WriteFile(path, []byte(c.text), c.mode); err != nil {
			t.Fatal(err)
		}
		var out, said strings.Builder
		args := []string{"serve", "--data", filepath.Join(t.TempDir(), "desk.db"), "--addr", "127.0.0.1:0", "--smtp", path}
		if code := Run(t.Context(), args, nil, strings.NewReader(""), &out, &said); code != exitInvalid || !strings.Contains(said.String(), want) || out.Len() > 0 {
			t.Errorf("%s: status %d, %q, %q", want, code, said.String(), out.String())
		}
	}
}
