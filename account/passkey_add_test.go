package account_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"time"

	"glidepath/access"
	"glidepath/account"
	"glidepath/account/accounttest"
	"glidepath/fault"
)

func TestMakingIsBound(t *testing.T) {
	f := open(t)
	f.add(access.Coach, "wren")
	f.add(access.Owner, "imogen")
	wren, again, imogen := f.signed("wren"), f.signed("wren"), f.signed("imogen")
	ctx := t.Context()
	ask := func() []byte {
		t.Helper()
		question, err := f.AskPasskey(ctx, wren, desk(t), account.Proof{})
		wants(t, "asking", err, "")
		return question
	}
	for name, v := range map[string]*account.Visitor{"another account": imogen, "another session": again} {
		_, err := f.KeepPasskey(ctx, v, "x", device().Make(t, ask()))
		wants(t, name, err, fault.Invalid)
	}
	for name, v := range map[string]*account.Visitor{"nobody": nil, "the command line": f.me} {
		_, err := f.KeepPasskey(ctx, v, "x", device().Make(t, ask()))
		wants(t, name, err, fault.SignIn)
		_, err = f.AskPasskey(ctx, v, desk(t), account.Proof{})
		wants(t, name, err, fault.SignIn)
	}
	for name, d := range map[string]*accounttest.Device{
		"another origin": {Origin: "https://evil.example"}, "another host": {Origin: origin, Host: "evil.example"},
		"no check of who uses it": {Origin: origin, Unverified: true}, "copied but not to be copied": {Origin: origin, Backup: 16},
	} {
		_, err := f.KeepPasskey(ctx, wren, "x", d.Make(t, ask()))
		wants(t, name, err, fault.Invalid)
	}
	answer := device().Make(t, ask())
	p, err := f.KeepPasskey(ctx, wren, "  ", answer)
	wants(t, "keeping", err, "")
	if p.Name != "Passkey of 2 March 2026" {
		t.Errorf("unnamed it is %q", p.Name)
	}
	_, err = f.KeepPasskey(ctx, wren, "x", answer)
	wants(t, "the same answer again", err, fault.Invalid)
	late := ask()
	f.now = f.now.Add(account.CeremonyLife)
	_, err = f.KeepPasskey(ctx, wren, "x", device().Make(t, late))
	wants(t, "too late", err, fault.Invalid)
	_, err = f.KeepPasskey(ctx, wren, strings.Repeat("x", 200), device().Make(t, ask()))
	wants(t, "a long name", err, fault.Invalid)
	if all, err := f.Passkeys(ctx, wren, wren.AccountID); err != nil || len(all) != 1 {
		t.Errorf("%d passkeys are kept, %v", len(all), err)
	}
}

func TestAddingNeedsProof(t *testing.T) {
	f := open(t)
	f.add(access.Coach, "wren")
	v, d := f.signed("wren"), device()
	f.addPasskey(v, d)
	f.now = f.now.Add(account.FreshFor)
	ctx := t.Context()
	add := func(p account.Proof) error {
		question, err := f.AskPasskey(ctx, v, desk(t), p)
		if err == nil {
			_, err = f.KeepPasskey(ctx, v, "x", device().Make(t, question))
		}
		return err
	}
	prove := func(d *accounttest.Device) account.Proof {
		question, err := f.AskProof(ctx, v, desk(t))
		wants(t, "asking for a proof", err, "")
		return account.Proof{Passkey: d.ShowAnyway(t, question)}
	}
	wants(t, "without a proof", add(account.Proof{}), fault.SignIn)
	wants(t, "with a wrong password", add(account.Proof{Password: "wrong wrong wrong"}), fault.SignIn)
	wants(t, "with the password", add(account.Proof{Password: password}), "")
	wants(t, "with a passkey", add(prove(d)), "")
	f.add(access.Owner, "imogen")
	other := device()
	f.addPasskey(f.signed("imogen"), other)
	wants(t, "with another's passkey", add(prove(other)), fault.SignIn)
	bad := d.Copy()
	bad.Spoilt = true
	wants(t, "with a spoilt passkey", add(prove(bad)), fault.SignIn)
	proof := prove(d)
	wants(t, "with a passkey", add(proof), "")
	wants(t, "with the same proof again", add(proof), fault.SignIn)
	// Failures count as failed sign-ins do.
	var err error
	for range 10 {
		err = add(account.Proof{Password: "wrong wrong wrong"})
	}
	wants(t, "guessing", err, fault.TooMany)
	wants(t, "a passkey after it", add(prove(d)), fault.TooMany)
	f.now = f.now.Add(15 * time.Minute)
	for n := 4; n < account.MostPasskeys; n++ {
		wants(t, "one more", add(account.Proof{Password: password}), "")
	}
	wants(t, "one too many", add(account.Proof{Password: password}), fault.Conflict)
}

