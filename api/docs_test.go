package api_test

import (
	"encoding/json"
	"net/http"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"

	"glidepath/access"
)

var (
	fence = regexp.MustCompile("(?s)```(sh|json)\n(.*?)```")
	word  = regexp.MustCompile(`'([^']*)'|"([^"]*)"|(\S+)`)
)

// The worked example of docs/api.md does what it says, in the order it says it.
func TestTheDocumentedExample(t *testing.T) {
	text, err := os.ReadFile("../docs/api.md")
	if err != nil {
		t.Fatal(err)
	}
	d := newDesk(t)
	d.now = time.Date(2026, 3, 9, 18, 0, 0, 0, time.UTC)
	answer, ran := "", 0
	for _, m := range fence.FindAllStringSubmatch(string(text), -1) {
		switch {
		case m[1] == "sh" && strings.HasPrefix(m[2], "curl"):
			w := d.send(curl(t, d, m[2]))
			if w.Code >= 300 {
				t.Fatalf("status %d: %s\n%s", w.Code, w.Body, m[2])
			}
			answer = w.Body.String()
			ran++
		case m[1] == "json":
			var want, got any
			if err := json.Unmarshal([]byte(m[2]), &want); err != nil {
				t.Fatalf("%v: %s", err, m[2])
			}
			if err := json.Unmarshal([]byte(answer), &got); err != nil {
				t.Fatal(err)
			}
			if !holds(got, want) {
				t.Errorf("the document has\n%sthe answer is\n%s", m[2], answer)
			}
		}
	}
	if ran != 4 {
		t.Errorf("ran %d commands of the document, not 4", ran)
	}
}

// curl reads a command as the document writes them.
func curl(t *testing.T, d *desk, command string) request {
	t.Helper()
	r := request{method: http.MethodGet, header: map[string]string{}, token: d.tokens[access.Coach]}
	var words []string
	for _, m := range word.FindAllStringSubmatch(strings.ReplaceAll(command, "\\\n", " "), -1) {
		words = append(words, m[1]+m[2]+m[3])
	}
	for i := 1; i < len(words); i++ {
		switch words[i] {
		case "-X":
			i++
			r.method = words[i]
		case "-H":
			i++
			name, value, _ := strings.Cut(words[i], ": ")
			if name != "Authorization" {
				r.header[name] = value
			}
		case "-d":
			i++
			r.method, r.body = http.MethodPost, words[i]
		default:
			r.path = strings.TrimPrefix(words[i], "$AT/api/v1")
		}
	}
	return r
}

// holds reports whether an answer has all that the document shows of it; "…" stands
// for any text.
func holds(got, want any) bool {
	w, ok := want.(map[string]any)
	if !ok {
		text, isText := got.(string)
		return got == want || want == "…" && isText && text != ""
	}
	g, ok := got.(map[string]any)
	if !ok {
		return false
	}
	for key, value := range w {
		if !holds(g[key], value) {
			return false
		}
	}
	return true
}
