package web

import (
	"cmp"
	"context"
	"log/slog"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"time"

	"glidepath/account"
	"glidepath/app"
	"glidepath/civil"
	"glidepath/mail"
)

// Desk is a store of athletes with the date that it is looked at on.
type Desk struct {
	App   *app.App
	Today func() civil.Date // unless the reader asks for another
	// Version, where given, changes when another program changes the data, and not
	// when this one does.
	Version func(context.Context) (int64, error)
}

// Options are what a server needs. Desk and Accounts must be set.
type Options struct {
	Desk     Desk
	Accounts *account.Desk
	// Demo makes an invented desk, apart from the real one; nil offers none.
	Demo func(context.Context) (Desk, error)
	// Secure says that readers come by TLS, here or at a proxy: cookies are then
	// for TLS alone.
	Secure bool
	// Public is the address that readers open, such as https://desk.example.org, where
	// it is known: links begin with it, and passkeys belong to it.
	Public string
	// Address tells where a request comes from; nil is its remote address. A server
	// behind a proxy that it trusts sets it.
	Address func(*http.Request) string
	// KeepMessage, where given, keeps a message to an athlete as a file and says
	// where; nil leaves only copying.
	KeepMessage func(athleteID string, on civil.Date, text string) (string, error)
	// Mail, where given, sends messages to athletes; nil offers no sending.
	Mail    mail.Sender
	Now     func() time.Time // nil is time.Now
	Log     *slog.Logger     // nil is slog.Default
	Futures int              // of a forecast; 0 is the usual 4,000
	Workers int              // for one forecast; 0 is one
}

// Server serves the pages.
type Server struct {
	o        Options
	real     *desk
	demo     demoDesk
	waiting  uploads
	sending  sending
	darkroom chan struct{} // has room for the photos that are being made small
	handler  http.Handler
	stop     context.CancelFunc
}

type demoDesk struct {
	mu   sync.Mutex
	desk *desk
}

// New prepares a server. Close ends its background work.
func New(o Options) *Server {
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Address == nil {
		o.Address = func(r *http.Request) string { return r.RemoteAddr }
	}
	o.Log = cmp.Or(o.Log, slog.Default())
	ctx, stop := context.WithCancel(context.Background())
	s := &Server{o: o, real: newDesk(ctx, o.Desk, o.Now, o.Log), stop: stop}
	s.waiting.now, s.darkroom = o.Now, make(chan struct{}, 1)
	mux := http.NewServeMux()
	for _, r := range s.routes() {
		mux.Handle(r.pattern, s.serve(r))
	}
	mux.Handle("GET /asset/", assets())
	mux.Handle("/", s.serve(route{pattern: "/", open: true, do: func(*request) error { return noPage() }}))
	s.handler = s.guard(mux)
	return s
}

// Close ends the background work and waits for it.
func (s *Server) Close() {
	s.stop()
	s.real.wait()
	s.demo.mu.Lock()
	defer s.demo.mu.Unlock()
	if s.demo.desk != nil {
		s.demo.desk.wait()
	}
}

// ServeHTTP implements http.Handler.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) { s.handler.ServeHTTP(w, r) }

// invented is the demo's desk, made when it is first asked for.
func (s *Server) invented(ctx context.Context) (*desk, error) {
	s.demo.mu.Lock()
	defer s.demo.mu.Unlock()
	if s.demo.desk == nil {
		d, err := s.o.Demo(ctx)
		if err != nil {
			return nil, err
		}
		s.demo.desk = newDesk(s.real.ctx, d, s.o.Now, s.o.Log)
		s.demo.desk.invented = true
	}
	return s.demo.desk, nil
}

// at is an address with one query parameter more.
func at(path, key, value string) string {
	mark := "?"
	if strings.Contains(path, "?") {
		mark = "&"
	}
	return path + mark + key + "=" + url.QueryEscape(value)
}

// App are the use cases of the desk. Whatever else in this program changes the
// data must do so through it, so that the roster notices.
func (s *Server) App() *app.App { return s.real.app }
