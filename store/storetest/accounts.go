package storetest

import (
	"errors"
	"testing"
	"time"

	"glidepath/access"
	"glidepath/account"
	"glidepath/app"
	"glidepath/fault"
)

// AccountStore is a store with the accounts beside the athletes.
type AccountStore interface {
	app.Store
	Accounts() account.Store
}

// RunAccounts runs the suite for account.Store. Open gives a new and empty store
// each time, which closes itself with the test.
func RunAccounts(t *testing.T, open func(*testing.T) AccountStore) {
	for _, test := range []struct {
		name string
		run  func(*deskSuite)
	}{
		{"Accounts", deskAccounts},
		{"AccountsAreUnique", deskUnique},
		{"Sessions", deskSessions},
		{"Passkeys", deskPasskeys},
		{"Tokens", deskTokens},
		{"Invitations", deskInvitations},
		{"Record", deskRecord},
		{"Answers", deskAnswers},
		{"ErasureTakesAlong", deskErasure},
		{"ErrorUndoesEverything", deskUndo},
	} {
		t.Run(test.name, func(t *testing.T) {
			s := open(t)
			test.run(&deskSuite{suite: &suite{t, s}, accounts: s.Accounts()})
		})
	}
}

// deskSuite is one test on one store.
type deskSuite struct {
	*suite
	accounts account.Store
}

func (s *deskSuite) put(fn func(account.Tx) error) {
	s.Helper()
	if err := s.accounts.Write(s.Context(), fn); err != nil {
		s.Fatalf("write: %v", err)
	}
}

func (s *deskSuite) fails(kind fault.Kind, fn func(account.Tx) error) {
	s.Helper()
	if err := s.accounts.Write(s.Context(), fn); err == nil || fault.KindOf(err) != kind {
		s.Fatalf("the write ended in %v, not in a fault of kind %q", err, kind)
	}
}

// found reads with one method of the Tx.
func found[T any](s *deskSuite, method func(account.Tx) (T, error)) (v T) {
	s.Helper()
	err := s.accounts.Read(s.Context(), func(tx account.Tx) (err error) {
		v, err = method(tx)
		return err
	})
	if err != nil {
		s.Fatalf("read: %v", err)
	}
	return v
}

// missing reads what must not be there.
func missing[T any](s *deskSuite, method func(account.Tx) (T, error)) {
	s.Helper()
	err := s.accounts.Read(s.Context(), func(tx account.Tx) error {
		_, err := method(tx)
		return err
	})
	if fault.KindOf(err) != fault.NotFound {
		s.Fatalf("what is not there gave %v", err)
	}
}

var noon = time.Date(2026, 3, 2, 12, 0, 0, 123456789, time.UTC)

func coach() account.Account {
	return account.Account{
		ID: "c1", Login: "wren@example.org", Name: "Wren", Role: access.Coach, Athletes: []string{"ann", "ben"},
		MadeAt: noon, Password: "$argon2id$invented",
	}
}

func (s *deskSuite) begin() account.Account {
	s.Helper()
	s.putAthletes("ann", "ben")
	c := coach()
	s.put(func(tx account.Tx) error { return tx.PutAccount(&c) })
	return c
}

func deskAccounts(s *deskSuite) {
	c := s.begin()
	ann := account.Account{ID: "a1", Login: "ann", Name: "Ann", Role: access.Athlete, AthleteID: "ann", MadeAt: noon, Password: "x"}
	s.put(func(tx account.Tx) error { return tx.PutAccount(&ann) })
	same(s.suite, "all, by login", found(s, account.Tx.Accounts), []account.Account{ann, c})
	byID := func(id string) func(account.Tx) (*account.Account, error) {
		return func(tx account.Tx) (*account.Account, error) { return tx.Account(id) }
	}
	same(s.suite, "by ID", found(s, byID("c1")), &c)
	same(s.suite, "by login", found(s, func(tx account.Tx) (*account.Account, error) { return tx.AccountByLogin("wren@example.org") }), &c)
	missing(s, byID("c2"))
	missing(s, func(tx account.Tx) (*account.Account, error) { return tx.AccountByLogin("WREN@example.org") })
	c.Name, c.Disabled, c.Athletes, c.Password = "Wren W.", true, []string{"ben"}, "y"
	s.put(func(tx account.Tx) error { return tx.PutAccount(&c) })
	same(s.suite, "changed", found(s, byID("c1")), &c)
}

