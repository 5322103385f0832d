package mail

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"net/mail"
	"net/netip"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"github.com/goccy/go-yaml"

	"glidepath/fault"
)

// settings are the file that names the mail server:
//
//	host: smtp.example.org
//	port: 587                      # left out, 587 for starttls and 465 for tls
//	tls: starttls                  # or tls; none only to this very computer
//	from: Imogen Ash <imogen@example.org>
//	user: imogen@example.org       # with password_file, where the server asks for them
//	password_file: smtp-password   # its first line; looked for beside this file
type settings struct {
	Host         string `yaml:"host"`
	Port         int    `yaml:"port"`
	TLS          string `yaml:"tls"`
	From         string `yaml:"from"`
	User         string `yaml:"user"`
	PasswordFile string `yaml:"password_file"`
}

// How the way to the server is kept private.
const (
	startTLS  = "starttls"
	directTLS = "tls"
	noTLS     = "none"
)

// ports are what a way has where the file says none (RFC 6409, RFC 8314).
var ports = map[string]int{startTLS: 587, directTLS: 465, noTLS: 25}

// mostSettings bounds a file of settings, in bytes.
const mostSettings = 64 << 10

// FromFile makes a sender from a file of settings in YAML, and asks nothing of the
// server yet. Files that others than their owner may read are refused; so is a key
// that is not known. Every fault names the file.
func FromFile(path string) (*SMTP, error) {
	s, err := readSettings(path)
	if err != nil {
		return nil, inFile(path, err)
	}
	password := ""
	if s.PasswordFile != "" {
		if !filepath.IsAbs(s.PasswordFile) {
			s.PasswordFile = filepath.Join(filepath.Dir(path), s.PasswordFile)
		}
		text, err := readPrivate(s.PasswordFile)
		if err != nil {
			return nil, inFile(s.PasswordFile, err)
		}
		first, _, _ := strings.Cut(string(text), "\n")
		if password = strings.TrimSuffix(first, "\r"); password == "" {
			return nil, inFile(s.PasswordFile, fault.New(fault.Invalid, "the first line, which is the password, is empty."))
		}
	}
	return newSMTP(&s, password)
}

func inFile(path string, err error) error {
	for _, f := range fault.All(err) {
		f.File = filepath.Base(path)
	}
	return err
}

func readSettings(path string) (s settings, err error) {
	text, err := readPrivate(path)
	if err != nil {
		return s, err
	}
	err = yaml.NewDecoder(bytes.NewReader(text), yaml.Strict()).Decode(&s)
	switch {
	case errors.Is(err, io.EOF):
		return s, fault.New(fault.Invalid, "the file is empty.").WithHint("It needs host and from.")
	case err != nil:
		return s, yamlFault(err)
	}
	if s.TLS == "" {
		s.TLS = startTLS
	}
	if s.Port == 0 {
		s.Port = ports[s.TLS]
	}
	return s, s.validate()
}

// yamlFault says where a file is wrong, without the lines round it, which may have
// a password in them.
func yamlFault(err error) error {
	f := fault.New(fault.Invalid, "this is no YAML of a mail server.").
		WithHint("The keys are host, port, tls, from, user and password_file.")
	if e, ok := errors.AsType[yaml.Error](err); ok {
		f.Message = strings.TrimSuffix(e.GetMessage(), ".") + "."
		if t := e.GetToken(); t != nil && t.Position != nil {
			f.Row = t.Position.Line
		}
	}
	return f
}

func (s *settings) validate() error {
	from, err := mail.ParseAddress(s.From)
	switch {
	case s.Host == "" || strings.ContainsAny(s.Host, " \t\r\n/@"):
		return fault.New(fault.Invalid, "the name of the mail server is missing, or is none.").WithField("host")
	case s.Port < 1 || s.Port > 65535:
		return fault.New(fault.Invalid, "a port is 1 to 65535.").WithField("port")
	case ports[s.TLS] == 0:
		return fault.New(fault.Invalid, "%q is not starttls, tls or none.", s.TLS).WithField("tls")
	case s.TLS == noTLS && !isLoopback(s.Host):
		return fault.New(fault.Invalid, "without TLS, messages and the password would cross the network in the clear.").WithField("tls").
			WithHint("Use starttls or tls; none is for a mail server on this computer.")
	case err != nil || !IsAddress(from.Address) || strings.ContainsFunc(from.Name, notInLine):
		return fault.New(fault.Invalid, "the sender is not an e-mail address.").WithField("from").
			WithHint("Write imogen@example.org, or Imogen Ash <imogen@example.org>.")
	case (s.User == "") != (s.PasswordFile == ""):
		return fault.New(fault.Invalid, "a user and a password go together.").WithField("user").
			WithHint("Give both user and password_file, or neither.")
	}
	return nil
}

func isLoopback(host string) bool {
	a, err := netip.ParseAddr(host)
	return host == "localhost" || err == nil && a.Unmap().IsLoopback()
}

// readPrivate reads a file that nobody but its owner may read.
func readPrivate(path string) (text []byte, err error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fault.New(fault.NotFound, "the file cannot be opened: %v.", errors.Unwrap(err))
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	info, err := f.Stat() // of the very file that is read
	if err != nil {
		return nil, err
	}
	const others = 0o077
	// Windows has no such mode: there the folder's own rules count.
	if mode := info.Mode().Perm(); mode&others != 0 && runtime.GOOS != "windows" {
		return nil, fault.New(fault.Forbidden, "others on this computer can read the file (mode %04o).", mode).
			WithHint("Make it yours alone: chmod 600 %s.", filepath.Base(path))
	}
	text, err = io.ReadAll(io.LimitReader(f, mostSettings+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("mail: %w", err)
	case len(text) > mostSettings:
		return nil, fault.New(fault.Invalid, "the file is larger than %d kB.", mostSettings>>10)
	}
	return text, nil
}
