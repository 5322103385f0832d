package web

import (
	"html/template"
	"net/http"
	"strings"
	"time"

	"github.com/piglig/go-qr"

	"glidepath/account"
	"glidepath/athlete"
	"glidepath/fault"
)

// invitationPage is where a coach invites an athlete to their own page.
type invitationPage struct {
	Link    string // shown this once
	Code    template.HTML
	Until   string
	Open    []openInvitation
	Account bool // the athlete has one
}

type openInvitation struct{ ID, By, Made, Until string }

func showInvitation(r *request) error { return r.invitation("", time.Time{}) }

func (r *request) invitation(link string, until time.Time) error {
	a, err := r.athlete()
	if err != nil {
		return err
	}
	if r.desk.invented {
		return fault.New(fault.Refused, "an invented athlete cannot be invited.").WithHint("Leave the invented desk first.")
	}
	all, err := r.s.o.Accounts.Invitations(r.ctx(), r.visitor, a.ID)
	if err != nil {
		return err
	}
	const layout = "Monday 2 January, 15:04"
	now := r.s.o.Now()
	body := invitationPage{Link: link}
	if body.Account, err = r.s.o.Accounts.HasAccount(r.ctx(), r.visitor, a.ID); err != nil {
		return err
	}
	for _, i := range all {
		if i.UsedAt.IsZero() && i.RevokedAt.IsZero() && now.Before(i.ExpiresAt) {
			body.Open = append(body.Open, openInvitation{i.ID, i.By, i.MadeAt.In(now.Location()).Format(layout), i.ExpiresAt.In(now.Location()).Format(layout)})
		}
	}
	if link != "" {
		body.Until = until.In(now.Location()).Format(layout)
		if body.Code, err = qrCode(link); err != nil {
			return err
		}
	}
	return r.page(http.StatusOK, "invitation", page{Title: "Invite " + a.Name, Athlete: a, Tab: "check-ins", Body: body})
}

func invite(r *request) error {
	if r.desk.invented {
		return r.invitation("", time.Time{})
	}
	secret, i, err := r.s.o.Accounts.Invite(r.ctx(), r.visitor, r.id())
	if err != nil {
		return err
	}
	return r.invitation(r.origin()+"/invitation/"+secret, i.ExpiresAt)
}

// origin is how an address on this server begins.
func (r *request) origin() string {
	switch {
	case r.s.o.Public != "":
		return r.s.o.Public
	case r.s.o.Secure:
		return "https://" + r.Host
	}
	return "http://" + r.Host
}

func revokeInvitation(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	if err := r.s.o.Accounts.RevokeInvitation(r.ctx(), r.visitor, r.id(), typed.Get("invitation")); err != nil {
		return err
	}
	return r.done("/athletes/"+r.id()+"/invitation", "revoked")
}

// qrCode draws a link, dark on light in either theme since cameras want it so.
func qrCode(link string) (template.HTML, error) {
	code, err := go_qr.EncodeText(link, go_qr.Medium)
	if err != nil {
		return "", err
	}
	const scale, border = 4, 4 // the quiet zone of ISO/IEC 18004
	svg, err := code.ToSVGBytes(go_qr.NewQrCodeImgConfig(scale, border, go_qr.WithOptimalSVG()))
	if err != nil {
		return "", err
	}
	text := string(svg)
	if i := strings.Index(text, "<svg"); i > 0 {
		text = text[i:]
	}
	return template.HTML(text), nil //nolint:gosec // modules only; the link is not in it as text
}

// invitedPage is what somebody invited sees.
type invitedPage struct {
	Secret string
	Name   string
	Form   form
	Place  passkeyPlace
}

func showInvited(r *request) error { return r.invited(form{}, nil) }

func (r *request) invited(f form, failed error) error {
	a, err := r.invitedAthlete()
	if err != nil {
		return err
	}
	p := page{Title: "Welcome, " + firstName(a.Name)}
	code := http.StatusOK
	if failed != nil {
		code = status(failed)
		f.Wrong, p.Faults = wrongIn(failed, map[string]string{"login": "login", "password": "password"})
	}
	p.Body = invitedPage{Secret: r.PathValue("secret"), Name: a.Name, Form: f, Place: r.passkeyPlace()}
	return r.page(code, "invited", p)
}

// invitedAthlete is whom the invitation of the address is for.
func (r *request) invitedAthlete() (*athlete.Athlete, error) {
	i, err := r.s.o.Accounts.Invited(r.ctx(), r.PathValue("secret"))
	if err != nil {
		return nil, err
	}
	return r.s.real.app.Athlete(r.ctx(), i.AthleteID)
}

func accept(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	a, err := r.invitedAthlete()
	if err != nil {
		return err
	}
	session, err := r.s.o.Accounts.Accept(r.ctx(), r.PathValue("secret"), typed.Get("login"), a.Name, r.PostForm.Get("password"), r.address())
	if err != nil {
		if fault.KindOf(err) == "" || fault.KindOf(err) == fault.NotFound {
			return err
		}
		typed.Del("password")
		return r.invited(form{Values: typed}, err)
	}
	r.cookie(account.CookieName, session, account.SessionLife)
	return r.redirect("/day")
}
