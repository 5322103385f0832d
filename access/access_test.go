package access

import (
	"slices"
	"testing"
)

// Every role and action, on an own athlete and on another's.
func TestMay(t *testing.T) {
	own := map[Role][]Action{
		Owner:     Actions(),
		Coach:     {See, SeeOwn, Log, Draft, Decide, Remove},
		Assistant: {See, SeeOwn, Log, Draft},
		Athlete:   {SeeOwn, Log},
	}
	for _, role := range Roles() {
		a := Actor{Role: role, AthleteID: "ana", Own: func(id string) bool { return id == "ana" }}
		for _, do := range Actions() {
			if got, want := a.May(do, "ana"), slices.Contains(own[role], do); got != want {
				t.Errorf("%q may %s an own athlete: %v", role, do, got)
			}
			if got, want := a.May(do, "ben"), role == Owner; got != want {
				t.Errorf("%q may %s another's athlete: %v", role, do, got)
			}
			if a.MayAdd() != (role == Owner || role == Coach) {
				t.Errorf("%q may add an athlete: %v", role, a.MayAdd())
			}
			if a.May(do, "") && role != Owner {
				t.Errorf("%q may %s no athlete", role, do)
			}
		}
	}
	if (&Actor{Role: Coach}).May(See, "ana") || (&Actor{Role: Athlete}).May(SeeOwn, "") {
		t.Error("an actor who owns nobody sees somebody")
	}
}
