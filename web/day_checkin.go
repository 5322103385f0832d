package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/phrase"
)

// checkInPage is the athlete's word to the coach, once a week.
type checkInPage struct {
	Date    civil.Date
	Sent    *athlete.CheckIn // of this date already
	Last    civil.Date
	Form    form
	Methods []option
	Signs   []signTick
	Folds   []string
	Girths  []string
	Unit    string // of girths
	Poses   []poseSlot
	Call    calls
	Owner   string
}

type signTick struct {
	Value   string
	Checked bool
}

// poseSlot is where a photo of a pose is, or goes.
type poseSlot struct {
	Pose    athlete.Pose
	Address string // of the photo that is there, "" where there is none
}

func showCheckIn(r *request) error {
	return r.checkIn(form{Values: url.Values{}, Wrong: map[string]string{}}, nil)
}

func (r *request) checkIn(f form, failed error) error {
	a, err := r.athlete()
	if err != nil {
		return err
	}
	on := r.desk.Today()
	sent, err := r.desk.app.CheckIns(r.ctx(), a.ID, on)
	if err != nil {
		return err
	}
	measured, err := r.desk.app.Measurements(r.ctx(), a.ID, on)
	if err != nil {
		return err
	}
	photos, err := r.desk.app.Photos(r.ctx(), a.ID, on)
	if err != nil {
		return err
	}
	body := checkInPage{
		Date: on, Form: f, Folds: athlete.FoldSites(), Girths: athlete.GirthSites(), Unit: girthUnit(a.Units),
		Call: callsFor(a.Sex), Owner: r.owner(), Methods: []option{{"", "not measured"}},
	}
	if n := len(sent); n > 0 {
		if body.Last = sent[n-1].Date; body.Last == on {
			body.Sent = &sent[n-1]
		}
	}
	for _, m := range athlete.Methods() {
		if m != athlete.Eye { // the coach's
			body.Methods = append(body.Methods, option{string(m), string(m)})
		}
	}
	if n := len(measured); n > 0 && failed == nil {
		body.Form.Values.Set("by", measured[n-1].By)
	}
	if body.Sent != nil && failed == nil {
		body.Form.Values.Set("words", body.Sent.Words)
	}
	for _, s := range athlete.Signs(a.Sex) {
		checked := slices.Contains(f.Values["sign"], string(s)) || body.Sent != nil && failed == nil && slices.Contains(body.Sent.Signs, s)
		body.Signs = append(body.Signs, signTick{string(s), checked})
	}
	for _, pose := range athlete.Poses() {
		slot := poseSlot{Pose: pose}
		if slices.ContainsFunc(photos, func(p athlete.Photo) bool { return p.Date == on && p.Pose == pose }) {
			slot.Address = fmt.Sprintf("/photos/%s/%s", on, pose)
		}
		body.Poses = append(body.Poses, slot)
	}
	p := page{Title: "Check-in", Tab: "check-in"}
	code := http.StatusOK
	if failed != nil {
		code, p.Faults = status(failed), troubles(failed)
	}
	p.Body = body
	return r.page(code, "check-in", p)
}

func girthUnit(u athlete.Units) string {
	if u == athlete.Imperial {
		return "in"
	}
	return "cm"
}

func sendCheckIn(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	a, err := r.athlete()
	if err != nil {
		return err
	}
	c := athlete.CheckIn{Date: r.desk.Today(), Words: strings.ReplaceAll(typed.Get("words"), "\r\n", "\n")}
	for _, s := range typed["sign"] {
		c.Signs = append(c.Signs, athlete.Sign(s))
	}
	measured, err := measuredIn(typed, c.Date, a.Units)
	if err == nil {
		err = r.desk.app.CheckIn(r.ctx(), a.ID, c, measured, app.Source{Name: "check-in", Who: r.visitor.Name})
	}
	if err != nil {
		if len(troubles(err)) == 0 || status(err) == http.StatusInternalServerError {
			return err
		}
		return r.checkIn(form{Values: typed, Wrong: map[string]string{}}, err)
	}
	return r.done("/check-in", "checked-in")
}