func TestChangePasswordByPasskey(t *testing.T) {
	f := open(t)
	a := f.add(access.Coach, "wren")
	v, d := f.signed("wren"), device()
	_, err := f.AskProof(t.Context(), v, desk(t))
	wants(t, "a proof without a passkey", err, fault.Conflict)
	f.addPasskey(v, d)
	f.withoutPassword(a.ID)
	_, err = f.SignIn(t.Context(), "wren", "", there)
	wants(t, "an empty password where there is none", err, fault.SignIn)
	_, err = f.SignIn(t.Context(), "wren", password, there)
	wants(t, "a password where there is none", err, fault.SignIn)
	question, err := f.AskProof(t.Context(), v, desk(t))
	wants(t, "asking", err, "")
	const fresh = "four other words entirely"
	_, err = f.ChangePassword(t.Context(), v, account.Proof{}, fresh)
	wants(t, "without a proof", err, fault.SignIn)
	session, err := f.ChangePassword(t.Context(), v, account.Proof{Passkey: d.Show(t, question)}, fresh)
	wants(t, "with a passkey", err, "")
	f.visitor(session)
	_, err = f.SignIn(t.Context(), "wren", fresh, there)
	wants(t, "the new password", err, "")
}

func (f *fixture) withoutPassword(id string) {
	f.Helper()
	err := f.Store.Write(f.Context(), func(tx account.Tx) error {
		a, err := tx.Account(id)
		if err != nil {
			return err
		}
		a.Password = ""
		return tx.PutAccount(a)
	})
	if err != nil {
		f.Fatal(err)
	}
}

func TestRemoveAndRename(t *testing.T) {
	f := open(t)
	wren := f.add(access.Coach, "wren")
	f.add(access.Coach, "kai")
	v, other := f.signed("wren"), f.signed("kai")
	one, two := f.addPasskey(v, device()), f.addPasskey(v, device())
	ctx := t.Context()
	wants(t, "renaming another's", f.RenamePasskey(ctx, other, one.ID, "x"), fault.NotFound)
	wants(t, "removing another's", f.RemovePasskey(ctx, other, one.ID), fault.NotFound)
	wants(t, "renaming what is not there", f.RenamePasskey(ctx, v, "nothing", "x"), fault.NotFound)
	wants(t, "removing what is not there", f.RemovePasskey(ctx, v, "nothing"), fault.NotFound)
	wants(t, "renaming by nobody", f.RenamePasskey(ctx, nil, one.ID, "x"), fault.SignIn)
	wants(t, "removing by nobody", f.RemovePasskey(ctx, nil, one.ID), fault.SignIn)
	wants(t, "renaming", f.RenamePasskey(ctx, v, one.ID, " tablet "), "")
	wants(t, "a name of two lines", f.RenamePasskey(ctx, v, one.ID, "a\nb"), fault.Invalid)

	text, _, err := f.AddToken(ctx, v, wren.ID, "scale", account.Scopes{account.ScopeRead, account.ScopeLog}, 0)
	wants(t, "a token", err, "")
	token, err := f.ByToken(ctx, text, there)
	wants(t, "a token", err, "")
	all, err := f.Passkeys(ctx, token, wren.ID)
	if err != nil || len(all) != 2 || !slices.ContainsFunc(all, func(p account.Passkey) bool { return p.ID == one.ID && p.Name == "tablet" }) {
		t.Errorf("a token lists %+v, %v", all, err)
	}
	wants(t, "removing by a token without the scope", f.RemovePasskey(ctx, token, one.ID), fault.Forbidden)
	_, err = f.AskPasskey(ctx, token, desk(t), account.Proof{Password: password})
	wants(t, "adding by a token", err, fault.SignIn)

	f.withoutPassword(wren.ID)
	wants(t, "removing", f.RemovePasskey(ctx, v, one.ID), "")
	wants(t, "removing the last way in", f.RemovePasskey(ctx, v, two.ID), fault.Conflict)
	wants(t, "removing the last way in, by an owner", f.RemovePasskey(ctx, f.me, two.ID), fault.Conflict)
	if self, err := f.Self(ctx, v); err != nil || len(self.Passkeys) != 1 || self.Passkeys[0].ID != two.ID {
		t.Errorf("after removing one's own: %+v, %v", self, err)
	}
	wants(t, "a password", f.SetPassword(ctx, f.me, wren.ID, password), "")
	session := f.signIn("wren")
	wants(t, "removing by an owner", f.RemovePasskey(ctx, f.me, two.ID), "")
	_, err = f.BySession(ctx, session, there)
	wants(t, "a session after an owner removed a passkey", err, fault.SignIn)
}

