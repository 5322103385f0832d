// Package accounttest has a device with passkeys, in software, with its browser: an
// authenticator of W3C Web Authentication, Level 3 (ES256, no attestation), that also
// does what a real one refuses, for tests that must see it refused.
package accounttest

import (
	"crypto/ecdh"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"testing"

	"github.com/fxamacker/cbor/v2"
)

// Device keeps passkeys. Its zero value but for Origin is an honest one that checks
// who uses it; the other fields make it lie.
type Device struct {
	Origin string // of the page that its browser shows

	Host       string // signs for this one instead of the one asked for
	Unverified bool   // does not check who uses it
	Spoilt     bool   // signs with one bit wrong
	UserHandle []byte // says it is this person's instead of whose it was made for
	Backup     byte   // flags BE (8) and BS (16) of the passkeys that it makes
	Count      uint32 // what it has counted; it does not count while this is 0

	passkeys []passkey
}

type passkey struct {
	id, user []byte
	host     string
	key      *ecdsa.PrivateKey
}

// Flags of authenticator data, section 6.1.
const (
	userPresent  = 1
	userVerified = 4
	hasPasskey   = 64
)

// question is what a server asks, of either kind.
type question struct {
	PublicKey struct {
		Challenge string
		RP        struct{ ID string }
		RPID      string `json:"rpId"`
		User      struct{ ID string }
		Allow     []struct{ ID string } `json:"allowCredentials"`
	}
}

func read(t testing.TB, text []byte) (q question) {
	t.Helper()
	if err := json.Unmarshal(text, &q); err != nil {
		t.Fatal(err)
	}
	return q
}

// Make makes a passkey as asked and gives the browser's answer.
func (d *Device) Make(t testing.TB, asked []byte) []byte {
	t.Helper()
	q := read(t, asked).PublicKey
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	one := passkey{id: make([]byte, 32), user: decode(t, q.User.ID), host: q.RP.ID, key: key}
	_, _ = rand.Read(one.id) // never fails: it would end the program
	d.passkeys = append(d.passkeys, one)

	data := d.authenticatorData(q.RP.ID, d.Backup|hasPasskey)
	data = append(data, make([]byte, 16)...) // AAGUID: of no make
	data = binary.BigEndian.AppendUint16(data, uint16(len(one.id)))
	data = append(append(data, one.id...), public(t, key)...)
	object := pack(t, map[string]any{"fmt": "none", "attStmt": map[string]any{}, "authData": data})
	return answer(t, one.id, map[string]any{
		"clientDataJSON": encode(d.clientData(t, "webauthn.create", q.Challenge)), "attestationObject": encode(object), "transports": []string{"internal"},
	})
}

// Show shows the latest passkey that fits what is asked, and gives the browser's
// answer.
func (d *Device) Show(t testing.TB, asked []byte) []byte {
	t.Helper()
	q := read(t, asked).PublicKey
	for i := len(d.passkeys) - 1; i >= 0; i-- {
		one := &d.passkeys[i]
		fits := len(q.Allow) == 0
		for _, a := range q.Allow {
			fits = fits || a.ID == encode(one.id)
		}
		if fits && (one.host == q.RPID || d.Host != "") {
			return d.show(t, one, q.RPID, q.Challenge)
		}
	}
	t.Fatalf("the device has no passkey for %s", asked)
	return nil
}

// ShowAnyway shows the latest passkey whatever is asked.
func (d *Device) ShowAnyway(t testing.TB, asked []byte) []byte {
	t.Helper()
	q := read(t, asked).PublicKey
	return d.show(t, &d.passkeys[len(d.passkeys)-1], q.RPID, q.Challenge)
}

func (d *Device) show(t testing.TB, one *passkey, host, challenge string) []byte {
	t.Helper()
	client := d.clientData(t, "webauthn.get", challenge)
	if d.Count > 0 {
		d.Count++
	}
	data := d.authenticatorData(host, d.Backup)
	hashed := sha256.Sum256(client)
	signed := sha256.Sum256(append(append([]byte{}, data...), hashed[:]...))
	signature, err := ecdsa.SignASN1(rand.Reader, one.key, signed[:])
	if err != nil {
		t.Fatal(err)
	}
	if d.Spoilt {
		signature[len(signature)-1] ^= 1
	}
	user := one.user
	if d.UserHandle != nil {
		user = d.UserHandle
	}
	return answer(t, one.id, map[string]any{
		"clientDataJSON": encode(client), "authenticatorData": encode(data), "signature": encode(signature), "userHandle": encode(user),
	})
}

// Copy is a second device with the same passkeys, which no real one gives away.
func (d *Device) Copy() *Device {
	other := *d
	return &other
}

// authenticatorData is the part that both answers have, section 6.1.
func (d *Device) authenticatorData(host string, flags byte) []byte {
	if d.Host != "" {
		host = d.Host
	}
	if flags |= userPresent; !d.Unverified {
		flags |= userVerified
	}
	hashed := sha256.Sum256([]byte(host))
	return binary.BigEndian.AppendUint32(append(hashed[:], flags), d.Count)
}

func (d *Device) clientData(t testing.TB, kind, challenge string) []byte {
	t.Helper()
	text, err := json.Marshal(map[string]any{"type": kind, "challenge": challenge, "origin": d.Origin, "crossOrigin": false})
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// public is a key as COSE has it: RFC 9053, section 7.1.1.
func public(t testing.TB, key *ecdsa.PrivateKey) []byte {
	t.Helper()
	at, err := key.ECDH()
	if err != nil {
		t.Fatal(err)
	}
	x, y := coordinates(at.PublicKey())
	const kty, ec2, alg, es256, crv, p256 = 1, 2, 3, -7, -1, 1
	return pack(t, map[int]any{kty: ec2, alg: es256, crv: p256, -2: x, -3: y})
}

// coordinates are the halves of an uncompressed point, which begins with 4.
func coordinates(at *ecdh.PublicKey) (x, y []byte) {
	point := at.Bytes()[1:]
	return point[:len(point)/2], point[len(point)/2:]
}

func pack(t testing.TB, v any) []byte {
	t.Helper()
	mode, err := cbor.CTAP2EncOptions().EncMode()
	if err != nil {
		t.Fatal(err)
	}
	out, err := mode.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func answer(t testing.TB, id []byte, response map[string]any) []byte {
	t.Helper()
	out, err := json.Marshal(map[string]any{"id": encode(id), "rawId": encode(id), "type": "public-key", "response": response})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func encode(b []byte) string { return base64.RawURLEncoding.EncodeToString(b) }

func decode(t testing.TB, text string) []byte {
	t.Helper()
	out, err := base64.RawURLEncoding.DecodeString(text)
	if err != nil {
		t.Fatal(err)
	}
	return out
}