func deskUnique(s *deskSuite) {
	c := s.begin()
	other := c
	other.ID = "c2"
	put := func(a account.Account) func(account.Tx) error {
		return func(tx account.Tx) error { return tx.PutAccount(&a) }
	}
	s.fails(fault.Conflict, put(other)) // the login
	own := account.Account{ID: "a1", Login: "ann", Name: "Ann", Role: access.Athlete, AthleteID: "ann"}
	s.put(put(own))
	own.ID, own.Login = "a2", "ann2"
	s.fails(fault.Conflict, put(own)) // the athlete
	own.AthleteID = "nobody"
	s.fails(fault.NotFound, put(own))
	other.Login, other.Athletes = "sol", []string{"nobody"}
	s.fails(fault.NotFound, put(other))
	other.Athletes, other.Role = nil, "boss"
	s.fails(fault.Invalid, put(other))
	same(s.suite, "accounts", len(found(s, account.Tx.Accounts)), 2)
}

func deskSessions(s *deskSuite) {
	c := s.begin()
	one := account.Session{Hash: []byte{1, 0, 255}, AccountID: c.ID, MadeAt: noon, SeenAt: noon, ExpiresAt: noon.Add(time.Hour), Address: "192.0.2.1"}
	two := one
	two.Hash, two.ExpiresAt = []byte{2}, noon.Add(2*time.Hour)
	s.put(func(tx account.Tx) error { return errors.Join(tx.OpenSession(&one), tx.OpenSession(&two)) })
	by := func(hash []byte) func(account.Tx) (*account.Session, error) {
		return func(tx account.Tx) (*account.Session, error) { return tx.SessionBy(hash) }
	}
	list := func(tx account.Tx) ([]account.Session, error) { return tx.AccountSessions(c.ID) }
	same(s.suite, "one", found(s, by(one.Hash)), &one)
	same(s.suite, "list", found(s, list), []account.Session{two, one})
	missing(s, by([]byte{3}))
	one.SeenAt = noon.Add(time.Minute)
	s.put(func(tx account.Tx) error { return tx.TouchSession(one.Hash, one.SeenAt) })
	same(s.suite, "seen", found(s, by(one.Hash)), &one)
	s.put(func(tx account.Tx) error { return tx.DropSessions(noon.Add(90 * time.Minute)) })
	same(s.suite, "after the first expired", found(s, list), []account.Session{two})
	s.put(func(tx account.Tx) error { return errors.Join(tx.EndSession(two.Hash), tx.EndSession(two.Hash)) })
	missing(s, by(two.Hash))
	s.put(func(tx account.Tx) error { return tx.OpenSession(&one) })
	s.put(func(tx account.Tx) error { return tx.EndSessions(c.ID) })
	same(s.suite, "after all ended", len(found(s, list)), 0)
	one.AccountID = "nobody"
	s.fails(fault.NotFound, func(tx account.Tx) error { return tx.OpenSession(&one) })
}

// passkey has a value in every field.
func passkey(accountID string) account.Passkey {
	return account.Passkey{
		ID: "p1", AccountID: accountID, Name: "Phone, \"old\"", Host: "desk.example.org", Credential: []byte{1, 0, 255}, PublicKey: []byte{2, 0},
		Transports: []string{"hybrid", "internal"}, SignCount: 4_294_967_295, Backup: account.Backup{Able: true, Done: true},
		MadeAt: noon, UsedAt: noon.Add(time.Minute), DoubtedAt: noon.Add(2 * time.Minute),
	}
}