func TestAcceptByPasskey(t *testing.T) {
	f := open(t)
	f.add(access.Coach, "wren")
	secret, _, err := f.Invite(t.Context(), f.me, "ana")
	wants(t, "inviting", err, "")
	other, _, err := f.Invite(t.Context(), f.me, "ben")
	wants(t, "inviting another", err, "")
	ctx := t.Context()
	ask := func(login string) ([]byte, error) { return f.AskAccept(ctx, secret, login, "Ana", desk(t), there) }
	_, err = ask("wren")
	wants(t, "a login that is taken", err, fault.Conflict)
	_, err = ask("a b")
	wants(t, "no login", err, fault.Invalid)
	_, err = f.AskAccept(ctx, "made up", "ana", "Ana", desk(t), there)
	wants(t, "no invitation", err, fault.NotFound)
	question, err := ask("Ana@example.org")
	wants(t, "asking", err, "")
	if bytes.Contains(question, []byte(secret)) {
		t.Error("the question has the invitation's secret")
	}
	d := device()
	_, err = f.AcceptByPasskey(ctx, other, d.Make(t, question), there)
	wants(t, "another's invitation", err, fault.Invalid)
	question, err = ask("ana@example.org")
	wants(t, "asking", err, "")
	d.Origin = "https://evil.example"
	_, err = f.AcceptByPasskey(ctx, secret, d.Make(t, question), there)
	wants(t, "another origin", err, fault.Invalid)

	d = device()
	question, err = ask("ana@example.org")
	wants(t, "asking", err, "")
	answer := d.Make(t, question)
	session, err := f.AcceptByPasskey(ctx, secret, answer, there)
	wants(t, "accepting", err, "")
	v := f.visitor(session)
	if v.Role != access.Athlete || v.AthleteID != "ana" || v.Login != "ana@example.org" {
		t.Errorf("the athlete is %+v", v)
	}
	self, err := f.Self(ctx, v)
	if err != nil || self.Password || len(self.Passkeys) != 1 {
		t.Errorf("of themselves they see %+v, %v", self, err)
	}
	for name, typed := range map[string]string{"empty": "", "guessed": password} {
		_, err = f.SignIn(ctx, "ana@example.org", typed, there)
		wants(t, name, err, fault.SignIn)
	}
	again, err := f.byPasskey(d)
	wants(t, "signing in later", err, "")
	f.visitor(again)
	wants(t, "removing the last way in", f.RemovePasskey(ctx, v, self.Passkeys[0].ID), fault.Conflict)
	_, err = f.AcceptByPasskey(ctx, secret, answer, there)
	wants(t, "accepting twice", err, fault.Invalid)
	_, err = ask("again@example.org")
	wants(t, "a used invitation", err, fault.NotFound)
}

func TestAcceptByPasskeyRevoked(t *testing.T) {
	f := open(t)
	secret, i, err := f.Invite(t.Context(), f.me, "ana")
	wants(t, "inviting", err, "")
	question, err := f.AskAccept(t.Context(), secret, "ana", "Ana", desk(t), there)
	wants(t, "asking", err, "")
	wants(t, "revoking", f.RevokeInvitation(t.Context(), f.me, "ana", i.ID), "")
	_, err = f.AcceptByPasskey(t.Context(), secret, device().Make(t, question), there)
	wants(t, "accepting", err, fault.NotFound)
	if has, err := f.HasAccounts(t.Context()); has || err != nil {
		t.Errorf("there is an account: %v", err)
	}
}
