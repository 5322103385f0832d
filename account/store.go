package account

import (
	"context"
	"time"
)

// Store keeps accounts and what belongs to them, beside the athletes. An
// implementation must pass the conformance suite in package store/storetest.
type Store interface {
	// Read runs fn on one consistent snapshot.
	Read(ctx context.Context, fn func(Tx) error) error
	// Write runs fn in a transaction that is kept only when fn returns nil.
	Write(ctx context.Context, fn func(Tx) error) error
}

// Tx is what a transaction can do. What is not there is a fault of kind NotFound.
// When an athlete is erased, their account with its passkeys, invitations and kept
// answers go with them, and the record no longer names them.
type Tx interface {
	Accounts() ([]Account, error) // by login
	Account(id string) (*Account, error)
	AccountByLogin(login string) (*Account, error)
	// PutAccount takes a new or changed account. A login that another has, or an
	// athlete who has another account, is a Conflict.
	PutAccount(a *Account) error

	OpenSession(s *Session) error
	SessionBy(hash []byte) (*Session, error)
	AccountSessions(accountID string) ([]Session, error) // the latest first
	TouchSession(hash []byte, seen time.Time) error
	EndSession(hash []byte) error // no fault where there is none
	EndSessions(accountID string) error
	DropSessions(before time.Time) error // that expired before

	Passkeys(accountID string) ([]Passkey, error) // by when they were made
	Passkey(id string) (*Passkey, error)
	PasskeyBy(credential []byte) (*Passkey, error)
	// PutPasskey takes a new passkey, or one that was renamed or used; the rest of it
	// stays as it was made. A credential that is known already is a Conflict.
	PutPasskey(p *Passkey) error
	DropPasskey(id string) error // no fault where there is none

	Tokens(accountID string) ([]Token, error) // "" is everybody's; by when they were made
	Token(id string) (*Token, error)
	PutToken(t *Token) error // new, used or revoked

	Invitations(athleteID string) ([]Invitation, error) // by when they were made
	InvitationBy(hash []byte) (*Invitation, error)
	PutInvitation(i *Invitation) error // new, used or revoked

	Entries(q Query) ([]Entry, error) // by time, then as they came
	AddEntry(e *Entry) error          // a line is never changed afterwards

	Answer(accountID, key string) (*Answer, error)
	PutAnswer(a *Answer) error // new, or in the place of the one with the same key
	DropAnswer(accountID, key string) error
	DropAnswers(before time.Time) error
}
