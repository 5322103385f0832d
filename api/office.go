package api

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"glidepath/access"
	"glidepath/account"
	"glidepath/athlete"
	"glidepath/fault"
)

// Me is who asks.
type Me struct {
	Name      string         `json:"name"`
	Login     string         `json:"login"`
	Role      access.Role    `json:"role"`
	AthleteID string         `json:"athlete_id,omitempty"`
	Scopes    account.Scopes `json:"scopes,omitempty"` // of a token
}

// Invited is an invitation with its secret, which is shown this once.
type Invited struct {
	account.Invitation
	Secret string `json:"secret,omitempty"`
}

// versionKey orders prescriptions by version in a way that texts compare.
func versionKey(p *athlete.Prescription) string { return fmt.Sprintf("%09d", p.Version) }

// office is what concerns the desk rather than an athlete's body.
func (s *server) office() {
	add(s, route{
		method: http.MethodGet, path: "/me", id: "get-me", summary: "Who you are here", rule: anybody, words: "asked who they are",
	}, func(_ context.Context, v *visit, _ *struct{}) (*told[Me], error) {
		return &told[Me]{Me{v.Name, v.Login, v.Role, v.AthleteID, v.Scopes}}, nil
	})
	add(s, route{
		method: http.MethodGet, path: "/me/passkeys", id: "list-passkeys", summary: "The passkeys of your own account, without their keys",
		rule: anybody, words: "listed their own passkeys",
	}, func(ctx context.Context, v *visit, _ *struct{}) (*told[[]account.Passkey], error) {
		all, err := s.desk.Passkeys(ctx, v.Visitor, v.AccountID)
		return tell(append([]account.Passkey{}, all...), err)
	})
	add(s, route{
		method: http.MethodDelete, path: "/me/passkeys/{passkey}", id: "remove-passkey",
		summary: "Remove a passkey of your own; a token needs the scope manage for it", status: http.StatusNoContent,
		rule: anybody, words: "removed a passkey", noted: true,
	}, func(ctx context.Context, v *visit, in *struct {
		Passkey string `path:"passkey" maxLength:"40"`
	},
	) (*nothing, error) {
		own, err := s.desk.Passkeys(ctx, v.Visitor, v.AccountID)
		if err == nil && !slices.ContainsFunc(own, func(p account.Passkey) bool { return p.ID == in.Passkey }) {
			err = fault.New(fault.NotFound, "there is no passkey %q of yours.", in.Passkey)
		}
		if err != nil {
			return nil, err
		}
		return &nothing{}, s.desk.RemovePasskey(ctx, v.Visitor, in.Passkey)
	})
	add(s, route{
		method: http.MethodGet, path: "/audit", id: "list-audit", summary: "Who saw or changed what of whom",
		rule: onDesk, do: access.Manage, words: "read the record",
	}, s.audit)
	add(s, route{
		method: http.MethodGet, path: "/athletes/{athlete}/invitations", id: "list-invitations", summary: "List the invitations for an athlete",
		do: access.Decide, words: "listed the invitations",
	}, func(ctx context.Context, v *visit, in *OfAthlete) (*told[[]account.Invitation], error) {
		return tell(s.desk.Invitations(ctx, v.Visitor, in.Athlete))
	})
	add(s, route{
		method: http.MethodPost, path: "/athletes/{athlete}/invitations", id: "invite",
		summary: "Invite an athlete to an account of their own", status: http.StatusCreated,
		do: access.Decide, words: "invited the athlete", secret: true, noted: true,
	}, func(ctx context.Context, v *visit, in *OfAthlete) (*told[Invited], error) {
		secret, i, err := s.desk.Invite(ctx, v.Visitor, in.Athlete)
		if err != nil {
			return nil, err
		}
		return &told[Invited]{Invited{*i, secret}}, nil
	})
	add(s, route{
		method: http.MethodDelete, path: "/athletes/{athlete}/invitations/{invitation}", id: "revoke-invitation",
		summary: "Revoke an invitation", status: http.StatusNoContent,
		do: access.Decide, words: "revoked an invitation", noted: true,
	}, func(ctx context.Context, v *visit, in *struct {
		OfAthlete
		Invitation string `path:"invitation" maxLength:"40"`
	},
	) (*nothing, error) {
		return &nothing{}, s.desk.RevokeInvitation(ctx, v.Visitor, in.Athlete, in.Invitation)
	})
}

func (s *server) audit(ctx context.Context, v *visit, in *struct {
	InSpan
	OnPage
	Athlete string `query:"athlete" maxLength:"40" doc:"Only what concerns this athlete"`
},
) (*listed[account.Entry], error) {
	from, to, err := s.dates(in.InSpan)
	if err != nil {
		return nil, err
	}
	q := account.Query{From: from.Time(), To: to.AddDays(1).Time(), AthleteID: in.Athlete, First: in.Limit + 1}
	// The record grows without end: a page reads no more of it than it needs.
	if key, n, ok := strings.Cut(in.After, "~"); ok {
		begin, errTime := time.Parse(momentKey, key)
		same, errPlace := strconv.Atoi(n)
		if errTime != nil || errPlace != nil {
			return nil, fault.New(fault.Invalid, "this is no place in the list.").WithField("after").
				WithHint("Take it from the Link header of the page before.")
		}
		if begin.After(q.From) {
			q.From = begin
		}
		q.First += same + 1
	}
	all, err := s.desk.Entries(ctx, v.Visitor, q)
	if err != nil {
		return nil, err
	}
	return page(in.OnPage, "/api/v1/audit", query("from", in.From, "to", in.To, "athlete", in.Athlete), all,
		func(e *account.Entry) string { return e.At.UTC().Format(momentKey) }), nil
}

// momentKey orders lines of the record in a way that texts compare.
const momentKey = "2006-01-02T15:04:05.000000000"
