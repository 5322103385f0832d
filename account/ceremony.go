package account

import (
	"bytes"
	"encoding/json"
	"slices"
	"sync"
	"time"

	"github.com/go-webauthn/webauthn/protocol"
	"github.com/go-webauthn/webauthn/webauthn"
)

// CeremonyLife is how long a browser may take to answer with a passkey: the least
// that W3C Web Authentication, section 15.1, recommends.
const CeremonyLife = 5 * time.Minute

// How many questions may be open at a time (judgement): all, and of one network.
const (
	mostCeremonies       = 2_000
	ceremoniesPerNetwork = 30
)

// purpose is what a browser was asked to show or make a passkey for. An answer
// counts for its own purpose alone.
type purpose int

const (
	toSignIn purpose = iota
	toProve          // that whoever is signed in is still the same
	toAdd            // a passkey to an account
	toJoin           // by an invitation
)

// ceremony is a question to a browser that waits for its answer.
type ceremony struct {
	purpose purpose
	data    webauthn.SessionData // the challenge with what must fit it
	site    Site
	account Account // whose passkey it is to be; empty to sign in
	session []byte  // of who was asked, where they were signed in
	secret  string  // of the invitation
	network string
	ends    time.Time
}

// ceremonies are the open ones by their challenge. They live in memory, and each is
// answered once: a restart means asking again.
type ceremonies struct {
	mu   sync.Mutex
	open map[string]*ceremony
}

// begin keeps a ceremony, and makes room: a network that asks without end pushes
// out its own questions, not those of others.
func (c *ceremonies) begin(now time.Time, one *ceremony) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.open == nil {
		c.open = map[string]*ceremony{}
	}
	one.ends = now.Add(CeremonyLife)
	beside, oldest, oldestBeside := 0, "", ""
	for challenge, other := range c.open {
		if !now.Before(other.ends) {
			delete(c.open, challenge)
			continue
		}
		if oldest == "" || other.ends.Before(c.open[oldest].ends) {
			oldest = challenge
		}
		if other.network == one.network {
			beside++
			if oldestBeside == "" || other.ends.Before(c.open[oldestBeside].ends) {
				oldestBeside = challenge
			}
		}
	}
	switch {
	case beside >= ceremoniesPerNetwork:
		delete(c.open, oldestBeside)
	case len(c.open) >= mostCeremonies:
		delete(c.open, oldest)
	}
	c.open[one.data.Challenge] = one
}

// take gives the ceremony of a challenge and closes it, whatever comes of it. It is
// nil where there is none, it is over, or it was for another purpose.
func (c *ceremonies) take(now time.Time, challenge string, why purpose) *ceremony {
	c.mu.Lock()
	defer c.mu.Unlock()
	one := c.open[challenge]
	delete(c.open, challenge)
	if one == nil || one.purpose != why || !now.Before(one.ends) {
		return nil
	}
	return one
}

// of reports whether a ceremony was begun by the visitor, who is signed in, in the
// same session.
func (c *ceremony) of(v *Visitor) bool {
	return c != nil && bytes.Equal(c.session, v.session)
}

// relyingParty is the library set up for a site. Every use of a passkey here stands
// for a password, so that the device must check who uses it. Nothing is asked about
// the make of the device.
func relyingParty(site Site) (*webauthn.WebAuthn, error) {
	wait := webauthn.TimeoutConfig{Timeout: CeremonyLife, TimeoutUVD: CeremonyLife}
	return webauthn.New(&webauthn.Config{
		RPID: site.Host, RPDisplayName: "Glidepath", RPOrigins: []string{site.Origin},
		AttestationPreference: protocol.PreferNoAttestation,
		AuthenticatorSelection: protocol.AuthenticatorSelection{
			ResidentKey: protocol.ResidentKeyRequirementRequired, RequireResidentKey: protocol.ResidentKeyRequired(),
			UserVerification: protocol.VerificationRequired,
		},
		Timeouts: webauthn.TimeoutsConfig{Login: wait, Registration: wait}, // we keep the time ourselves
		// Some devices tell more than was asked; none of it is used.
		ExtensionsUnsolicitedOutputPolicy: protocol.UnsolicitedOutputPolicyIgnore,
	})
}

// holder is an account with its passkeys, as the library asks for it.
type holder struct {
	account  *Account
	passkeys []Passkey
}

// WebAuthnID is the account's ID, which is random and tells nothing of the person.
func (h holder) WebAuthnID() []byte { return []byte(h.account.ID) }

// WebAuthnName is what the device shows beside the passkey.
func (h holder) WebAuthnName() string { return h.account.Login }

// WebAuthnDisplayName is the person's name, for the same.
func (h holder) WebAuthnDisplayName() string { return h.account.Name }

// WebAuthnCredentials are the passkeys.
func (h holder) WebAuthnCredentials() []webauthn.Credential {
	out := make([]webauthn.Credential, len(h.passkeys))
	for i := range h.passkeys {
		out[i] = h.passkeys[i].credential()
	}
	return out
}

// at are the passkeys of a host.
func at(all []Passkey, host string) []Passkey {
	return slices.DeleteFunc(slices.Clone(all), func(p Passkey) bool { return p.Host != host })
}

// askToMake begins the making of a passkey and gives the question as JSON, in the
// form of the standard's PublicKeyCredentialCreationOptionsJSON.
func (d *Desk) askToMake(one *ceremony, have []Passkey) ([]byte, error) {
	rp, err := relyingParty(one.site)
	if err != nil {
		return nil, err
	}
	h := holder{&one.account, at(have, one.site.Host)}
	exclude := webauthn.Credentials(h.WebAuthnCredentials()).CredentialDescriptors()
	question, data, err := rp.BeginRegistration(h, webauthn.WithExclusions(exclude))
	if err != nil {
		return nil, err
	}
	one.data = *data
	d.ceremonies.begin(d.Now(), one)
	return json.Marshal(question)
}

// made is the passkey of an answer, checked against its ceremony.
func (d *Desk) made(one *ceremony, parsed *protocol.ParsedCredentialCreationData, name string) (*Passkey, error) {
	rp, err := relyingParty(one.site)
	if err != nil {
		return nil, err
	}
	c, err := rp.CreateCredential(holder{account: &one.account}, one.data, parsed)
	if err != nil {
		return nil, errNotMade(parsed)
	}
	now := d.Now().UTC()
	if name == "" {
		name = passkeyName(now)
	}
	p := &Passkey{
		ID: newID(), AccountID: one.account.ID, Name: name, Host: one.site.Host, Credential: c.ID, PublicKey: c.PublicKey,
		Transports: cleanTransports(c.Transport), SignCount: c.Authenticator.SignCount,
		Backup: Backup{c.Flags.BackupEligible, c.Flags.BackupState}, MadeAt: now,
	}
	return p, p.Validate()
}
