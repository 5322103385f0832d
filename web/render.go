package web

import (
	"embed"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"net/url"
	"path"
	"slices"
	"strings"
	"sync"
	"time"

	"glidepath/access"
	"glidepath/account"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/phrase"
)

//go:embed page/*.tmpl
var pageFiles embed.FS

// pages has a template for each page, with the layout and the parts in it.
var pages = sync.OnceValue(func() map[string]*template.Template {
	base := template.Must(template.New("").Funcs(functions).ParseFS(pageFiles, "page/layout.tmpl", "page/parts.tmpl", "page/own.tmpl"))
	names, err := fs.Glob(pageFiles, "page/*.tmpl")
	if err != nil {
		panic(err) // embedded, so a broken build
	}
	out := map[string]*template.Template{}
	for _, file := range names {
		name := strings.TrimSuffix(path.Base(file), ".tmpl")
		if name == "layout" || name == "parts" || name == "own" {
			continue
		}
		out[name] = template.Must(template.Must(base.Clone()).ParseFS(pageFiles, file))
	}
	return out
})

var functions = template.FuncMap{
	"date":     chart.Notation{}.Date,
	"iso":      func(d civil.Date) string { return d.String() },
	"clock":    func(t time.Time) string { return t.Format("15:04") },
	"plain":    plain,
	"sentence": phrase.Sentence,
	"asset":    assetPath,
	"number":   func(v float64) string { return chart.Number(v, 0) },
	"decimal":  func(v float64) string { return chart.Number(v, 1) },
	"figure":   figure,
	"field":    newField,
	"choice":   newChoice,
	"pair":     func(a, b any) [2]any { return [2]any{a, b} },
	"first":    firstName,
	"capital":  phrase.Capital,
	"day":      civil.FromTime,

	"counted": counted,
	"short":   func(d civil.Date) string { return d.Format("Mon 2 Jan") },
	"one": func(values []string) string {
		if len(values) == 0 {
			return ""
		}
		return values[0]
	},
	"fill":       filled,
	"renamed":    func(f field, id string) field { f.ID = id; return f },
	"has":        func(f form, name, value string) bool { return slices.Contains(f.Values[name], value) },
	"unitName":   func(column string) string { return "unit" + strings.TrimPrefix(column, "column") },
	"limitWord":  func(name string) string { return limitWords[name] },
	"staffRoles": func() []option { return staffRoles },
	"scopes":     account.AllScopes,
	"plus":       func(n int) int { return n + 1 },
	"minus":      func(n int) int { return n - 1 },
	"programmePhases": func() []option {
		out := []option{{"", "any phase"}}
		for _, k := range athlete.PhaseKinds() {
			out = append(out, option{string(k), string(k)})
		}
		return out
	},
	"weekdays":    func() []string { return weekdays },
	"cardioKinds": athlete.CardioKinds,
	"equipment":   athlete.AllEquipment,
	"regions":     athlete.Regions,
	"sexes":       func() []option { return []option{{"", "choose"}, {"female", "female"}, {"male", "male"}} },
	"unitSystems": func() []option {
		return []option{{"metric", "kilograms and centimetres"}, {"imperial", "pounds and inches"}}
	},
	"eventKinds": func() []option {
		return []option{{"travel", "travel"}, {"holiday", "holiday"}, {"illness", "illness"}, {"other", "other"}}
	},
}

var weekdays = []string{"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"}

// filled is an input that shows a value until another was typed.
func filled(f form, kind, name, label, value string) field {
	out := newField(f, kind, name, label, "")
	if out.Value == "" {
		out.Value = value
	}
	return out
}

// page is what every page has; Body is its own.
type page struct {
	Title   string
	Athlete *athlete.Athlete // whose pages these are; nil elsewhere
	Tab     string           // the one that is open
	Faults  []*fault.Error
	Body    any
	Wide    bool // uses the width of a desk

	// Set by complete.
	Name                     string // of who is signed in
	SignedIn, Staff, Adder   bool
	Owner                    bool // of the desk
	Own                      bool // an athlete's, of themselves
	CanDecide, CanLog        bool
	CanDraft, CanRemove      bool
	Invented, OtherDay, Demo bool
	AsOf                     civil.Date
	Today                    civil.Date
	Done                     string
	Here                     string
}

func (p *page) complete(r *request) {
	if p.SignedIn = r.visitor != nil; p.SignedIn {
		p.Name = r.visitor.Name
		p.Adder = r.visitor.CheckAdd() == nil
	}
	p.Staff, p.Own, p.Owner = r.staff(), r.isOwn(), r.visitor.May(access.Manage, "")
	if p.Athlete != nil {
		id := p.Athlete.ID
		p.CanDecide, p.CanLog = r.mayTo(access.Decide, id), r.mayTo(access.Log, id)
		p.CanDraft, p.CanRemove = r.mayTo(access.Draft, id), r.mayTo(access.Remove, id)
	}
	p.Invented, p.OtherDay, p.AsOf = r.desk.invented, r.otherDay, r.asOf
	if p.AsOf.IsZero() { // an error before it was known
		p.AsOf = r.desk.Today()
	}
	p.Today = r.desk.Today()
	p.Demo = r.s.o.Demo != nil
	p.Done = doneWords[r.URL.Query().Get("done")]
	p.Here = r.URL.RequestURI()
}

