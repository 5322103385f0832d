package web

import (
	"errors"
	"net/http"
	"strings"

	"glidepath/fault"
	"glidepath/mail"
	"glidepath/phrase"
)

// Kinds of error that only pages have.
const (
	elsewhere fault.Kind = "elsewhere"
	tooMuch   fault.Kind = "too_much"
)

// statusOf is the one table from kinds of error to what HTTP says.
var statusOf = map[fault.Kind]int{
	fault.Invalid: http.StatusUnprocessableEntity, fault.Unclear: http.StatusUnprocessableEntity,
	fault.NotFound: http.StatusNotFound, fault.Conflict: http.StatusConflict, fault.Refused: http.StatusUnprocessableEntity,
	fault.SignIn: http.StatusUnauthorized, fault.Forbidden: http.StatusForbidden, fault.TooMany: http.StatusTooManyRequests,
	// Not 502 or 504: a proxy may put a page of its own there, and what was typed is gone.
	mail.Undelivered: http.StatusFailedDependency, mail.Unsure: http.StatusFailedDependency,
	elsewhere: http.StatusForbidden, tooMuch: http.StatusRequestEntityTooLarge,
}

func noPage() error {
	return fault.New(fault.NotFound, "There is no page at this address.").
		WithHint("It may have been mistyped, or what it showed is gone. Begin again at the first page.")
}

func notForRole() error {
	return fault.New(fault.Forbidden, "These pages are for coaches and who works with them.").
		WithHint("Ask your coach, or the owner of this desk, if you should be let in.")
}

func notForStaff() error {
	return fault.New(fault.Forbidden, "These pages are an athlete’s own.").
		WithHint("What they log and send is on the athlete’s pages on the roster.")
}

func fromElsewhere() error {
	return fault.New(elsewhere, "This form came from another site, so nothing was done.").
		WithHint("Open Glidepath in its own tab and do it there.")
}

// status is what an error answers with.
func status(err error) int {
	if _, ok := errors.AsType[*http.MaxBytesError](err); ok {
		return http.StatusRequestEntityTooLarge
	}
	if all := fault.All(err); len(all) > 0 {
		if code, ok := statusOf[all[0].Kind]; ok {
			return code
		}
	}
	return http.StatusInternalServerError
}

// troubles are the faults of an error as a page says them; an error that is no
// fault is told in general words alone, and logged.
func troubles(err error) []*fault.Error {
	if most, ok := errors.AsType[*http.MaxBytesError](err); ok {
		return []*fault.Error{fault.New(tooMuch, "What you sent is larger than %d kB, so nothing was done.", most.Limit>>10).
			WithHint("Send a smaller file, or a part of it.")}
	}
	if all := fault.All(err); len(all) > 0 {
		return all
	}
	return []*fault.Error{fault.New("", "Something failed on our side, and nothing was changed.").
		WithHint("Try again; if it fails again, the log of the server says why.")}
}

// plain is a fault as sentences, with its place in a file and without the name of
// its field.
func plain(f *fault.Error) string {
	shown := *f
	shown.Field, shown.Hint, shown.Message = "", "", phrase.Sentence(f.Message)
	return strings.TrimSpace(shown.Error() + " " + f.Hint)
}
