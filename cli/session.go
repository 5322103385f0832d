package cli

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/store"
)

// session is one run of the program: its streams, the flags that every command
// has, and the data file once it is open.
type session struct {
	env            map[string]string
	stdin          io.Reader
	stdout, stderr io.Writer
	now            func() time.Time

	data, asOfText, unitsText, who string
	json                           bool
	futures                        int
	confidence                     float64

	path  string // of the command, "" until the call is understood
	store *store.Store

	// For the record: whom the command is about, and what it did where that is not
	// what the command usually does.
	concerns []string
	deed     *deed
}

func newSession(env []string, stdin io.Reader, stdout, stderr io.Writer) *session {
	s := &session{env: make(map[string]string, len(env)), stdin: stdin, stdout: stdout, stderr: stderr, now: time.Now}
	for _, pair := range env {
		key, value, _ := strings.Cut(pair, "=")
		s.env[key] = value
	}
	return s
}

// close closes what is open. What the store says then matters: it folds its log
// into the file.
func (s *session) close() error {
	if s.store == nil {
		return nil
	}
	err := s.store.Close()
	s.store = nil
	return err
}

// dataPath is the file in use: the flag, the environment or the usual place.
func (s *session) dataPath() string {
	switch {
	case s.data != "":
		return s.data
	case s.env["GLIDEPATH_DATA"] != "":
		return s.env["GLIDEPATH_DATA"]
	}
	return store.DefaultPath()
}

// open opens the data file to look or to change what is in it. A missing file is
// NotFound, so that a slip in a path does not look like an empty roster.
func (s *session) open(ctx context.Context) (*app.App, error) {
	path := s.dataPath()
	if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) {
		return nil, fault.New(fault.NotFound, "there is no data file at %s.", path).
			WithHint("Add a first athlete with glidepath athlete add, try glidepath demo, or name another file with --data.")
	}
	return s.openOrMake(ctx)
}

// openOrMake opens the data file, and makes it where there is none.
func (s *session) openOrMake(ctx context.Context) (*app.App, error) {
	if c := s.confidence; c != 0 && !(c >= 0.5 && c <= 0.99) {
		return nil, usage("--confidence is a probability from 0.5 to 0.99, not %v.", c)
	}
	var err error
	if s.store, err = store.Open(ctx, s.dataPath()); err != nil {
		return nil, err
	}
	return s.appAt()
}

// appAt is the program on the data file that is open.
func (s *session) appAt() (*app.App, error) {
	units, err := s.units()
	return &app.App{Store: s.store, Now: s.now, Units: units, Confidence: s.confidence}, err
}

// asOf is the date that everything is reckoned for.
func (s *session) asOf() (civil.Date, error) {
	if s.asOfText == "" {
		return civil.FromTime(s.now()), nil
	}
	return dateFlag("as-of", s.asOfText)
}

func dateFlag(name, text string) (civil.Date, error) {
	d, err := civil.Parse(text)
	if err != nil {
		return 0, usage("--%s takes a date such as 2026-03-02, not %q.", name, text)
	}
	return d, nil
}

// units are those asked for, "" for each athlete's own.
func (s *session) units() (athlete.Units, error) {
	switch u := athlete.Units(s.unitsText); u {
	case "", athlete.Metric, athlete.Imperial:
		return u, nil
	}
	return "", usage("--units is metric or imperial, not %q.", s.unitsText)
}

// options are those of a dossier.
func (s *session) options() (app.Options, error) {
	if s.futures < 0 || s.futures > maxFutures {
		return app.Options{}, usage("--futures takes a number from 0 (the usual 4,000) to %d.", maxFutures)
	}
	return app.Options{Futures: s.futures, Workers: workers()}, nil
}

const maxFutures = 200_000

// person is who acts, for the record.
func (s *session) person() (string, error) {
	if who := strings.TrimSpace(s.who); who != "" {
		return who, nil
	}
	if who := strings.TrimSpace(s.env["GLIDEPATH_WHO"]); who != "" {
		return who, nil
	}
	return "", usage("This is kept with a name: give yours with --who, or set GLIDEPATH_WHO.")
}

// source says where values come from.
func (s *session) source(name string) app.Source {
	who, _ := s.person() // a log may be anonymous
	return app.Source{Name: filepath.Base(name), At: s.now().UTC(), Who: who}
}

// find resolves what a person typed for an athlete: the ID, or the beginning of
// one where no other begins so.
func find(ctx context.Context, a *app.App, text string) (*athlete.Athlete, error) {
	people, err := a.Athletes(ctx)
	if err != nil {
		return nil, err
	}
	var like []string
	var found *athlete.Athlete
	for i := range people {
		p := &people[i]
		if p.ID == text {
			return p, nil
		}
		if strings.HasPrefix(p.ID, strings.ToLower(text)) && text != "" {
			like, found = append(like, p.ID), p
		}
	}
	switch len(like) {
	case 1:
		return found, nil
	case 0:
		return nil, fault.New(fault.NotFound, "there is no athlete %q.", text).WithHint("See glidepath athlete list.")
	}
	return nil, fault.New(fault.Unclear, "%q is the beginning of %s.", text, strings.Join(like, " and "))
}

// opened is the program with an athlete and a date.
type opened struct {
	*app.App
	athlete *athlete.Athlete
	on      civil.Date
}

// dossier opens the data file and reckons what there is to say of an athlete.
func (s *session) dossier(ctx context.Context, text string, change func(*app.Options)) (*app.Dossier, error) {
	a, err := s.open(ctx)
	if err != nil {
		return nil, err
	}
	on, err := s.asOf()
	if err != nil {
		return nil, err
	}
	o, err := s.options()
	if err != nil {
		return nil, err
	}
	if change != nil {
		change(&o)
	}
	p, err := find(ctx, a, text)
	if err != nil {
		return nil, err
	}
	s.about(p.ID)
	return a.Dossier(ctx, p.ID, on, o)
}

// notation is how numbers and dates are written for an athlete's reader.
func (s *session) notation(u athlete.Units) chart.Notation {
	if over, err := s.units(); err == nil && over != "" {
		u = over
	}
	return chart.Notation{Units: u}
}

// emit writes a value as JSON to the standard output.
func (s *session) emit(v any) error {
	e := json.NewEncoder(s.stdout)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}