// doneWords say after a form what it did.
var doneWords = map[string]string{
	"accepted":        "Accepted. The prescription is in force.",
	"edited":          "Your version is in force.",
	"declined":        "Declined. The prescription stays as it was.",
	"kept":            "The message is kept in the outbox.",
	"account":         "The account is made.",
	"athletes":        "Kept. It counts from the next page they open.",
	"disabled":        "Shut out: every session is ended, and no token works.",
	"enabled":         "Let in again.",
	"password":        "The password is set, and every session is ended.",
	"role":            "The role is changed, from the next page they open.",
	"own-password":    "Your password is set. You are signed out everywhere else.",
	"passkey":         "The passkey is kept. You can sign in with it from now on.",
	"renamed":         "Renamed.",
	"elsewhere":       "You are signed out everywhere else.",
	"token-revoked":   "Revoked. The token no longer works.",
	"sent":            "Sent: the mail server took the message.",
	"added":           "The athlete is on the roster.",
	"changed":         "Changed. The older version is kept.",
	"imported":        "Taken in.",
	"erased":          "Erased, with everything that belonged to them.",
	"measured":        "The measurement is kept.",
	"answered":        "Your answer is kept, and everything is reckoned with it.",
	"signed-out":      "You are signed out.",
	"their-passkey":   "The passkey is removed, and every session of theirs is ended.",
	"passkey-removed": "The passkey is removed. It opens nothing here any more; the device may still offer it until you delete it there.",
	"plan":            "The season is changed, and the plan is reckoned anew.",
	"units":           "Changed. What you logged stays the same.",
	"logged":          "Kept.",
	"checked-in":      "Sent to your coach.",
	"noted":           "The note is kept.",
	"note-removed":    "The note is gone for good.",
	"photo":           "The photo is kept.",
	"photo-removed":   "The photo is gone for good.",
	"revoked":         "Revoked. The link no longer works.",
	"nothing-new":     "Everything in the file was there already.",

	"exercise":         "The exercise is kept; everything is reckoned with it from now on.",
	"exercise-removed": "Taken out. What was logged under its name stays.",
	"settled":          "Settled for this desk.",
	"programme":        "Kept as a new version; the older ones stay.",
	"costs":            "Kept. From now on cardio is weighed with it.",
}

func render(w io.Writer, name string, p page) error {
	t := pages()[name]
	if t == nil {
		panic("web: there is no page " + name)
	}
	start := "layout"
	if strings.HasSuffix(name, "-fragment") {
		start = "content"
	}
	if err := t.ExecuteTemplate(w, start, &p); err != nil {
		return fmt.Errorf("web: %w", err)
	}
	return nil
}

// field is an input of a form with what was typed and what was wrong with it.
type field struct {
	ID, Name, Label, Hint, Kind, Value, Wrong string
	Options                                   []option
	Needed                                    bool
}

type option struct{ Value, Text string }

// form is what was typed, and what was wrong with it by field.
type form struct {
	Values url.Values
	Wrong  map[string]string
}

// newField makes an input: kind is an input type, textarea, or a type with an
// exclamation mark where it must be filled in.
func newField(f form, kind, name, label, hint string) field {
	kind, needed := strings.CutSuffix(kind, "!")
	return field{ID: name, Name: name, Label: label, Hint: hint, Kind: kind, Value: f.Values.Get(name), Wrong: f.Wrong[name], Needed: needed}
}

// newChoice makes a selection.
func newChoice(f form, name, label, hint string, options []option) field {
	return field{ID: name, Name: name, Label: label, Hint: hint, Kind: "select", Value: f.Values.Get(name), Wrong: f.Wrong[name], Options: options}
}

// wrongIn sorts faults to the fields of a form; what belongs to none is left.
func wrongIn(err error, names map[string]string) (wrong map[string]string, rest []*fault.Error) {
	wrong = map[string]string{}
	for _, f := range troubles(err) {
		name, ok := names[f.Field]
		if !ok {
			rest = append(rest, f)
			continue
		}
		bare := *f
		bare.Row, bare.File = 0, ""
		wrong[name] = strings.TrimSpace(wrong[name] + " " + plain(&bare))
	}
	return wrong, rest
}

// counted is a number with its noun, which takes its plural without the s.
func counted(n int, many string) string {
	if n == 1 {
		many = strings.TrimSuffix(many, "s")
	}
	return chart.Number(float64(n), 0) + " " + many
}

func firstName(name string) string {
	first, _, _ := strings.Cut(name, " ")
	return first
}

// figure writes a number without needless decimals.
func figure(v float64) string {
	s := chart.Number(v, 3)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}