func deskPasskeys(s *deskSuite) {
	c := s.begin()
	one, put := passkey(c.ID), func(p account.Passkey) func(account.Tx) error {
		return func(tx account.Tx) error { return tx.PutPasskey(&p) }
	}
	s.put(put(one))
	by := func(tx account.Tx) (*account.Passkey, error) { return tx.Passkey("p1") }
	same(s.suite, "by ID", found(s, by), &one)
	byCredential := func(id []byte) func(account.Tx) (*account.Passkey, error) {
		return func(tx account.Tx) (*account.Passkey, error) { return tx.PasskeyBy(id) }
	}
	same(s.suite, "by credential", found(s, byCredential(one.Credential)), &one)
	missing(s, byCredential([]byte{1, 0}))

	one.Name, one.SignCount, one.Backup, one.UsedAt, one.DoubtedAt = "Tablet", 7, account.Backup{Able: true}, noon.Add(time.Hour), time.Time{}
	changed := one
	changed.Host, changed.Credential, changed.PublicKey, changed.Transports, changed.MadeAt = "other.example.org", []byte{9}, []byte{9}, nil, noon.Add(99*time.Hour) // which stay as they were made
	s.put(put(changed))
	same(s.suite, "renamed and used", found(s, by), &one)

	two := account.Passkey{ID: "p0", AccountID: c.ID, Name: "Key", Host: "localhost", Credential: []byte{2}, PublicKey: []byte{1}, MadeAt: noon.Add(-time.Hour)}
	s.put(put(two))
	list := func(id string) func(account.Tx) ([]account.Passkey, error) {
		return func(tx account.Tx) ([]account.Passkey, error) { return tx.Passkeys(id) }
	}
	same(s.suite, "list, by when they were made", found(s, list(c.ID)), []account.Passkey{two, one})
	same(s.suite, "of another", len(found(s, list("c2"))), 0)

	again := two
	again.ID, again.Credential = "p3", one.Credential
	s.fails(fault.Conflict, put(again))
	again.Credential, again.AccountID = []byte{3}, "nobody"
	s.fails(fault.NotFound, put(again))
	again.AccountID, again.PublicKey = c.ID, nil
	s.fails(fault.Invalid, put(again))
	s.put(func(tx account.Tx) error { return errors.Join(tx.DropPasskey("p1"), tx.DropPasskey("p1")) })
	same(s.suite, "after one was removed", found(s, list(c.ID)), []account.Passkey{two})
	missing(s, by)
}

func deskTokens(s *deskSuite) {
	c := s.begin()
	t1 := account.Token{ID: "t1", AccountID: c.ID, Name: "scale", Scopes: account.Scopes{account.ScopeRead, account.ScopeLog}, Hash: []byte{1}, MadeAt: noon, ExpiresAt: noon.Add(time.Hour)}
	s.put(func(tx account.Tx) error { return tx.PutToken(&t1) })
	by := func(tx account.Tx) (*account.Token, error) { return tx.Token("t1") }
	same(s.suite, "token", found(s, by), &t1)
	t1.UsedAt, t1.RevokedAt = noon.Add(time.Minute), noon.Add(2*time.Minute)
	changed := t1
	changed.Scopes, changed.Hash, changed.ExpiresAt = account.AllScopes(), []byte{9}, noon.Add(99*time.Hour) // which stay as they were made
	s.put(func(tx account.Tx) error { return tx.PutToken(&changed) })
	same(s.suite, "used and revoked", found(s, by), &t1)
	list := func(id string) func(account.Tx) ([]account.Token, error) {
		return func(tx account.Tx) ([]account.Token, error) { return tx.Tokens(id) }
	}
	same(s.suite, "all", found(s, list("")), []account.Token{t1})
	same(s.suite, "of the account", found(s, list(c.ID)), []account.Token{t1})
	same(s.suite, "of another", len(found(s, list("c2"))), 0)
	missing(s, func(tx account.Tx) (*account.Token, error) { return tx.Token("t2") })
}

