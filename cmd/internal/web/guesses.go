package web

import (
	"net"
	"net/http"
	"net/netip"
	"sync"
	"time"
)

// How guessing is slowed down. A person mistypes a few times; after that each
// try from one address waits twice as long as the one before. Over all addresses
// together there are so many tries at once, and then one in so long.
const (
	freeTries   = 3
	firstWait   = time.Second
	longestWait = 15 * time.Minute
	triesAtOnce = 20
	oneMoreIn   = 6 * time.Second
	mostGuesser = 1000 // addresses that are remembered
)

// guesses counts the tries at the passphrase. Each counts as failed until it is
// known to be right, so that many at the same time are as slow as one after the
// other.
type guesses struct {
	mu   sync.Mutex
	now  func() time.Time
	from map[string]*guesser
	left float64 // tries that are left over all addresses
	at   time.Time
}

// guesser is an address that has tried.
type guesser struct {
	tries int
	next  time.Time // before that, no try counts
}

func newGuesses(now func() time.Time) *guesses {
	return &guesses{now: now, from: map[string]*guesser{}, left: triesAtOnce, at: now()}
}

// try reports how long an address has to wait before its next try; zero: it has
// had one.
func (g *guesses) try(address string) time.Duration {
	g.mu.Lock()
	defer g.mu.Unlock()
	now := g.now()
	g.left = min(triesAtOnce, g.left+float64(now.Sub(g.at))/float64(oneMoreIn))
	g.at = now
	one := g.from[address]
	if one != nil && now.Before(one.next) {
		return one.next.Sub(now)
	}
	if g.left < 1 {
		return max(time.Millisecond, time.Duration((1-g.left)*float64(oneMoreIn))) // never rounded to "it has had one"
	}
	g.left--
	if one == nil {
		g.makeRoom(now)
		one = &guesser{}
		g.from[address] = one
	}
	if one.tries++; one.tries >= freeTries {
		one.next = now.Add(min(longestWait, firstWait<<min(one.tries-freeTries, 20)))
	}
	return 0
}

// right takes back what try has counted.
func (g *guesses) right(address string) {
	g.mu.Lock()
	defer g.mu.Unlock()
	delete(g.from, address)
	g.left = min(triesAtOnce, g.left+1)
}

// makeRoom forgets addresses that have not tried for long, and any one where that
// is not enough: the tries over all of them are counted apart.
func (g *guesses) makeRoom(now time.Time) {
	if len(g.from) < mostGuesser {
		return
	}
	for address, one := range g.from {
		if now.After(one.next.Add(longestWait)) {
			delete(g.from, address)
		}
	}
	for address := range g.from {
		if len(g.from) < mostGuesser {
			return
		}
		delete(g.from, address)
	}
}

// addressOf is whom a request comes from. Of the newer addresses it is the first
// half: one machine has all of the others to choose from.
func addressOf(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	ip, err := netip.ParseAddr(host)
	if err != nil {
		return host
	}
	ip = ip.Unmap().WithZone("")
	if ip.Is6() && !ip.IsLoopback() {
		if half, err := ip.Prefix(64); err == nil {
			return half.String()
		}
	}
	return ip.String()
}
