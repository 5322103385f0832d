package account_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"glidepath/access"
	"glidepath/account"
	"glidepath/account/accounttest"
	"glidepath/fault"
)

const origin = "https://desk.example.org"

// desk is the site of these tests.
func desk(t *testing.T) account.Site {
	t.Helper()
	s, err := account.SiteOf(origin)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func device() *accounttest.Device { return &accounttest.Device{Origin: origin} }

// signed is who signs in with a password.
func (f *fixture) signed(login string) *account.Visitor {
	f.Helper()
	return f.visitor(f.signIn(login))
}

func (f *fixture) visitor(session string) *account.Visitor {
	f.Helper()
	v, err := f.BySession(f.Context(), session, there)
	if err != nil {
		f.Fatal(err)
	}
	return v
}

// addPasskey makes a passkey on a device for who signed in a moment ago.
func (f *fixture) addPasskey(v *account.Visitor, d *accounttest.Device) *account.Passkey {
	f.Helper()
	question, err := f.AskPasskey(f.Context(), v, desk(f.T), account.Proof{})
	if err != nil {
		f.Fatal(err)
	}
	p, err := f.KeepPasskey(f.Context(), v, "phone", d.Make(f, question))
	if err != nil {
		f.Fatal(err)
	}
	return p
}

// asked is a question to sign in.
func (f *fixture) asked() []byte {
	f.Helper()
	question, err := f.AskSignIn(desk(f.T), there)
	if err != nil {
		f.Fatal(err)
	}
	return question
}

func (f *fixture) byPasskey(d *accounttest.Device) (string, error) {
	f.Helper()
	return f.SignInByPasskey(f.Context(), d.Show(f, f.asked()), there)
}

// said are the words of the record.
func (f *fixture) said() (out []string) {
	f.Helper()
	all, err := f.Entries(f.Context(), f.me, account.Query{})
	if err != nil {
		f.Fatal(err)
	}
	for _, e := range all {
		out = append(out, e.What)
	}
	return out
}

func TestSites(t *testing.T) {
	for origin, want := range map[string]string{
		"https://desk.example.org": "desk.example.org", "https://Desk.Example.org:8443": "desk.example.org", "https://desk": "",
		"http://localhost:8417": "localhost", "http://localhost": "localhost", "https://localhost:1": "localhost",
		"http://127.0.0.1:8417": "", "http://[::1]:8417": "", "https://192.0.2.7": "", "http://desk.example.org": "",
		"": "", "desk.example.org": "", "https://": "", "https://desk.example.org/": "", "https://a@desk.example.org": "",
		"https://desk.example.org?x": "", "ftp://localhost": "",
	} {
		s, err := account.SiteOf(origin)
		if s.Host != want || (err == nil) != (want != "") {
			t.Errorf("%s: %+v, %v", origin, s, err)
		}
		if want != "" && s.Origin != strings.ToLower(origin) {
			t.Errorf("%s has the origin %s", origin, s.Origin)
		}
	}
}

func TestSignInByPasskey(t *testing.T) {
	f := open(t)
	wren := f.add(access.Coach, "wren")
	v, d := f.signed("wren"), device()
	d.Count, d.Backup = 5, 8
	p := f.addPasskey(v, d)
	if p.AccountID != wren.ID || p.Name != "phone" || p.Host != "desk.example.org" || p.SignCount != 5 || !p.Backup.Able || p.Backup.Done || !slices.Equal(p.Transports, []string{"internal"}) {
		t.Errorf("the passkey is %+v", p)
	}
	f.now = f.now.Add(time.Hour)
	d.Backup = 8 | 16 // it was copied to the person's other devices since
	session, err := f.byPasskey(d)
	wants(t, "signing in", err, "")
	if by := f.visitor(session); by.AccountID != wren.ID || by.Role != access.Coach {
		t.Errorf("the visitor is %+v", by)
	}
	all, err := f.Passkeys(t.Context(), v, wren.ID)
	if err != nil || len(all) != 1 || all[0].SignCount != 6 || !all[0].Backup.Done || !all[0].UsedAt.Equal(f.now) || !all[0].DoubtedAt.IsZero() {
		t.Errorf("after its use it is %+v, %v", all, err)
	}
	if words := f.said(); !slices.Contains(words, "made the passkey "+p.ID) || !slices.Contains(words, "signed in with the passkey "+p.ID) {
		t.Errorf("the record has %q", words)
	}
	f.signIn("wren") // the password still does
	// Who may manage the desk sees them, another coach does not.
	f.add(access.Coach, "kai")
	_, err = f.Passkeys(t.Context(), f.signed("kai"), wren.ID)
	wants(t, "another's passkeys", err, fault.Forbidden)
	_, err = f.Passkeys(t.Context(), f.me, wren.ID)
	wants(t, "anybody's for an owner", err, "")
}

// What a browser that lies sends to sign in is refused, always in the same words
// where it is about a passkey, and its question is used up.
func TestSignInByPasskeyRefuses(t *testing.T) {
	elsewhere, err := account.SiteOf("https://other.example.org")
	if err != nil {
		t.Fatal(err)
	}
	for name, lie := range map[string]func(*fixture, *accounttest.Device) []byte{
		"another origin": func(f *fixture, d *accounttest.Device) []byte {
			d.Origin = "https://desk.example.org.evil.example"
			return d.Show(f, f.asked())
		},
		"another port": func(f *fixture, d *accounttest.Device) []byte {
			d.Origin = origin + ":8443"
			return d.Show(f, f.asked())
		},
		"another host's signature": func(f *fixture, d *accounttest.Device) []byte {
			d.Host = "evil.example"
			return d.Show(f, f.asked())
		},
		"a question of another host": func(f *fixture, d *accounttest.Device) []byte {
			d.Origin = elsewhere.Origin
			question, err := f.AskSignIn(elsewhere, there)
			if err != nil {
				f.Fatal(err)
			}
			return d.ShowAnyway(f, question)
		},
		"a signature with one bit wrong": func(f *fixture, d *accounttest.Device) []byte {
			d.Spoilt = true
			return d.Show(f, f.asked())
		},
		"no check of who uses it": func(f *fixture, d *accounttest.Device) []byte {
			d.Unverified = true
			return d.Show(f, f.asked())
		},
		"another account": func(f *fixture, d *accounttest.Device) []byte {
			a, err := f.Account(f.Context(), f.me, "imogen")
			if err != nil {
				f.Fatal(err)
			}
			d.UserHandle = []byte(a.ID)
			return d.Show(f, f.asked())
		},
		"no account": func(f *fixture, d *accounttest.Device) []byte {
			d.UserHandle = []byte{}
			return d.Show(f, f.asked())
		},
		"a passkey nobody has": func(f *fixture, _ *accounttest.Device) []byte {
			other := device()
			question, err := f.AskPasskey(f.Context(), f.signed("imogen"), desk(f.T), account.Proof{})
			if err != nil {
				f.Fatal(err)
			}
			other.Make(f, question) // never kept
			return other.Show(f, f.asked())
		},
		"a removed passkey": func(f *fixture, d *accounttest.Device) []byte {
			v := f.signed("wren")
			all, err := f.Passkeys(f.Context(), v, v.AccountID)
			if err != nil {
				f.Fatal(err)
			}
			wants(f.T, "removing", f.RemovePasskey(f.Context(), v, all[0].ID), "")
			return d.Show(f, f.asked())
		},
		"a disabled account": func(f *fixture, d *accounttest.Device) []byte {
			v := f.signed("wren")
			wants(f.T, "disabling", f.Disable(f.Context(), f.me, v.AccountID, true), "")
			return d.Show(f, f.asked())
		},
	} {
		t.Run(name, func(t *testing.T) {
			f := open(t)
			f.add(access.Owner, "imogen")
			f.add(access.Coach, "wren")
			d := device()
			f.addPasskey(f.signed("wren"), d)
			answer := lie(f, d)
			_, err := f.SignInByPasskey(t.Context(), answer, there)
			wants(t, name, err, fault.SignIn)
			if !strings.Contains(err.Error(), "nobody could be signed in with this passkey") {
				t.Errorf("told as %q", err)
			}
			if n := count(f.said(), "failed to sign in"); n != 1 {
				t.Errorf("the record has %d failures", n)
			}
			_, err = f.SignInByPasskey(t.Context(), answer, there)
			if fault.KindOf(err) != fault.SignIn || !strings.Contains(err.Error(), "answered already") {
				t.Errorf("the question was not used up: %v", err)
			}
		})
	}
}

func count(all []string, one string) (n int) {
	for _, s := range all {
		if s == one {
			n++
		}
	}
	return n
}

// An answer counts once, for five minutes, and for what was asked.
func TestQuestionsAreAnsweredOnce(t *testing.T) {
	f := open(t)
	f.add(access.Coach, "wren")
	v, d := f.signed("wren"), device()
	f.addPasskey(v, d)
	ctx := t.Context()

	answer := d.Show(t, f.asked())
	_, err := f.SignInByPasskey(ctx, answer, there)
	wants(t, "the answer", err, "")
	_, err = f.SignInByPasskey(ctx, answer, there)
	wants(t, "the same answer again", err, fault.SignIn)

	question := f.asked()
	f.now = f.now.Add(account.CeremonyLife - time.Second)
	_, err = f.SignInByPasskey(ctx, d.Show(t, question), there)
	wants(t, "just in time", err, "")
	question = f.asked()
	f.now = f.now.Add(account.CeremonyLife)
	_, err = f.SignInByPasskey(ctx, d.Show(t, question), there)
	wants(t, "too late", err, fault.SignIn)

	// Of another purpose: a proof signs nobody in, and the other way round.
	proof, err := f.AskProof(ctx, v, desk(t))
	wants(t, "asking for a proof", err, "")
	_, err = f.SignInByPasskey(ctx, d.Show(t, proof), there)
	wants(t, "signing in with a proof", err, fault.SignIn)
	_, err = f.ChangePassword(ctx, v, account.Proof{Passkey: d.Show(t, f.asked())}, "four other words entirely")
	wants(t, "proving with a sign-in", err, fault.SignIn)
	for _, junk := range []string{"", "{}", "null", "[]", `{"id":"","rawId":"","type":"public-key","response":{}}`, strings.Repeat("x", 100_000)} {
		_, err = f.SignInByPasskey(ctx, []byte(junk), "192.0.2.99:1")
		wants(t, "junk", err, fault.SignIn)
		_, err = f.KeepPasskey(ctx, v, "x", []byte(junk))
		wants(t, "junk for a passkey", err, fault.Invalid)
	}
}

// The answer to make a passkey is bound to who asked, in the session in which they
// did, and to where.
// A session that is no longer fresh adds no passkey without a proof, so that a
// phone left open is not made a way in for good.
// A passkey shows that it is you for a new password, also where there was none.
// withoutPassword makes an account one that has none.
// A count that goes back signs in, and is in the record and at the passkey.
func TestCountGoesBack(t *testing.T) {
	f := open(t)
	f.add(access.Coach, "wren")
	v, d := f.signed("wren"), device()
	d.Count = 1
	p := f.addPasskey(v, d)
	stolen := d.Copy()
	for range 3 {
		_, err := f.byPasskey(d)
		wants(t, "the device", err, "")
	}
	f.now = f.now.Add(time.Hour)
	_, err := f.byPasskey(stolen)
	wants(t, "its copy", err, "")
	words := "the count of the passkey " + p.ID + " went back: it may have been copied"
	if n := count(f.said(), words); n != 1 {
		t.Errorf("the record has the doubt %d times: %q", n, f.said())
	}
	all, err := f.Passkeys(t.Context(), v, v.AccountID)
	if err != nil || !all[0].DoubtedAt.Equal(f.now) || all[0].SignCount != 4 {
		t.Errorf("the passkey is %+v, %v", all, err)
	}
}

// Trying passkeys is slowed down like trying passwords; and who guesses at a
// password does not shut out who has the passkey.
func TestTryingPasskeysIsSlowed(t *testing.T) {
	f := open(t)
	f.add(access.Coach, "wren")
	d := device()
	f.addPasskey(f.signed("wren"), d)
	bad := d.Copy()
	bad.Spoilt = true
	try := func(d *accounttest.Device, address string) error {
		_, err := f.SignInByPasskey(t.Context(), d.Show(t, f.asked()), address)
		return err
	}
	for i := range 10 {
		_, err := f.SignIn(t.Context(), "wren", "wrong wrong wrong", fmt.Sprintf("192.0.2.%d:1", i))
		wants(t, "a wrong password", err, fault.SignIn)
	}
	_, err := f.SignIn(t.Context(), "wren", password, there)
	wants(t, "the password", err, fault.TooMany)
	wants(t, "the passkey meanwhile", try(d, "198.51.100.1:1"), "")
	for i := range 10 {
		wants(t, "a wrong signature", try(bad, fmt.Sprintf("203.0.113.%d:1", i)), fault.SignIn)
	}
	wants(t, "the eleventh, even right", try(d, "198.51.100.1:1"), fault.TooMany)
	f.now = f.now.Add(15 * time.Minute)
	for i := range 30 {
		_, err := f.SignInByPasskey(t.Context(), []byte("{}"), fmt.Sprintf("[2001:db8::%x]:1", i+1))
		wants(t, "junk", err, fault.SignIn)
	}
	wants(t, "the same network", try(d, "[2001:db8::ffff]:1"), fault.TooMany)
	wants(t, "another", try(d, "198.51.100.1:1"), "")
}

// An athlete begins with a passkey and no password.
// A passkey that was made for an invitation is worth nothing once that is revoked.
