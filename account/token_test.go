package account_test

import (
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"glidepath/access"
	"glidepath/account"
	"glidepath/fault"
)

func TestTokens(t *testing.T) {
	f := open(t)
	wren := f.add(access.Coach, "wren")
	owner := f.add(access.Owner, "imogen")
	v, err := f.BySession(t.Context(), f.signIn("wren"), there)
	if err != nil {
		t.Fatal(err)
	}
	scopes := account.Scopes{account.ScopeRead, account.ScopeLog}
	text, tok, err := f.AddToken(t.Context(), v, wren.ID, "scale", scopes, 0)
	wants(t, "a token of one's own", err, "")
	_, _, err = f.AddToken(t.Context(), v, owner.ID, "mischief", scopes, 0)
	wants(t, "a token of the owner's", err, fault.Forbidden)
	by, err := f.ByToken(t.Context(), text, there)
	if err != nil {
		t.Fatal(err)
	}
	if !by.May(access.See, "ana") || !by.May(access.Log, "ana") || by.May(access.Draft, "ana") || by.May(access.Decide, "ana") || by.May(access.See, "ben") || by.Via != "token "+tok.ID {
		t.Errorf("the token's visitor is %+v", by)
	}
	_, _, err = f.AddToken(t.Context(), by, wren.ID, "child", account.AllScopes(), 0)
	wants(t, "a token by a token", err, fault.Forbidden)
	for _, bad := range []string{"", "x", text[:len(text)-1], text + "a", strings.Replace(text, tok.ID, "aaaaaaaaaa", 1), strings.ToUpper(text), "glide__"} {
		_, err := f.ByToken(t.Context(), bad, there)
		wants(t, "the token "+bad, err, fault.SignIn)
	}
	wants(t, "revoking as another", f.RevokeToken(t.Context(), &account.Visitor{Actor: access.Actor{Role: access.Coach, AccountID: "x"}}, tok.ID), fault.NotFound)
	wants(t, "revoking", f.RevokeToken(t.Context(), v, tok.ID), "")
	_, err = f.ByToken(t.Context(), text, there)
	wants(t, "a revoked token", err, fault.SignIn)

	text, _, err = f.AddToken(t.Context(), f.me, wren.ID, "short", scopes, time.Hour)
	wants(t, "a short-lived token", err, "")
	f.now = f.now.Add(time.Hour)
	_, err = f.ByToken(t.Context(), text, there)
	wants(t, "a token past its time", err, fault.SignIn)
	text, _, err = f.AddToken(t.Context(), f.me, wren.ID, "another", scopes, 0)
	wants(t, "another token", err, "")
	wants(t, "disabling", f.Disable(t.Context(), f.me, wren.ID, true), "")
	_, err = f.ByToken(t.Context(), text, there)
	wants(t, "a token of a disabled account", err, fault.SignIn)
	for what, add := range map[string]func() error{
		"no scope": func() error { _, _, err := f.AddToken(t.Context(), f.me, wren.ID, "x", nil, 0); return err },
		"no name":  func() error { _, _, err := f.AddToken(t.Context(), f.me, wren.ID, " ", scopes, 0); return err },
		"two years": func() error {
			_, _, err := f.AddToken(t.Context(), f.me, wren.ID, "x", scopes, 2*account.MaxTokenLife)
			return err
		},
		"a past end": func() error { _, _, err := f.AddToken(t.Context(), f.me, wren.ID, "x", scopes, -time.Hour); return err },
	} {
		wants(t, what, add(), fault.Invalid)
	}
}

func TestInvitations(t *testing.T) {
	f := open(t)
	f.add(access.Coach, "wren")
	f.add(access.Assistant, "sol")
	coach, err := f.BySession(t.Context(), f.signIn("wren"), there)
	if err != nil {
		t.Fatal(err)
	}
	assistant, err := f.BySession(t.Context(), f.signIn("sol"), there)
	if err != nil {
		t.Fatal(err)
	}
	invite := func(v *account.Visitor, id string) (string, error) {
		secret, _, err := f.Invite(t.Context(), v, id)
		return secret, err
	}
	accept := func(secret, login string) (string, error) {
		return f.Accept(t.Context(), secret, login, "Ana", password, there)
	}
	_, err = invite(assistant, "ana")
	wants(t, "an invitation by an assistant", err, fault.Forbidden)
	_, err = invite(coach, "ben")
	wants(t, "an invitation for another's athlete", err, fault.NotFound)
	first, err := invite(coach, "ana")
	wants(t, "an invitation", err, "")
	second, err := invite(coach, "ana")
	wants(t, "an invitation anew", err, "")
	_, err = accept(first, "ana@example.org")
	wants(t, "the invitation before", err, fault.NotFound)
	_, err = accept(second, "wren")
	wants(t, "a login that is taken", err, fault.Conflict)
	_, err = f.Accept(t.Context(), second, "ana@example.org", "Ana", "short", there)
	wants(t, "a short password", err, fault.Invalid)
	session, err := accept(second, "ana@example.org")
	wants(t, "accepting", err, "")
	v, err := f.BySession(t.Context(), session, there)
	if err != nil || v.Role != access.Athlete || v.AthleteID != "ana" || !v.May(access.Log, "ana") || v.May(access.See, "ana") || v.May(access.Log, "ben") {
		t.Errorf("the athlete is %+v, %v", v, err)
	}
	_, err = accept(second, "again@example.org")
	wants(t, "accepting twice", err, fault.NotFound)
	_, err = invite(coach, "ana")
	wants(t, "inviting who has an account", err, fault.Conflict)

	late, err := invite(f.me, "ben")
	wants(t, "an invitation by the owner", err, "")
	f.now = f.now.Add(account.InvitationLife)
	_, err = accept(late, "ben@example.org")
	wants(t, "an invitation past its time", err, fault.NotFound)
	secret, i, err := f.Invite(t.Context(), f.me, "ben")
	wants(t, "an invitation", err, "")
	wants(t, "revoking", f.RevokeInvitation(t.Context(), f.me, "ben", i.ID), "")
	_, err = f.Invited(t.Context(), secret)
	wants(t, "a revoked invitation", err, fault.NotFound)
	wants(t, "revoking what is not there", f.RevokeInvitation(t.Context(), f.me, "ben", "x"), fault.NotFound)
}

// Of two who accept at once, one gets the account.
func TestAcceptAtOnce(t *testing.T) {
	f := open(t)
	secret, _, err := f.Invite(t.Context(), f.me, "ana")
	if err != nil {
		t.Fatal(err)
	}
	var wg sync.WaitGroup
	won := make(chan error, 8)
	for i := range 8 {
		wg.Go(func() {
			_, err := f.Accept(t.Context(), secret, fmt.Sprintf("ana%d", i), "Ana", password, there)
			won <- err
		})
	}
	wg.Wait()
	close(won)
	n := 0
	for err := range won {
		if err == nil {
			n++
		} else {
			wants(t, "the one too late", err, fault.NotFound)
		}
	}
	if n != 1 {
		t.Errorf("%d of 8 got the account", n)
	}
}
