// Package access says who may do what: roles, and the actions each may take on
// an athlete. It knows no accounts, sessions or storage.
package access

// Role is what an account is for.
type Role string

// The roles.
const (
	Nobody    Role = ""          // not signed in
	Owner     Role = "owner"     // whose desk it is: everything, every athlete, and the accounts
	Coach     Role = "coach"     // their own athletes
	Assistant Role = "assistant" // reads and drafts for the athletes they help with
	Athlete   Role = "athlete"   // their own log and what concerns them
)

// Roles lists every role, nobody first.
func Roles() []Role { return []Role{Nobody, Owner, Coach, Assistant, Athlete} }

// Actor is who asks. The zero value is nobody.
type Actor struct {
	AccountID string
	Name      string // for the record of who did what
	Role      Role
	AthleteID string // of an Athlete: their own
	// Own reports whether an athlete is one of a coach's or an assistant's; nil is
	// none.
	Own func(athleteID string) bool
}

// Action is what is asked for.
type Action string

// The actions on an athlete, and one on the desk as a whole.
const (
	See    Action = "see"    // anything that is known of an athlete as the coach sees it
	SeeOwn Action = "own"    // what an athlete sees of themselves
	Log    Action = "log"    // days, measurements, training, photos, check-ins
	Draft  Action = "draft"  // make a review, draft a message, note
	Decide Action = "decide" // decide on a review, prescribe, change profile, shows, limits, clearances
	Remove Action = "remove" // withdraw an import, erase an athlete
	Manage Action = "manage" // accounts, tokens of others, audit log, settings; names no athlete
)

// Actions lists every action.
func Actions() []Action { return []Action{See, SeeOwn, Log, Draft, Decide, Remove, Manage} }

// May reports whether the actor may do something to an athlete. Manage names none.
func (a *Actor) May(do Action, athleteID string) bool {
	switch a.Role {
	case Owner:
		return true
	case Coach:
		return do != Manage && a.owns(athleteID)
	case Assistant:
		return (do == See || do == SeeOwn || do == Log || do == Draft) && a.owns(athleteID)
	case Athlete:
		return (do == SeeOwn || do == Log) && athleteID != "" && athleteID == a.AthleteID
	}
	return false
}

// MayAdd reports whether the actor may take in an athlete, who is then theirs.
func (a *Actor) MayAdd() bool { return a.Role == Owner || a.Role == Coach }

func (a *Actor) owns(athleteID string) bool {
	return athleteID != "" && a.Own != nil && a.Own(athleteID)
}
