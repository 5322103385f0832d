package season

import (
	"encoding/json"
	"regexp"
)

// failer is what *testing.T and *rapid.T have in common.
type failer interface {
	Helper()
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
}

// marshal writes a value as JSON, which refuses numbers that are none.
func marshal(t failer, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return string(b)
}

var slip = regexp.MustCompile(`NaN|Inf|%!|-\d|  |(^|[^.\d])1 (days|weeks)\b|\b0001\b`)

// sane refuses a sentence that no coach should read.
func sane(t failer, sentence string) {
	t.Helper()
	if sentence == "" || slip.MatchString(sentence) {
		t.Errorf("%q", sentence)
	}
}
