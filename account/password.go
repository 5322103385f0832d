package account

import (
	"context"
	"crypto/rand"
	"strings"
	"unicode/utf8"

	"github.com/alexedwards/argon2id"

	"glidepath/fault"
)

// The lengths of a password, in characters. Length is what counts, and nothing
// else is asked for (NIST SP 800-63B: no rules of composition, at least 64 taken).
const (
	MinPassword = 12
	MaxPassword = 200
)

// recommendedCost is the second recommended option of RFC 9106, section 4: 64 MiB,
// three passes, four lanes.
var recommendedCost = argon2id.Params{Memory: 64 << 10, Iterations: 3, Parallelism: 4, SaltLength: 16, KeyLength: 32}

// atOnce bounds how many passwords are hashed at a time, since each takes memory.
const atOnce = 2

func checkPassword(password, login string) error {
	n := utf8.RuneCountInString(password)
	switch {
	case n < MinPassword || n > MaxPassword:
		return fault.New(fault.Invalid, "a password has %d to %d characters.", MinPassword, MaxPassword).WithField("password").
			WithHint("A few words that do not belong together are easy to keep in mind.")
	case login != "" && strings.Contains(strings.ToLower(password), login), fewCharacters(password):
		return fault.New(fault.Invalid, "this password is too easy to guess.").WithField("password").
			WithHint("A few words that do not belong together are easy to keep in mind.")
	}
	return nil
}

// fewCharacters is a password of a character or few over and over.
func fewCharacters(password string) bool {
	const least = 5
	seen := map[rune]bool{}
	for _, r := range password {
		seen[r] = true
	}
	return len(seen) < least
}

func (d *Desk) cost() *argon2id.Params {
	if d.Cost != nil {
		return d.Cost
	}
	return &recommendedCost
}

// turn waits until a password may be hashed, and gives the end of the turn.
func (d *Desk) turn(ctx context.Context) (func(), error) {
	d.once.Do(func() { d.turns = make(chan struct{}, atOnce) })
	select {
	case d.turns <- struct{}{}:
		return func() { <-d.turns }, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

func (d *Desk) hash(ctx context.Context, password string) (string, error) {
	end, err := d.turn(ctx)
	if err != nil {
		return "", err
	}
	defer end()
	return argon2id.CreateHash(password, d.cost())
}

// verify compares a password with an account's hash. Without an account it does
// the same work, so that the time taken does not tell who has one.
func (d *Desk) verify(ctx context.Context, password string, a *Account) (bool, error) {
	if a == nil || a.Password == "" {
		_, err := d.hash(ctx, password)
		return false, err
	}
	end, err := d.turn(ctx)
	if err != nil {
		return false, err
	}
	defer end()
	return argon2id.ComparePasswordAndHash(password, a.Password)
}

// NewPassword makes a password to be handed over: 20 letters and digits at random,
// which are 100 bits, in groups that can be read out.
func NewPassword() string {
	const groups, long = 4, 5
	text := strings.ToLower(rand.Text())
	parts := make([]string, groups)
	for i := range parts {
		parts[i] = text[i*long : (i+1)*long]
	}
	return strings.Join(parts, "-")
}
