package web

import (
	"context"

	"glidepath/access"
)

// Accounts is who may come in. A session is an opaque text for a cookie.
type Accounts interface {
	// Begun reports whether the desk has an owner yet.
	Begun(ctx context.Context) (bool, error)
	// Begin makes the owner of a desk that has none, and signs them in. It is a
	// Conflict where there is one, and Invalid where the password is too weak.
	Begin(ctx context.Context, name, email, password string) (session string, err error)
	// SignIn opens a session. A wrong address or password is the same fault.
	SignIn(ctx context.Context, email, password string) (session string, err error)
	// Actor is who a session belongs to, nil where it is not or no longer good.
	Actor(ctx context.Context, session string) (*access.Actor, error)
	SignOut(ctx context.Context, session string) error
	// Take makes an athlete one of an account's own.
	Take(ctx context.Context, accountID, athleteID string) error
}
