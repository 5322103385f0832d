package account

import (
	"net/netip"
	"sync"
	"time"

	"glidepath/fault"
)

// How often a sign-in may fail (judgement): for an account, and from an address.
const (
	failWindow      = 15 * time.Minute
	failsPerAccount = 10
	failsPerAddress = 30
	// mostGuarded bounds the memory that strangers can fill.
	mostGuarded = 20_000
)

// guard counts failed sign-ins. It lives in memory: a restart forgives.
type guard struct {
	mu    sync.Mutex
	fails map[string][]time.Time // by account, passkey or address
}

// guardLogin is what failures with an account's login are counted under; a passkey
// has a count of its own, so that who guesses at passwords does not shut it out.
func guardLogin(login string) string { return "account " + login }

// take counts an attempt as a failure before it is made, so that many at once do
// not slip through, or tells that there were too many. Without a key it counts for
// the address alone.
func (g *guard) take(now time.Time, key, address string) error {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.fails == nil {
		g.fails = map[string][]time.Time{}
	}
	keys := guardKeys(key, address)
	for key, most := range keys {
		if len(g.recent(now, key)) >= most {
			return fault.New(fault.TooMany, "too many sign-ins have failed.").
				WithHint("Wait %d minutes, then try again.", int(failWindow.Minutes()))
		}
	}
	g.makeRoom(now)
	for key := range keys {
		g.fails[key] = append(g.fails[key], now)
	}
	return nil
}

// makeRoom keeps strangers from filling the memory. What is still counted goes only
// when there is no other way: to have one's count forgotten so takes more guesses
// than can be made while it lasts.
func (g *guard) makeRoom(now time.Time) {
	if len(g.fails) < mostGuarded {
		return
	}
	for key := range g.fails {
		g.recent(now, key)
	}
	for key := range g.fails {
		if len(g.fails) < mostGuarded*3/4 { // so that it is not to do again at once
			return
		}
		delete(g.fails, key)
	}
}

// forgive takes back an attempt that did not fail, and what the account or passkey
// failed before.
func (g *guard) forgive(key, address string) {
	g.mu.Lock()
	defer g.mu.Unlock()
	delete(g.fails, key)
	from := "address " + network(address)
	if times := g.fails[from]; len(times) > 1 {
		g.fails[from] = times[:len(times)-1]
	} else {
		delete(g.fails, from)
	}
}

// recent are the failures within the window; older ones are forgotten.
func (g *guard) recent(now time.Time, key string) []time.Time {
	times := g.fails[key]
	for len(times) > 0 && now.Sub(times[0]) >= failWindow {
		times = times[1:]
	}
	if len(times) == 0 {
		delete(g.fails, key)
		return nil
	}
	g.fails[key] = times
	return times
}

func guardKeys(key, address string) map[string]int {
	keys := map[string]int{"address " + network(address): failsPerAddress}
	if key != "" {
		keys[key] = failsPerAccount
	}
	return keys
}

// network is an address as it is counted: the first 64 bits of an IPv6 address,
// since one customer has all of the rest.
func network(address string) string {
	host := HostOf(address)
	a, err := netip.ParseAddr(host)
	if err != nil {
		return host
	}
	if a = a.Unmap(); a.Is4() {
		return a.String()
	}
	p, err := a.WithZone("").Prefix(64)
	if err != nil {
		return host
	}
	return p.String()
}

// HostOf is the host of an address with or without a port.
func HostOf(address string) string {
	if ap, err := netip.ParseAddrPort(address); err == nil {
		return ap.Addr().String()
	}
	return address
}

// IsLoopback reports whether an address, with or without a port, is of this very
// computer.
func IsLoopback(address string) bool {
	a, err := netip.ParseAddr(HostOf(address))
	return err == nil && a.Unmap().IsLoopback()
}
