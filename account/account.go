package account

import (
	"slices"
	"strings"
	"time"

	"glidepath/access"
	"glidepath/fault"
)

// Account is somebody who can sign in.
type Account struct {
	ID        string      `json:"id"`    // made up when it is added
	Login     string      `json:"login"` // an e-mail address or a name of one's own, in lower case
	Name      string      `json:"name"`  // for the record of who did what
	Role      access.Role `json:"role"`
	AthleteID string      `json:"athlete_id,omitempty"` // of an athlete's own account
	Athletes  []string    `json:"athletes,omitempty"`   // of a coach or an assistant, sorted
	Disabled  bool        `json:"disabled,omitempty"`
	MadeAt    time.Time   `json:"made_at"`
	Password  string      `json:"-"` // its argon2id hash, never the password
}

// Bounds of an account's texts, in bytes.
const (
	maxLogin = 254 // the longest e-mail address (RFC 5321)
	maxName  = 120
)

// cleanLogin is a login as it is stored and looked up.
func cleanLogin(login string) string { return strings.ToLower(strings.TrimSpace(login)) }

// Validate checks an account's own fields.
func (a *Account) Validate() error {
	switch {
	case a.ID == "":
		return fault.New(fault.Invalid, "the account has no id.").WithField("id")
	case a.Login == "" || len(a.Login) > maxLogin || a.Login != cleanLogin(a.Login) || strings.ContainsFunc(a.Login, notInLogin):
		return fault.New(fault.Invalid, "a login is 1 to %d characters without spaces.", maxLogin).WithField("login").
			WithHint("An e-mail address is best.")
	case strings.TrimSpace(a.Name) == "" || len(a.Name) > maxName || strings.ContainsFunc(a.Name, isControl):
		return fault.New(fault.Invalid, "a name is 1 to %d characters on one line.", maxName).WithField("name")
	case a.Role == access.Nobody || !slices.Contains(access.Roles(), a.Role):
		return fault.New(fault.Invalid, "the role %q is not owner, coach, assistant or athlete.", a.Role).WithField("role")
	case (a.Role == access.Athlete) != (a.AthleteID != ""):
		return fault.New(fault.Invalid, "an athlete's account belongs to one athlete, and no other account does.").WithField("athlete_id")
	case len(a.Athletes) > 0 && a.Role != access.Coach && a.Role != access.Assistant:
		return fault.New(fault.Invalid, "only a coach or an assistant has athletes of their own.").WithField("athletes")
	}
	return nil
}

func isControl(r rune) bool { return r < ' ' || r == 0x7f }

func notInLogin(r rune) bool { return r <= ' ' || r == 0x7f || r == 0xfffd }

// actor is what the account may do.
func (a *Account) actor() access.Actor {
	own := slices.Clone(a.Athletes)
	return access.Actor{
		AccountID: a.ID, Name: a.Name, Role: a.Role, AthleteID: a.AthleteID,
		Own: func(id string) bool { _, ok := slices.BinarySearch(own, id); return ok },
	}
}

// Session is somebody signed in on one device.
type Session struct {
	Hash      []byte    `json:"-"` // of its secret
	AccountID string    `json:"account_id"`
	MadeAt    time.Time `json:"made_at"`
	SeenAt    time.Time `json:"seen_at"` // to a few minutes
	ExpiresAt time.Time `json:"expires_at"`
	Address   string    `json:"address,omitempty"` // where it was made
}

// Token lets a program act for an account, within its scopes.
type Token struct {
	ID        string    `json:"id"` // the beginning of the token, by which people know it
	AccountID string    `json:"account_id"`
	Name      string    `json:"name"` // what it is for
	Scopes    Scopes    `json:"scopes"`
	Hash      []byte    `json:"-"` // of its secret
	MadeAt    time.Time `json:"made_at"`
	ExpiresAt time.Time `json:"expires_at"`
	UsedAt    time.Time `json:"used_at,omitzero"` // to a few minutes
	RevokedAt time.Time `json:"revoked_at,omitzero"`
}

// Invitation lets an athlete make their own account, once.
type Invitation struct {
	ID        string    `json:"id"`
	AthleteID string    `json:"athlete_id"`
	Hash      []byte    `json:"-"` // of its secret
	By        string    `json:"by"`
	MadeAt    time.Time `json:"made_at"`
	ExpiresAt time.Time `json:"expires_at"`
	UsedAt    time.Time `json:"used_at,omitzero"`
	RevokedAt time.Time `json:"revoked_at,omitzero"`
}

// Entry is one line of the record of who saw or changed what of whom.
type Entry struct {
	At        time.Time     `json:"at"`
	AccountID string        `json:"account_id,omitempty"`
	Who       string        `json:"who"` // the name then; "erased" once the athlete whose account it was is
	Via       string        `json:"via"` // page, token and its ID, or command line
	Address   string        `json:"address,omitempty"`
	Action    access.Action `json:"action,omitempty"`
	AthleteID string        `json:"athlete_id,omitempty"` // empty once they are erased
	What      string        `json:"what"`                 // in words, with no name in them
}

// Query chooses lines of the record; zero fields choose all.
type Query struct {
	From, To  time.Time // To is exclusive
	AthleteID string
	AccountID string
	Limit     int // the latest so many
	First     int // the earliest so many, where Limit is 0
}

// Answer is what a request was answered with, kept so that the same request sent
// again is answered the same and not done twice.
type Answer struct {
	AccountID string
	Key       string // as the client chose it
	Request   []byte // hash of what was asked
	AthleteID string // where it concerns one; the answer goes when they are erased
	At        time.Time
	Status    int // 0 while it is being done
	Header    map[string]string
	Body      []byte
}