func deskInvitations(s *deskSuite) {
	s.begin()
	i := account.Invitation{ID: "i1", AthleteID: "ann", Hash: []byte{1}, By: "Wren", MadeAt: noon, ExpiresAt: noon.Add(time.Hour)}
	s.put(func(tx account.Tx) error { return tx.PutInvitation(&i) })
	by := func(tx account.Tx) (*account.Invitation, error) { return tx.InvitationBy([]byte{1}) }
	same(s.suite, "invitation", found(s, by), &i)
	i.UsedAt = noon.Add(time.Minute)
	s.put(func(tx account.Tx) error { return tx.PutInvitation(&i) })
	same(s.suite, "used", found(s, by), &i)
	list := func(id string) func(account.Tx) ([]account.Invitation, error) {
		return func(tx account.Tx) ([]account.Invitation, error) { return tx.Invitations(id) }
	}
	same(s.suite, "list", found(s, list("ann")), []account.Invitation{i})
	same(s.suite, "of another", len(found(s, list("ben"))), 0)
	missing(s, list("nobody"))
	missing(s, func(tx account.Tx) (*account.Invitation, error) { return tx.InvitationBy([]byte{2}) })
}

func deskRecord(s *deskSuite) {
	c := s.begin()
	line := func(at time.Time, athlete, what string) account.Entry {
		return account.Entry{At: at, AccountID: c.ID, Who: "Wren", Via: "page", Address: "192.0.2.1", Action: access.See, AthleteID: athlete, What: what}
	}
	// A whole second sorts among parts of one, and equal times stay as they came.
	whole := time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)
	want := []account.Entry{
		line(whole, "ann", "one"), line(whole.Add(5), "ben", "two"), line(whole.Add(5), "ann", "three"), line(whole.Add(time.Second), "", "four"),
	}
	s.put(func(tx account.Tx) error {
		return errors.Join(tx.AddEntry(&want[3]), tx.AddEntry(&want[0]), tx.AddEntry(&want[1]), tx.AddEntry(&want[2]))
	})
	entries := func(q account.Query) []account.Entry {
		return found(s, func(tx account.Tx) ([]account.Entry, error) { return tx.Entries(q) })
	}
	same(s.suite, "all", entries(account.Query{}), want)
	same(s.suite, "of ann", entries(account.Query{AthleteID: "ann"}), []account.Entry{want[0], want[2]})
	same(s.suite, "of the account", len(entries(account.Query{AccountID: c.ID})), 4)
	same(s.suite, "of another account", len(entries(account.Query{AccountID: "c2"})), 0)
	same(s.suite, "from and to", entries(account.Query{From: whole.Add(1), To: whole.Add(time.Second)}), want[1:3])
	same(s.suite, "the latest", entries(account.Query{Limit: 2}), want[2:])
	same(s.suite, "the earliest", entries(account.Query{First: 2}), want[:2])
	stranger := account.Entry{At: whole.Add(time.Minute), AccountID: "nobody", AthleteID: "nobody", What: "five"}
	s.put(func(tx account.Tx) error { return tx.AddEntry(&stranger) })
	stranger.AccountID, stranger.AthleteID = "", ""
	same(s.suite, "of who is not there", entries(account.Query{Limit: 1}), []account.Entry{stranger})
}

func deskAnswers(s *deskSuite) {
	c := s.begin()
	a := account.Answer{AccountID: c.ID, Key: "k", Request: []byte{1}, AthleteID: "ann", At: noon}
	s.put(func(tx account.Tx) error { return tx.PutAnswer(&a) })
	by := func(tx account.Tx) (*account.Answer, error) { return tx.Answer(c.ID, "k") }
	got := found(s, by)
	if got.Status != 0 || len(got.Body) != 0 || string(got.Request) != "\x01" || got.AthleteID != "ann" || !got.At.Equal(noon) {
		s.Fatalf("begun: %+v", got)
	}
	a.Status, a.Header, a.Body = 201, map[string]string{"Location": "/x"}, []byte(`{"a":1}`)
	s.put(func(tx account.Tx) error { return tx.PutAnswer(&a) })
	same(s.suite, "done", found(s, by), &a)
	missing(s, func(tx account.Tx) (*account.Answer, error) { return tx.Answer("c2", "k") })
	s.put(func(tx account.Tx) error { return tx.DropAnswers(noon) })
	same(s.suite, "kept", found(s, by), &a)
	s.put(func(tx account.Tx) error { return tx.DropAnswers(noon.Add(1)) })
	missing(s, by)
	s.put(func(tx account.Tx) error { return errors.Join(tx.PutAnswer(&a), tx.DropAnswer(c.ID, "k")) })
	missing(s, by)
}

