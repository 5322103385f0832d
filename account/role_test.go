package account_test

import (
	"slices"
	"strings"
	"testing"

	"glidepath/access"
	"glidepath/fault"
)

func TestSetRole(t *testing.T) {
	f := open(t)
	owner, coach, own := f.add(access.Owner, "imogen"), f.add(access.Coach, "wren"), f.add(access.Athlete, "ana")
	ctx := t.Context()
	v := f.signed("wren")
	wants(t, "by the coach", f.SetRole(ctx, v, coach.ID, access.Owner), fault.Forbidden)
	wants(t, "the last owner", f.SetRole(ctx, f.me, owner.ID, access.Coach), fault.Conflict)
	wants(t, "the athlete", f.SetRole(ctx, f.me, own.ID, access.Coach), fault.Conflict)
	wants(t, "to an athlete", f.SetRole(ctx, f.me, coach.ID, access.Athlete), fault.Conflict)
	wants(t, "to what is none", f.SetRole(ctx, f.me, coach.ID, "king"), fault.Invalid)
	wants(t, "to nobody", f.SetRole(ctx, f.me, coach.ID, access.Nobody), fault.Invalid)
	wants(t, "of nobody", f.SetRole(ctx, f.me, "nothing", access.Coach), fault.NotFound)
	wants(t, "to the same", f.SetRole(ctx, f.me, coach.ID, access.Coach), "")
	wants(t, "to an assistant", f.SetRole(ctx, f.me, coach.ID, access.Assistant), "")
	if v = f.signed("wren"); v.Role != access.Assistant || !v.May(access.See, "ana") || v.May(access.Decide, "ana") {
		t.Errorf("the assistant is %+v", v)
	}
	wants(t, "to an owner", f.SetRole(ctx, f.me, coach.ID, access.Owner), "")
	if v = f.signed("wren"); !v.May(access.Manage, "") {
		t.Errorf("the owner is %+v", v)
	}
	wants(t, "the first owner, who is not the last", f.SetRole(ctx, v, owner.ID, access.Coach), "")
	wants(t, "the last owner, by themselves", f.SetRole(ctx, v, coach.ID, access.Coach), fault.Conflict)
	want := []string{
		"changed the role of an account from coach to assistant", "changed the role of an account from assistant to owner",
		"changed the role of an account from owner to coach",
	}
	var got []string
	for _, s := range f.said() {
		if strings.HasPrefix(s, "changed the role") {
			got = append(got, s)
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("the record has %q", got)
	}
}