// measuredIn is the measurement in a check-in, none where nothing is filled in.
// Girths alone are a measurement by tape.
func measuredIn(typed url.Values, on civil.Date, u athlete.Units) ([]athlete.Measurement, error) {
	m := athlete.Measurement{Date: on, Method: athlete.Method(typed.Get("method")), By: typed.Get("by")}
	read := func(name string) (*float64, error) {
		text := typed.Get(name)
		if text == "" {
			return nil, nil
		}
		v, err := typedNumber(text, false)
		return &v, err
	}
	var err error
	if m.BodyFatPct, err = read("body_fat"); err != nil {
		return nil, err
	}
	sites := func(prefix string, names []string, factor float64) (map[string]float64, error) {
		var out map[string]float64
		for _, name := range names {
			v, err := read(prefix + name)
			if err != nil {
				return nil, err
			}
			if v == nil {
				continue
			}
			if out == nil {
				out = map[string]float64{}
			}
			out[name] = *v * factor
		}
		return out, nil
	}
	if m.FoldsMm, err = sites("fold_", athlete.FoldSites(), 1); err != nil {
		return nil, err
	}
	factor := 1.0
	if u == athlete.Imperial {
		factor = athlete.CmPerInch
	}
	if m.GirthsCm, err = sites("girth_", athlete.GirthSites(), factor); err != nil {
		return nil, err
	}
	if m.BodyFatPct == nil && m.FoldsMm == nil && m.GirthsCm == nil {
		return nil, nil
	}
	if m.Method == "" && m.BodyFatPct == nil && m.FoldsMm == nil {
		m.Method = athlete.Tape
	}
	return []athlete.Measurement{m}, nil
}

// checkInsPage is what a coach sees of an athlete's check-ins.
type checkInsPage struct {
	Weeks   []checkedWeek
	Photos  int
	Account bool // they have an account of their own
	Last    civil.Date
}

type checkedWeek struct {
	athlete.CheckIn
	When, Measured string
	Poses          []poseSlot
}

func showCheckIns(r *request) error {
	a, err := r.athlete()
	if err != nil {
		return err
	}
	sent, err := r.desk.app.CheckIns(r.ctx(), a.ID, r.asOf)
	if err != nil {
		return err
	}
	photos, err := r.desk.app.Photos(r.ctx(), a.ID, r.asOf)
	if err != nil {
		return err
	}
	measured, err := r.desk.app.Measurements(r.ctx(), a.ID, r.asOf)
	if err != nil {
		return err
	}
	n := notation(a)
	body := checkInsPage{Photos: len(photos)}
	for i := len(sent) - 1; i >= 0; i-- {
		w := checkedWeek{CheckIn: sent[i], When: n.Date(sent[i].Date)}
		for _, m := range measured {
			if m.Date == w.Date {
				w.Measured = strings.TrimSpace(w.Measured + " " + measuredWords(&m, a.Units))
			}
		}
		for _, p := range photos {
			if p.Date == w.Date {
				w.Poses = append(w.Poses, poseSlot{p.Pose, fmt.Sprintf("/athletes/%s/photos/%s/%s", a.ID, p.Date, p.Pose)})
			}
		}
		body.Weeks = append(body.Weeks, w)
	}
	return r.page(http.StatusOK, "check-ins", page{Title: "Check-ins of " + a.Name, Athlete: a, Tab: "check-ins", Body: body})
}

// measuredWords is a measurement as a sentence.
func measuredWords(m *athlete.Measurement, u athlete.Units) string {
	var parts []string
	if m.BodyFatPct != nil {
		parts = append(parts, fmt.Sprintf("body fat %s%s%%", chart.Number(*m.BodyFatPct, 1), nbsp))
	}
	for _, s := range athlete.FoldSites() {
		if v, ok := m.FoldsMm[s]; ok {
			parts = append(parts, fmt.Sprintf("%s fold %s%smm", s, figure(v), nbsp))
		}
	}
	for _, s := range athlete.GirthSites() {
		if v, ok := m.GirthsCm[s]; ok {
			if u == athlete.Imperial {
				v /= athlete.CmPerInch
			}
			parts = append(parts, fmt.Sprintf("%s %s%s%s", s, chart.Number(v, 1), nbsp, girthUnit(u)))
		}
	}
	return phrase.Capital(m.Series()) + ": " + strings.Join(parts, ", ") + "."
}
