package api

import (
	"encoding/json"
	"errors"
	"net/http"
	"strings"
	"unicode/utf8"

	"github.com/danielgtaylor/huma/v2"

	"glidepath/fault"
	"glidepath/phrase"
)

// Problem is an error as RFC 9457 has it. It never repeats what was sent.
type Problem struct {
	Type   string   `json:"type"` // urn:glidepath:problem: and the kind
	Title  string   `json:"title"`
	Status int      `json:"status"`
	Kind   string   `json:"kind"`   // as package fault names it, or internal
	Detail string   `json:"detail"` // what is wrong, a sentence
	Hint   string   `json:"hint,omitempty"`
	Field  string   `json:"field,omitempty"`
	Errors []Detail `json:"errors,omitempty"` // each fault, where there are several
}

// Detail is one fault of several.
type Detail struct {
	Kind   string `json:"kind"`
	Detail string `json:"detail"`
	Hint   string `json:"hint,omitempty"`
	Field  string `json:"field,omitempty"`
}

// maxDetails bounds an answer to a bulk upload that is wrong throughout.
const maxDetails = 50

const internal = "internal"

// statusOf maps kinds of fault to HTTP.
var statusOf = map[fault.Kind]int{
	fault.Invalid:   http.StatusUnprocessableEntity,
	fault.Unclear:   http.StatusUnprocessableEntity,
	fault.NotFound:  http.StatusNotFound,
	fault.Conflict:  http.StatusConflict,
	fault.Refused:   http.StatusUnprocessableEntity,
	fault.SignIn:    http.StatusUnauthorized,
	fault.Forbidden: http.StatusForbidden,
	fault.TooMany:   http.StatusTooManyRequests,
}

// The library makes its own errors (a body that does not fit its schema) through
// this variable, which is there to be set. Names in another case are unknown names:
// else a second one beside the first would pass unseen.
func init() {
	huma.ValidateStrictCasing = true
	huma.NewError = func(status int, message string, errs ...error) huma.StatusError {
		return fromLibrary(status, message, errs)
	}
}

// Error implements error.
func (p *Problem) Error() string { return p.Detail }

// GetStatus implements huma.StatusError.
func (p *Problem) GetStatus() int { return p.Status }

// ContentType implements huma.ContentTypeFilter.
func (p *Problem) ContentType(string) string { return problemType }

const problemType = "application/problem+json"

func newProblem(kind string, status int, detail string) *Problem {
	return &Problem{Type: "urn:glidepath:problem:" + kind, Title: http.StatusText(status), Status: status, Kind: kind, Detail: detail}
}

// plain is a problem of the request itself.
func plain(status int, detail string) *Problem {
	kind := string(fault.Invalid)
	if status == http.StatusNotFound {
		kind = string(fault.NotFound)
	}
	return newProblem(kind, status, detail)
}

// problemOf tells an error of a use case; ok is false where it is internal and
// must be logged. The gravest fault leads: a safety floor before anything else.
func problemOf(err error) (p *Problem, ok bool) {
	if errors.As(err, &p) {
		return p, true
	}
	faults := fault.All(err)
	if len(faults) == 0 {
		return newProblem(internal, http.StatusInternalServerError, "Something failed that should not. It is in the log of the server."), false
	}
	lead := faults[0]
	for _, f := range faults {
		if f.Kind == fault.Refused {
			lead = f
			break
		}
	}
	status := statusOf[lead.Kind]
	if status == 0 {
		status = http.StatusUnprocessableEntity
	}
	p = newProblem(string(lead.Kind), status, phrase.Sentence(lead.Message))
	p.Hint, p.Field = lead.Hint, lead.Field
	if len(faults) > 1 {
		p.Errors = details(err)
	}
	return p, true
}

// details are the faults in an error, none in nil.
func details(err error) (out []Detail) {
	faults := fault.All(err)
	for _, f := range faults[:min(len(faults), maxDetails)] {
		out = append(out, Detail{Kind: string(f.Kind), Detail: phrase.Sentence(f.Message), Hint: f.Hint, Field: f.Field})
	}
	return out
}

// fromLibrary tells what the library found wrong, without the values.
func fromLibrary(status int, message string, errs []error) *Problem {
	p := plain(status, phrase.Sentence(message))
	for _, err := range errs {
		if err == nil || len(p.Errors) == maxDetails {
			continue
		}
		d := Detail{Kind: string(fault.Invalid), Detail: phrase.Sentence(clip(err.Error()))}
		var at huma.ErrorDetailer
		if errors.As(err, &at) {
			e := at.ErrorDetail()
			d.Detail, d.Field = phrase.Sentence(clip(withoutPattern(e.Message))), clip(e.Location)
		}
		p.Errors = append(p.Errors, d)
	}
	if len(p.Errors) > 0 {
		p.Detail, p.Field = p.Errors[0].Detail, p.Errors[0].Field
		if status == http.StatusBadRequest {
			p.Detail = "The body is not JSON: " + strings.TrimPrefix(p.Errors[0].Detail, "Json: ")
		}
	}
	if len(p.Errors) == 1 {
		p.Errors = nil
	}
	return p
}

// withoutPattern says what a pattern means.
func withoutPattern(message string) string {
	switch before, pattern, ok := strings.Cut(message, "match pattern "); {
	case !ok:
		return message
	case pattern == datePattern:
		return before + "be a date of the form YYYY-MM-DD"
	default:
		return before + "have another form"
	}
}

// clip bounds words that may quote what was sent.
func clip(text string) string {
	const most = 200
	if len(text) <= most {
		return text
	}
	cut := most
	for !utf8.RuneStart(text[cut]) {
		cut--
	}
	return text[:cut] + "…"
}

func writeProblem(w http.ResponseWriter, p *Problem) {
	h := w.Header()
	h.Set("Content-Type", problemType)
	h.Set("Cache-Control", "no-store")
	h.Set("X-Content-Type-Options", "nosniff")
	switch p.Status {
	case http.StatusUnauthorized:
		h.Set("WWW-Authenticate", `Bearer realm="glidepath"`)
	case http.StatusTooManyRequests:
		h.Set("Retry-After", "900")
	}
	w.WriteHeader(p.Status)
	_ = json.NewEncoder(w).Encode(p) // the client is gone
}
