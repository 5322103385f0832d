package account

import (
	"net/netip"
	"net/url"
	"strings"

	"github.com/go-webauthn/webauthn/protocol"

	"glidepath/fault"
)

// Site is where readers open the pages. A passkey belongs to one host and works
// nowhere else: that is what keeps it from being used on a page that only looks
// like this one.
type Site struct {
	Host   string // the Relying Party ID: a domain, or localhost
	Origin string // with scheme and, where it is not the usual one, port
}

// SiteOf is the site of an origin such as https://desk.example.org. A browser makes
// passkeys for a domain over https and for localhost, never for an IP address; any
// other origin is Invalid.
func SiteOf(origin string) (Site, error) {
	u, err := url.Parse(origin)
	if err != nil || u.Host == "" || u.User != nil || u.Path != "" || u.RawQuery != "" || u.Fragment != "" {
		return Site{}, fault.New(fault.Invalid, "%q is not an address such as https://desk.example.org.", origin)
	}
	host := strings.ToLower(u.Hostname())
	_, notIP := netip.ParseAddr(host)
	secure := u.Scheme == "https" || u.Scheme == "http" && host == "localhost"
	if !secure || notIP == nil || protocol.ValidateRPID(host) != nil {
		return Site{}, fault.New(fault.Invalid, "passkeys need a host name over https, or localhost, not %s.", origin)
	}
	return Site{Host: host, Origin: u.Scheme + "://" + strings.ToLower(u.Host)}, nil
}
