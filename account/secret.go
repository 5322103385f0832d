package account

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base32"
	"strings"
)

var letters = base32.NewEncoding("abcdefghijklmnopqrstuvwxyz234567").WithPadding(base32.NoPadding)

// newSecret is 256 random bits as text.
func newSecret() string {
	var b [32]byte
	_, _ = rand.Read(b[:]) // never fails: it would end the program
	return letters.EncodeToString(b[:])
}

// newID is 50 random bits as text: a name, not a secret.
func newID() string {
	var b [7]byte
	_, _ = rand.Read(b[:]) // as above
	return letters.EncodeToString(b[:])[:10]
}

// hashOf is what is stored of a secret. The secret is random in every bit, so a
// plain hash suffices: there is nothing to guess.
func hashOf(secret string) []byte {
	h := sha256.Sum256([]byte(secret))
	return h[:]
}

// tokenPrefix marks a token of ours, for people and for scanners of secrets.
const tokenPrefix = "glide_"

func tokenText(id, secret string) string { return tokenPrefix + id + "_" + secret }

// splitToken takes a token apart; ok is false where it is none.
func splitToken(text string) (id, secret string, ok bool) {
	rest, ours := strings.CutPrefix(text, tokenPrefix)
	id, secret, two := strings.Cut(rest, "_")
	return id, secret, ours && two && id != "" && secret != ""
}
