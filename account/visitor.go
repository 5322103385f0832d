package account

import (
	"slices"
	"strings"

	"glidepath/access"
	"glidepath/fault"
)

// Scope is a part of what a token may do; its account's role bounds it too.
type Scope string

// The scopes.
const (
	ScopeRead   Scope = "read"
	ScopeLog    Scope = "log"
	ScopeDraft  Scope = "draft"
	ScopeDecide Scope = "decide"
	ScopeManage Scope = "manage"
)

// AllScopes lists every scope.
func AllScopes() []Scope { return []Scope{ScopeRead, ScopeLog, ScopeDraft, ScopeDecide, ScopeManage} }

// Scopes are those of a token, in the order of AllScopes.
type Scopes []Scope

// ScopeOf is the scope that an action needs.
func ScopeOf(do access.Action) Scope {
	switch do {
	case access.See, access.SeeOwn:
		return ScopeRead
	case access.Log:
		return ScopeLog
	case access.Draft:
		return ScopeDraft
	case access.Decide, access.Remove:
		return ScopeDecide
	}
	return ScopeManage
}

// ParseScopes reads names of scopes; one that is unknown, or none at all, is
// Invalid.
func ParseScopes(names []string) (Scopes, error) {
	for _, n := range names {
		if !slices.Contains(AllScopes(), Scope(n)) {
			return nil, fault.New(fault.Invalid, "there is no scope %q.", n).WithField("scopes").
				WithHint("The scopes are read, log, draft, decide and manage.")
		}
	}
	var out Scopes
	for _, s := range AllScopes() {
		if slices.Contains(names, string(s)) {
			out = append(out, s)
		}
	}
	if len(out) == 0 {
		return nil, fault.New(fault.Invalid, "a token needs a scope.").WithField("scopes").
			WithHint("The scopes are read, log, draft, decide and manage.")
	}
	return out, nil
}

// String lists the scopes with commas.
func (s Scopes) String() string {
	names := make([]string, len(s))
	for i := range s {
		names[i] = string(s[i])
	}
	return strings.Join(names, ",")
}

// Visitor is who asks, and how they came. A nil Visitor is nobody.
type Visitor struct {
	access.Actor
	Login   string
	Scopes  Scopes // of a token; nil is no bound but the role
	Via     string // page, token and its ID, or command line
	Address string
	session []byte
}

// Console is the person at the computer that has the data file, who could read it
// anyway: an owner without an account.
func Console(name string) *Visitor {
	if name == "" {
		name = "command line"
	}
	return &Visitor{Actor: access.Actor{Name: name, Role: access.Owner}, Via: "command line"}
}

// May reports whether the visitor may do something to an athlete, "" for the desk
// as a whole.
func (v *Visitor) May(do access.Action, athleteID string) bool {
	return v != nil && v.scoped(do) && v.Actor.May(do, athleteID)
}

func (v *Visitor) scoped(do access.Action) bool {
	return v.Scopes == nil || slices.Contains(v.Scopes, ScopeOf(do))
}

// Check is nil where the visitor may do something to an athlete, and else the
// fault to answer with: SignIn for nobody, NotFound for an athlete who is not the
// visitor's (so that it does not tell who is there), Forbidden otherwise.
func (v *Visitor) Check(do access.Action, athleteID string) error {
	switch {
	case v == nil || v.Role == access.Nobody:
		return errNobody()
	case v.May(do, athleteID):
		return nil
	case athleteID != "" && !v.Actor.May(access.SeeOwn, athleteID):
		return NoAthlete(athleteID)
	}
	return v.refusal(do)
}

// CheckAdd is Check for taking in an athlete.
func (v *Visitor) CheckAdd() error {
	switch {
	case v == nil || v.Role == access.Nobody:
		return errNobody()
	case v.scoped(access.Decide) && v.MayAdd():
		return nil
	}
	return v.refusal(access.Decide)
}

// CheckList is Check for a list of athletes, of which the visitor is shown those
// they may see.
func (v *Visitor) CheckList() error {
	switch {
	case v == nil || v.Role == access.Nobody:
		return errNobody()
	case v.scoped(access.See):
		return nil
	}
	return v.refusal(access.See)
}

// CheckRoster is CheckList for the roster, which athletes have no use for.
func (v *Visitor) CheckRoster() error {
	if err := v.CheckList(); err != nil {
		return err
	}
	if v.Role == access.Athlete {
		return v.refusal(access.See)
	}
	return nil
}

// CheckAnybody is nil for whoever is signed in.
func (v *Visitor) CheckAnybody() error {
	if v == nil || v.Role == access.Nobody {
		return errNobody()
	}
	return nil
}

// refusal says what is missing: a scope of the token, or a role.
func (v *Visitor) refusal(do access.Action) error {
	if !v.scoped(do) {
		return fault.New(fault.Forbidden, "this token does not have the scope %q.", ScopeOf(do)).
			WithHint("Make a token with it.")
	}
	return fault.New(fault.Forbidden, "your account may not do this.").
		WithHint("Ask the coach whose athlete it is, or the owner of this desk.")
}

// NoAthlete is the fault of an athlete who is not there, or not the visitor's:
// the answer is the same.
func NoAthlete(id string) *fault.Error {
	return fault.New(fault.NotFound, "there is no athlete %q.", id)
}

func errNobody() error {
	return fault.New(fault.SignIn, "nobody is signed in.").WithHint("Sign in, or send a token that is valid.")
}
