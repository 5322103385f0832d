package account

import (
	"fmt"
	"testing"
	"time"
)

// An answer counts for what was asked: the wrong use of it uses it up.
func TestCeremoniesHaveAPurpose(t *testing.T) {
	var c ceremonies
	now := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	for _, asked := range []purpose{toSignIn, toProve, toAdd, toJoin} {
		for _, taken := range []purpose{toSignIn, toProve, toAdd, toJoin} {
			one := &ceremony{purpose: asked}
			one.data.Challenge = "x"
			c.begin(now, one)
			if got := c.take(now, "x", taken); (got != nil) != (asked == taken) {
				t.Errorf("asked to %d and taken to %d: %v", asked, taken, got)
			}
			if c.take(now, "x", asked) != nil {
				t.Errorf("asked to %d and taken to %d, it is still open", asked, taken)
			}
		}
	}
}

// Who asks without end pushes out their own questions, not those of others, and
// cannot fill the memory.
func TestCeremoniesAreBounded(t *testing.T) {
	var c ceremonies
	now := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	begin := func(challenge, from string) {
		one := &ceremony{network: network(from)}
		one.data.Challenge = challenge
		c.begin(now, one)
	}
	begin("mine", "192.0.2.7:1")
	for i := range 3 * ceremoniesPerNetwork {
		now = now.Add(time.Second)
		begin(fmt.Sprint("theirs", i), "203.0.113.5:1")
	}
	if len(c.open) != ceremoniesPerNetwork+1 {
		t.Errorf("%d are open", len(c.open))
	}
	if c.take(now, "theirs0", toSignIn) != nil || c.take(now, fmt.Sprint("theirs", 3*ceremoniesPerNetwork-1), toSignIn) == nil {
		t.Error("not the oldest was pushed out")
	}
	if c.take(now, "mine", toSignIn) == nil {
		t.Error("another's was pushed out")
	}
	for i := range mostCeremonies + 100 {
		begin(fmt.Sprint("many", i), fmt.Sprintf("[2001:db8:0:%x::1]:1", i))
	}
	if len(c.open) != mostCeremonies {
		t.Errorf("%d are open", len(c.open))
	}
	now = now.Add(CeremonyLife)
	begin("fresh", "192.0.2.7:1")
	if len(c.open) != 1 {
		t.Errorf("%d are open after the rest is over", len(c.open))
	}
}
