package cli

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"glidepath/account"
	"glidepath/api"
	"glidepath/app"
	"glidepath/civil"
	"glidepath/mail"
	"glidepath/scenario"
	"glidepath/store"
	"glidepath/web"

	"github.com/spf13/cobra"
)

type serveOptions struct {
	addr, certificate, key, public, outbox, smtp string
	behindProxy                                  bool
}

func newServe(s *session) *cobra.Command {
	var o serveOptions
	c := &cobra.Command{
		Use:   "serve",
		Short: "Serve the pages to browsers",
		Long: `Serve the pages: the roster, each athlete, the weekly review, the season map, the
profile and imports; and the JSON interface under /api. By default only this computer can reach them. The first person
to open them, on this computer, makes the owner's account.

To be reached from elsewhere, give a certificate and its key; or put it behind a
proxy that speaks TLS, and say so with --behind-proxy. The proxy must set
X-Forwarded-For. With --public, the address that readers open, links to invitations
begin with it, and people can sign in with passkeys, which belong to its host name:
change it, and they are to be made anew.

With --smtp a coach can send the message on its page by e-mail. The file is YAML and
must be readable by you alone (chmod 600):

  host: smtp.example.org
  port: 587                      # may be left out
  tls: starttls                  # or tls; none only to this very computer
  from: Imogen Ash <imogen@example.org>
  user: imogen@example.org
  password_file: smtp-password   # its first line; beside this file`,
		Example: `  glidepath serve
  glidepath serve --addr 127.0.0.1:9000 --outbox messages
  glidepath serve --smtp smtp.yaml
  glidepath serve --addr :8443 --cert desk.pem --key desk-key.pem
  glidepath serve --behind-proxy --public https://desk.example.org`,
		Args: exactly(0, "%s takes no arguments."),
		RunE: func(cmd *cobra.Command, _ []string) error { return s.runServe(cmd.Context(), o) },
	}
	f := c.Flags()
	f.StringVar(&o.addr, "addr", "127.0.0.1:8417", "`address` and port to listen on")
	f.StringVar(&o.certificate, "cert", "", "`file` with the TLS certificate")
	f.StringVar(&o.key, "key", "", "`file` with the certificate's key")
	f.BoolVar(&o.behindProxy, "behind-proxy", false, "a proxy of yours speaks TLS and sets X-Forwarded-For")
	f.StringVar(&o.public, "public", "", "`address` that readers open, as https://desk.example.org")
	f.StringVar(&o.outbox, "outbox", "", "`folder` in which messages to athletes are kept as files")
	f.StringVar(&o.smtp, "smtp", "", "`file` that names the mail server by which coaches may send messages")
	return c
}

// check refuses what would send passwords or health data over a network in the
// clear.
func (o *serveOptions) check() error {
	host, _, err := net.SplitHostPort(o.addr)
	switch {
	case err != nil:
		return usage("--addr takes an address and a port, as in 127.0.0.1:8417, not %q.", o.addr)
	case (o.certificate == "") != (o.key == ""):
		return usage("A certificate and its key go together: give both --cert and --key.")
	case o.certificate == "" && !o.behindProxy && host != "localhost" && !account.IsLoopback(host):
		return usage("%s can be reached from other computers: give --cert and --key, or say --behind-proxy where a proxy of yours speaks TLS.", o.addr)
	case o.public != "" && o.certificate == "" && !o.behindProxy:
		return usage("--public is for a server that others reach: give --cert and --key, or say --behind-proxy, too.")
	}
	return o.checkPublic()
}

// checkPublic takes an https address of a host, with a port or without.
func (o *serveOptions) checkPublic() error {
	if o.public == "" {
		return nil
	}
	o.public = strings.TrimSuffix(o.public, "/")
	u, err := url.Parse(o.public)
	if err != nil || u.Scheme != "https" || u.Hostname() == "" || u.User != nil || u.Path != "" || u.RawQuery != "" || u.Fragment != "" {
		return usage("--public takes an address such as https://desk.example.org, not %q.", o.public)
	}
	return nil
}

