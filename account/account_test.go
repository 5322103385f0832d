package account_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/alexedwards/argon2id"

	"glidepath/access"
	"glidepath/account"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/store"
)

const (
	password = "four words nobody guesses"
	here     = "127.0.0.1:5000"
	there    = "192.0.2.7:5000" // a documentation address, RFC 5737
)

// cheap hashes passwords quickly: these tests are not about that.
var cheap = &argon2id.Params{Memory: 64, Iterations: 1, Parallelism: 1, SaltLength: 16, KeyLength: 32}

type fixture struct {
	*testing.T
	*account.Desk
	data *store.Store
	now  time.Time
	me   *account.Visitor
}

func open(t *testing.T) *fixture {
	t.Helper()
	s, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "data.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	f := &fixture{T: t, data: s, now: time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC), me: account.Console("test")}
	f.Desk = &account.Desk{Store: s.Accounts(), Now: func() time.Time { return f.now }, Cost: cheap}
	for _, id := range []string{"ana", "ben"} {
		err := s.Write(t.Context(), func(tx app.Tx) error {
			return tx.PutAthlete(&athlete.Athlete{
				ID: id, Name: "Invented " + id, Sex: athlete.Female, BirthDate: civil.Of(1994, 5, 17), HeightCm: 167, WeightKg: 68, StepsPerDay: 8000,
			})
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return f
}

func (f *fixture) add(role access.Role, login string) *account.Account {
	f.Helper()
	a := account.Account{Login: login, Name: "Name of " + login, Role: role}
	switch role {
	case access.Coach, access.Assistant:
		a.Athletes = []string{"ana"}
	case access.Athlete:
		a.AthleteID = "ana"
	}
	out, err := f.Add(f.Context(), f.me, a, password)
	if err != nil {
		f.Fatal(err)
	}
	return out
}

func (f *fixture) signIn(login string) string {
	f.Helper()
	secret, err := f.SignIn(f.Context(), login, password, there)
	if err != nil {
		f.Fatal(err)
	}
	return secret
}

func wants(t *testing.T, what string, err error, kind fault.Kind) {
	t.Helper()
	if kind == "" && err != nil || kind != "" && fault.KindOf(err) != kind {
		t.Errorf("%s gave %v, not %q", what, err, kind)
	}
}

func TestSignInAndOut(t *testing.T) {
	f := open(t)
	wren := f.add(access.Coach, "Wren@Example.org ")
	if wren.Login != "wren@example.org" {
		t.Errorf("the login is %q", wren.Login)
	}
	secret := f.signIn(" WREN@example.org")
	v, err := f.BySession(t.Context(), secret, there)
	if err != nil {
		t.Fatal(err)
	}
	if v.AccountID != wren.ID || v.Role != access.Coach || v.Address != "192.0.2.7" || !v.May(access.Decide, "ana") || v.May(access.See, "ben") {
		t.Errorf("the visitor is %+v", v)
	}
	other := f.signIn("wren@example.org")
	if other == secret {
		t.Fatal("two sessions have one secret")
	}
	if self, err := f.Self(t.Context(), v); err != nil || len(self.Sessions) != 2 || !self.Password || !self.Fresh || self.Account.Login != wren.Login {
		t.Errorf("of themselves they see %+v, %v", self, err)
	}
	wants(t, "signing out", f.SignOut(t.Context(), v), "")
	_, err = f.BySession(t.Context(), secret, there)
	wants(t, "a session that is over", err, fault.SignIn)
	v, err = f.BySession(t.Context(), other, there)
	wants(t, "the other session", err, "")
	third := f.signIn("wren@example.org")
	wants(t, "signing out elsewhere", f.SignOutElsewhere(t.Context(), v), "")
	_, err = f.BySession(t.Context(), third, there)
	wants(t, "another session after signing out elsewhere", err, fault.SignIn)
	_, err = f.BySession(t.Context(), other, there)
	wants(t, "the present session", err, "")
	wants(t, "signing out elsewhere as nobody", f.SignOutElsewhere(t.Context(), nil), fault.SignIn)
	wants(t, "signing out elsewhere without a session", f.SignOutElsewhere(t.Context(), f.me), fault.SignIn)
	for _, secret := range []string{"", "x", secret + "a"} {
		_, err = f.BySession(t.Context(), secret, there)
		wants(t, "a made-up session", err, fault.SignIn)
	}
}

// Sessions end by themselves: a while after they were last used, and at the latest
// a while after they were made.
func TestSessionsEnd(t *testing.T) {
	f := open(t)
	f.add(access.Owner, "imogen")
	begun := f.now
	secret := f.signIn("imogen")
	for f.now.Sub(begun) < account.SessionLife-10*24*time.Hour {
		f.now = f.now.Add(10 * 24 * time.Hour)
		_, err := f.BySession(t.Context(), secret, there)
		wants(t, f.now.String(), err, "")
	}
	f.now = begun.Add(account.SessionLife)
	_, err := f.BySession(t.Context(), secret, there)
	wants(t, "a session past its life", err, fault.SignIn)
	idle := f.signIn("imogen")
	f.now = f.now.Add(22 * 24 * time.Hour)
	_, err = f.BySession(t.Context(), idle, there)
	wants(t, "a session not used for three weeks", err, fault.SignIn)
}

// A wrong login, a wrong password and a disabled account are told in the same
// words, and each does the work of hashing a password.
func TestSignInTellsNothing(t *testing.T) {
	f := open(t)
	f.add(access.Owner, "imogen")
	shut := f.add(access.Coach, "wren")
	wants(t, "disabling", f.Disable(t.Context(), f.me, shut.ID, true), "")
	var words []string
	for _, c := range [][2]string{{"nobody", password}, {"imogen", "another password"}, {"wren", password}, {"", ""}, {strings.Repeat("x", 1000), password}, {"imogen", strings.Repeat("x", 100_000)}} {
		_, err := f.SignIn(t.Context(), c[0], c[1], there)
		wants(t, c[0], err, fault.SignIn)
		words = append(words, err.Error())
	}
	for _, w := range words {
		if w != words[0] {
			t.Errorf("told apart: %q and %q", w, words[0])
		}
	}
	lines, err := f.Entries(t.Context(), f.me, account.Query{})
	if err != nil {
		t.Fatal(err)
	}
	failed := 0
	for _, l := range lines {
		if l.What == "failed to sign in" {
			failed++
			if strings.Contains(fmt.Sprint(l), "nobody") {
				t.Errorf("what was typed for a login is kept: %+v", l)
			}
		}
	}
	if failed != 4 {
		t.Errorf("%d failed sign-ins are in the record, not 4", failed)
	}
}

// Guessing is slowed down, for an account and from an address; what was guessed
// right is not counted, and time forgives.
func TestGuessingIsSlowed(t *testing.T) {
	f := open(t)
	f.add(access.Owner, "imogen")
	f.add(access.Coach, "wren")
	try := func(login, password, address string) error {
		_, err := f.SignIn(t.Context(), login, password, address)
		return err
	}
	for i := range 10 {
		wants(t, "a wrong password", try("imogen", "wrong wrong wrong", fmt.Sprintf("192.0.2.%d:1", i)), fault.SignIn)
	}
	wants(t, "the eleventh, even right", try("imogen", password, "198.51.100.1:1"), fault.TooMany)
	wants(t, "another account", try("wren", password, "192.0.2.1:1"), "")
	f.now = f.now.Add(15 * time.Minute)
	wants(t, "a quarter of an hour later", try("imogen", password, "198.51.100.1:1"), "")
	for i := range 30 {
		wants(t, "a made-up login", try(fmt.Sprint("nobody", i), password, fmt.Sprintf("[2001:db8::%x]:1", i+1)), fault.SignIn)
	}
	wants(t, "the same network", try("imogen", password, "[2001:db8::ffff]:1"), fault.TooMany)
	wants(t, "another network", try("imogen", password, "[2001:db8:0:1::1]:1"), "")
	// Many at once count like many in turn.
	var wg sync.WaitGroup
	var mu sync.Mutex
	passed := 0
	for i := range 40 {
		wg.Go(func() {
			if err := try("wren", "wrong wrong wrong", fmt.Sprintf("203.0.113.%d:1", i)); fault.KindOf(err) == fault.SignIn {
				mu.Lock()
				passed++
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	if passed != 10 {
		t.Errorf("%d of 40 guesses at once were looked at, not 10", passed)
	}
}

func TestFirstAccount(t *testing.T) {
	f := open(t)
	_, err := f.First(t.Context(), "imogen", "Imogen", password, there)
	wants(t, "the first account from elsewhere", err, fault.Forbidden)
	_, err = f.First(t.Context(), "imogen", "Imogen", "short", here)
	wants(t, "a short password", err, fault.Invalid)
	if has, err := f.HasAccounts(t.Context()); has || err != nil {
		t.Fatalf("has accounts: %v, %v", has, err)
	}
	secret, err := f.First(t.Context(), "imogen", "Imogen", password, "[::1]:80")
	wants(t, "the first account", err, "")
	v, err := f.BySession(t.Context(), secret, here)
	if err != nil || v.Role != access.Owner {
		t.Errorf("%+v, %v", v, err)
	}
	_, err = f.First(t.Context(), "other", "Other", password, here)
	wants(t, "a second first account", err, fault.Forbidden)
}

func TestPasswords(t *testing.T) {
	f := open(t)
	for _, bad := range []string{"", "short", "eleven char", strings.Repeat("ab", 20), "xx imogen xx 12", strings.Repeat("abcdefgh", 26)} {
		_, err := f.Add(t.Context(), f.me, account.Account{Login: "imogen", Name: "Imogen", Role: access.Owner}, bad)
		wants(t, bad, err, fault.Invalid)
	}
	a := f.add(access.Owner, "imogen")
	if !strings.HasPrefix(a.Password, "$argon2id$") || strings.Contains(a.Password, password) {
		t.Errorf("the password is stored as %q", a.Password)
	}
	v, err := f.BySession(t.Context(), f.signIn("imogen"), there)
	if err != nil {
		t.Fatal(err)
	}
	const fresh = "four other words entirely"
	change := func(v *account.Visitor, old, new string) (string, error) {
		return f.ChangePassword(t.Context(), v, account.Proof{Password: old}, new)
	}
	_, err = change(v, "wrong wrong wrong", fresh)
	wants(t, "without the present password", err, fault.SignIn)
	_, err = change(v, "", fresh)
	wants(t, "without any", err, fault.SignIn)
	_, err = change(v, password, "short")
	wants(t, "a short password", err, fault.Invalid)
	_, err = change(nil, password, fresh)
	wants(t, "by a stranger", err, fault.SignIn)
	other := f.signIn("imogen")
	session, err := change(v, password, fresh)
	wants(t, "changing the password", err, "")
	_, err = f.BySession(t.Context(), other, there)
	wants(t, "the session elsewhere", err, fault.SignIn)
	_, err = f.Self(t.Context(), v)
	wants(t, "the session before", err, fault.SignIn)
	_, err = f.BySession(t.Context(), session, there)
	wants(t, "the new session", err, "")
	_, err = f.SignIn(t.Context(), "imogen", password, there)
	wants(t, "the old password", err, fault.SignIn)
	_, err = f.SignIn(t.Context(), "imogen", fresh, there)
	wants(t, "the new password", err, "")
	wants(t, "a password by a stranger", f.SetPassword(t.Context(), nil, a.ID, fresh), fault.SignIn)
}

// The recommended cost is that of RFC 9106, section 4, second option: 64 MiB, three
// passes, four lanes.
func TestRecommendedCost(t *testing.T) {
	f := open(t)
	f.Cost = nil
	a := f.add(access.Owner, "imogen")
	if !strings.HasPrefix(a.Password, "$argon2id$v=19$m=65536,t=3,p=4$") {
		t.Errorf("the password is stored as %.40s", a.Password)
	}
	f.signIn("imogen")
}

// Who may not manage the desk may do nothing of it, and the last owner stays.
func TestManaging(t *testing.T) {
	f := open(t)
	owner := f.add(access.Owner, "imogen")
	coach := f.add(access.Coach, "wren")
	v, err := f.BySession(t.Context(), f.signIn("wren"), there)
	if err != nil {
		t.Fatal(err)
	}
	ctx := t.Context()
	for _, who := range []*account.Visitor{v, nil} {
		kind := fault.Forbidden
		if who == nil {
			kind = fault.SignIn
		}
		for what, do := range map[string]func() error{
			"Add":         func() error { _, err := f.Add(ctx, who, account.Account{}, password); return err },
			"Accounts":    func() error { _, err := f.Accounts(ctx, who); return err },
			"Account":     func() error { _, err := f.Account(ctx, who, "imogen"); return err },
			"Disable":     func() error { return f.Disable(ctx, who, owner.ID, true) },
			"SetPassword": func() error { return f.SetPassword(ctx, who, owner.ID, password) },
			"SetRole":     func() error { return f.SetRole(ctx, who, owner.ID, access.Coach) },
			"Passkeys":    func() error { _, err := f.Passkeys(ctx, who, owner.ID); return err },
			"SetAthletes": func() error { return f.SetAthletes(ctx, who, coach.ID, []string{"ana", "ben"}) },
			"Entries":     func() error { _, err := f.Entries(ctx, who, account.Query{}); return err },
			"Tokens":      func() error { _, err := f.Tokens(ctx, who, ""); return err },
		} {
			wants(t, what, do(), kind)
		}
	}
	wants(t, "disabling the last owner", f.Disable(ctx, f.me, owner.ID, true), fault.Conflict)
	f.add(access.Owner, "second")
	wants(t, "disabling one of two", f.Disable(ctx, f.me, owner.ID, true), "")
	wants(t, "an athlete who is not there", f.SetAthletes(ctx, f.me, coach.ID, []string{"nobody"}), fault.NotFound)
	wants(t, "athletes", f.SetAthletes(ctx, f.me, coach.ID, []string{"ben", "ana", "ben"}), "")
	v, err = f.BySession(ctx, f.signIn("wren"), there)
	if err != nil || !v.May(access.Decide, "ben") {
		t.Errorf("the coach's new athlete is not theirs: %v", err)
	}
	// A session that outlived the disabling, as by a write past this program, is no
	// use either.
	session := f.signIn("wren")
	err = f.Store.Write(ctx, func(tx account.Tx) error {
		a, err := tx.Account(coach.ID)
		if err != nil {
			return err
		}
		a.Disabled = true
		return tx.PutAccount(a)
	})
	wants(t, "disabling past the desk", err, "")
	_, err = f.BySession(ctx, session, there)
	wants(t, "a session of a disabled account", err, fault.SignIn)
	wants(t, "disabling the coach", f.Disable(ctx, f.me, coach.ID, true), "")
	wants(t, "enabling the coach", f.Disable(ctx, f.me, coach.ID, false), "")
	f.signIn("wren")
}

// No secret and no password is in the file.
func TestNothingSecretIsStored(t *testing.T) {
	f := open(t)
	a := f.add(access.Coach, "wren")
	session := f.signIn("wren")
	token, _, err := f.AddToken(t.Context(), f.me, a.ID, "scale", account.AllScopes(), 0)
	if err != nil {
		t.Fatal(err)
	}
	invitation, _, err := f.Invite(t.Context(), f.me, "ben")
	if err != nil {
		t.Fatal(err)
	}
	content := []byte{}
	for _, suffix := range []string{"", "-wal"} {
		b, err := os.ReadFile(f.data.Path() + suffix)
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			t.Fatal(err)
		}
		content = append(content, b...)
	}
	if !bytes.Contains(content, []byte("argon2id")) {
		t.Fatal("the file does not hold what was stored: the test proves nothing")
	}
	for what, secret := range map[string]string{"password": password, "session": session, "token": token[17:], "invitation": invitation} {
		if bytes.Contains(content, []byte(secret)) {
			t.Errorf("the %s is in the file", what)
		}
	}
}

// A request that was begun and never finished does not lock its key for ever.
func TestDeadRequest(t *testing.T) {
	f := open(t)
	f.add(access.Coach, "wren")
	v, err := f.BySession(t.Context(), f.signIn("wren"), there)
	if err != nil {
		t.Fatal(err)
	}
	begin := func() error {
		_, err := f.Begin(context.Background(), v, "k", []byte{1}, "ana")
		return err
	}
	wants(t, "beginning", begin(), "")
	wants(t, "beginning at once again", begin(), fault.Conflict)
	f.now = f.now.Add(2 * time.Minute)
	wants(t, "beginning after a crash", begin(), "")
	wants(t, "abandoning", f.Abandon(t.Context(), v, "k"), "")
	wants(t, "beginning anew", begin(), "")
}