func deskErasure(s *deskSuite) {
	c := s.begin()
	own := account.Account{ID: "a1", Login: "ann", Name: "Ann Marker", Role: access.Athlete, AthleteID: "ann", MadeAt: noon}
	s.put(func(tx account.Tx) error {
		return errors.Join(tx.PutAccount(&own),
			tx.OpenSession(&account.Session{Hash: []byte{1}, AccountID: own.ID}),
			tx.PutPasskey(new(passkey(own.ID))),
			tx.PutToken(&account.Token{ID: "t1", AccountID: own.ID, Hash: []byte{1}}),
			tx.PutInvitation(&account.Invitation{ID: "i1", AthleteID: "ann", Hash: []byte{1}}),
			tx.PutAnswer(&account.Answer{AccountID: c.ID, Key: "k", Request: []byte{1}, AthleteID: "ann", At: noon}),
			tx.AddEntry(&account.Entry{At: noon, AccountID: own.ID, Who: own.Name, Address: "192.0.2.1", AthleteID: "ann", What: "recorded the log"}),
			tx.AddEntry(&account.Entry{At: noon, AccountID: c.ID, Who: c.Name, Address: "192.0.2.2", AthleteID: "ann", What: "read the log"}))
	})
	s.write(func(tx app.Tx) error { return tx.RemoveAthlete("ann") })
	c.Athletes = []string{"ben"}
	same(s.suite, "accounts", found(s, account.Tx.Accounts), []account.Account{c})
	missing(s, func(tx account.Tx) (*account.Session, error) { return tx.SessionBy([]byte{1}) })
	missing(s, func(tx account.Tx) (*account.Passkey, error) { return tx.PasskeyBy([]byte{1, 0, 255}) })
	missing(s, func(tx account.Tx) (*account.Token, error) { return tx.Token("t1") })
	missing(s, func(tx account.Tx) (*account.Invitation, error) { return tx.InvitationBy([]byte{1}) })
	missing(s, func(tx account.Tx) (*account.Answer, error) { return tx.Answer(c.ID, "k") })
	same(s.suite, "record", found(s, func(tx account.Tx) ([]account.Entry, error) { return tx.Entries(account.Query{}) }), []account.Entry{
		{At: noon, Who: "erased", What: "recorded the log"},
		{At: noon, AccountID: c.ID, Who: "Wren", Address: "192.0.2.2", What: "read the log"},
	})
	// One who comes again under the same ID has nothing to do with it.
	s.putAthletes("ann")
	same(s.suite, "of the new one", len(found(s, func(tx account.Tx) ([]account.Entry, error) {
		return tx.Entries(account.Query{AthleteID: "ann"})
	})), 0)
}

func deskUndo(s *deskSuite) {
	c := s.begin()
	err := s.accounts.Write(s.Context(), func(tx account.Tx) error {
		changed := c
		changed.Name = "Other"
		if err := errors.Join(tx.PutAccount(&changed), tx.AddEntry(&account.Entry{At: noon, What: "x"})); err != nil {
			s.Fatal(err)
		}
		return errDeliberate
	})
	if !errors.Is(err, errDeliberate) {
		s.Fatalf("the error is %v", err)
	}
	same(s.suite, "accounts", found(s, account.Tx.Accounts), []account.Account{c})
	same(s.suite, "record", len(found(s, func(tx account.Tx) ([]account.Entry, error) { return tx.Entries(account.Query{}) })), 0)
	if err := s.accounts.Read(s.Context(), func(tx account.Tx) error { return tx.PutAccount(&c) }); err == nil {
		s.Fatal("a read transaction wrote")
	}
}
