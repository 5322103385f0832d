package account

import (
	"fmt"
	"testing"
	"time"

	"glidepath/access"
	"glidepath/fault"
)

// Every role, action and athlete: what Check says agrees with what the role may do,
// and another's athlete is never told apart from none.
func TestCheck(t *testing.T) {
	for _, role := range access.Roles() {
		v := &Visitor{Actor: access.Actor{Role: role, AthleteID: "ana", Own: func(id string) bool { return id == "ana" }}}
		for _, do := range access.Actions() {
			for _, id := range []string{"ana", "ben", ""} {
				want := fault.Kind("")
				switch {
				case role == access.Nobody:
					want = fault.SignIn
				case v.Actor.May(do, id):
				case id == "ben":
					want = fault.NotFound
				default:
					want = fault.Forbidden
				}
				if err := v.Check(do, id); fault.KindOf(err) != want || (err == nil) != (want == "") {
					t.Errorf("%q, %s, %q: %v, want %q", role, do, id, err, want)
				}
			}
		}
	}
	var nobody *Visitor
	for _, err := range []error{nobody.Check(access.See, "ana"), nobody.CheckAdd(), nobody.CheckList(), nobody.CheckRoster(), nobody.CheckAnybody()} {
		if fault.KindOf(err) != fault.SignIn {
			t.Errorf("nobody gave %v", err)
		}
	}
	if nobody.May(access.See, "ana") {
		t.Error("nobody may see")
	}
}

// Every action needs the one scope that its table says, and a token without it is
// refused even to an owner.
func TestScopeOfEveryAction(t *testing.T) {
	want := map[access.Action]Scope{
		access.See: ScopeRead, access.SeeOwn: ScopeRead, access.Log: ScopeLog, access.Draft: ScopeDraft,
		access.Decide: ScopeDecide, access.Remove: ScopeDecide, access.Manage: ScopeManage,
	}
	for _, do := range access.Actions() {
		for _, s := range AllScopes() {
			v := &Visitor{Actor: access.Actor{Role: access.Owner}, Scopes: Scopes{s}}
			if v.May(do, "ana") != (want[do] == s) {
				t.Errorf("%s with the scope %s: %v", do, s, v.May(do, "ana"))
			}
		}
	}
}

// Strangers cannot fill the memory, and the newest guesses are still counted.
func TestGuardIsBounded(t *testing.T) {
	var g guard
	now := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	for i := range 2 * mostGuarded {
		if err := g.take(now, fmt.Sprint("login", i), fmt.Sprintf("2001:db8:%x:%x::1", i>>16, i&0xffff)); err != nil {
			t.Fatal(i, err)
		}
	}
	if len(g.fails) > mostGuarded+1 {
		t.Errorf("%d are counted", len(g.fails))
	}
	now = now.Add(failWindow)
	for i := range failsPerAccount + 1 {
		err := g.take(now, "imogen", fmt.Sprintf("2001:db8:ffff:%x::1", i))
		if (err != nil) != (i == failsPerAccount) {
			t.Errorf("guess %d: %v", i, err)
		}
	}
}

func TestNetworks(t *testing.T) {
	for address, want := range map[string]string{
		"192.0.2.7:80": "192.0.2.7", "192.0.2.7": "192.0.2.7", "[::ffff:192.0.2.7]:80": "192.0.2.7",
		"[2001:db8:1:2:3::4]:80": "2001:db8:1:2::/64", "fe80::1%eth0": "fe80::/64", "": "", "unknown": "unknown",
	} {
		if got := network(address); got != want {
			t.Errorf("%s is of %s, want %s", address, got, want)
		}
	}
	for address, want := range map[string]bool{
		"127.0.0.1:80": true, "[::1]:80": true, "127.8.9.1": true, "[::ffff:127.0.0.1]:1": true,
		"192.0.2.7:80": false, "": false, "localhost": false, "127.0.0.1.example": false,
	} {
		if IsLoopback(address) != want {
			t.Errorf("%q is of this computer: %v", address, !want)
		}
	}
}