func (s *session) runServe(ctx context.Context, o serveOptions) (err error) {
	if err := o.check(); err != nil {
		return err
	}
	a, err := s.openOrMake(ctx)
	if err != nil {
		return err
	}
	today := func() civil.Date { return civil.FromTime(s.now()) }
	if s.asOfText != "" {
		on, err := s.asOf()
		if err != nil {
			return err
		}
		today = func() civil.Date { return on }
	}
	from := remote
	if o.behindProxy {
		from = forwarded
	}
	log := slog.New(slog.NewTextHandler(s.stderr, nil))
	accounts := &account.Desk{Store: s.store.Accounts(), Now: s.now}
	options := web.Options{
		Desk:     web.Desk{App: a, Today: today, Version: s.store.Changes},
		Accounts: accounts,
		Demo:     s.inventedDesk, Secure: o.certificate != "" || o.behindProxy, Public: o.public, Address: from,
		Now: s.now, Log: log, Futures: s.futures, Workers: workers(),
	}
	if o.outbox != "" {
		options.KeepMessage = outbox(o.outbox)
	}
	if o.smtp != "" {
		if options.Mail, err = mail.FromFile(o.smtp); err != nil {
			return err
		}
	}
	pages := web.New(options)
	defer pages.Close()
	listener, err := new(net.ListenConfig).Listen(ctx, "tcp", o.addr)
	if err != nil {
		return usage("Nothing can be served at %s: %v.", o.addr, err)
	}
	both := http.NewServeMux()
	both.Handle("/", pages)
	both.Handle("/api/", api.Handler(pages.App(), accounts, api.Options{Address: from, Log: log, Workers: workers()}))
	if !options.Secure {
		return s.listen(ctx, listener, thisComputer(both), o)
	}
	return s.listen(ctx, listener, both, o)
}

// remote is where a request comes from.
func remote(r *http.Request) string { return r.RemoteAddr }

// forwarded is the same behind a proxy: the last address is what our own proxy
// saw; what stands before it anybody can write.
func forwarded(r *http.Request) string {
	lines := r.Header.Values("X-Forwarded-For")
	if len(lines) == 0 {
		return ""
	}
	hops := strings.Split(lines[len(lines)-1], ",")
	return strings.TrimSpace(hops[len(hops)-1])
}

// thisComputer refuses requests that name another host: a page elsewhere whose
// name is made to point here (DNS rebinding) must not become the owner.
func thisComputer(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		host, _, err := net.SplitHostPort(r.Host)
		if err != nil {
			host = r.Host // without a port
		}
		if host != "localhost" && !account.IsLoopback(host) {
			http.Error(w, "This server answers to localhost and 127.0.0.1 only.", http.StatusMisdirectedRequest)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// listen serves until the context ends, then lets what is under way finish.
func (s *session) listen(ctx context.Context, listener net.Listener, pages http.Handler, o serveOptions) error {
	server := &http.Server{
		Handler: pages, ReadHeaderTimeout: 10 * time.Second, ReadTimeout: time.Minute, WriteTimeout: 2 * time.Minute,
		IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 64 << 10, TLSConfig: &tls.Config{MinVersion: tls.VersionTLS12},
	}
	scheme := "http"
	if o.certificate != "" {
		scheme = "https"
	}
	p := s.page()
	p.line("The pages are at %s://%s/ until you stop this with Ctrl-C.", scheme, listener.Addr())
	if err := p.flush(); err != nil {
		return err
	}
	stopped := make(chan error, 1)
	go func() {
		<-ctx.Done()
		const patience = 10 * time.Second
		ending, cancel := context.WithTimeout(context.WithoutCancel(ctx), patience)
		defer cancel()
		stopped <- server.Shutdown(ending)
	}()
	var err error
	if o.certificate != "" {
		err = server.ServeTLS(listener, o.certificate, o.key)
	} else {
		err = server.Serve(listener)
	}
	if !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return <-stopped
}

// inventedDesk is the demo's roster in memory.
func (s *session) inventedDesk(ctx context.Context) (web.Desk, error) {
	memory, err := store.OpenMemory(context.WithoutCancel(ctx))
	if err != nil {
		return web.Desk{}, err
	}
	units, err := s.units()
	if err != nil {
		return web.Desk{}, err
	}
	roster := scenario.Demo()
	a := &app.App{Store: memory, Now: s.now, Units: units, Confidence: s.confidence}
	if err := fill(ctx, a, roster, app.Source{Name: "demo", At: s.now().UTC()}); err != nil {
		return web.Desk{}, errors.Join(err, memory.Close())
	}
	return web.Desk{App: a, Today: func() civil.Date { return roster.AsOf }}, nil
}

// outbox keeps messages as files of their own.
func outbox(folder string) func(string, civil.Date, string) (string, error) {
	return func(id string, on civil.Date, text string) (string, error) {
		if err := os.MkdirAll(folder, 0o700); err != nil {
			return "", err
		}
		for n := 1; ; n++ {
			name := fmt.Sprintf("%s-%s.txt", on, id)
			if n > 1 {
				name = fmt.Sprintf("%s-%s-%d.txt", on, id, n)
			}
			path := filepath.Join(folder, name)
			f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
			if errors.Is(err, os.ErrExist) {
				continue
			}
			if err != nil {
				return "", err
			}
			_, err = f.WriteString(text)
			return name, errors.Join(err, f.Close())
		}
	}
}
