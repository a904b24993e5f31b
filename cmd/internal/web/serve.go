package web

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"slices"
	"strings"
	"time"

	"fitfill/cmd/internal/app"
	"fitfill/cmd/internal/heap"
)

// How long a browser may take, and how long the answers under way may take when
// the page is stopped.
const (
	headerTime = 10 * time.Second
	idleTime   = 2 * time.Minute
	stopTime   = 5 * time.Second
)

// Place is where a page is to be served.
type Place struct {
	Listen string   // host and port
	Names  []string // other names that it is asked for under, such as that of a proxy
}

// Standing is a page that is served.
type Standing struct {
	Addresses  []string // to open; the first is the best
	Others     bool     // other machines reach it
	Passphrase bool     // it is asked for
}

// Serve serves the page of a shop until ctx ends, then lets the answers under
// way finish. Anything but an address of this machine itself is refused while no
// passphrase is set that would keep strangers out. ready is called when it stands.
func Serve(ctx context.Context, shop *app.Shop, at Place, ready func(Standing)) error {
	passphrase, err := shop.Passphrase()
	if err != nil {
		return err
	}
	h, err := reachOf(at)
	if err != nil {
		return err
	}
	if h.others && passphrase == nil {
		return &app.UsageError{
			Problem: "other machines would reach the page, and no passphrase is set that would keep strangers out of the shop's books",
			Hint:    "set one first: fitfill passphrase; or leave --listen and --name out, so that only this machine reaches it",
		}
	}
	l, err := net.Listen("tcp", at.Listen)
	if err != nil {
		return &app.UsageError{Problem: fmt.Sprintf("the page cannot listen on %s: %v", at.Listen, errors.Unwrap(err)), Hint: "perhaps it runs already; another port: --listen localhost:8018"}
	}
	h.hosts = hostsOf(l.Addr())
	if _, port, err := net.SplitHostPort(l.Addr().String()); err == nil && h.own {
		h.hosts = append(h.hosts, ownNames(port)...)
	}
	_, handler, err := assemble(shop, h)
	if err != nil {
		return errors.Join(err, l.Close())
	}
	heap.Answering()
	server := &http.Server{Handler: handler, ReadHeaderTimeout: headerTime, IdleTimeout: idleTime}
	done := make(chan error, 1)
	go func() { done <- server.Serve(l) }()
	ready(Standing{Addresses: addressesOf(l.Addr(), h), Others: h.others, Passphrase: passphrase != nil})
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	stop, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopTime)
	defer cancel()
	return server.Shutdown(stop)
}

// hostsOf lists the names under which a browser on this machine may ask for the
// page, the one to show first.
func hostsOf(a net.Addr) []string {
	own, port, err := net.SplitHostPort(a.String())
	if err != nil {
		return []string{a.String()}
	}
	names := []string{"localhost", "127.0.0.1", "::1"}
	if ip := net.ParseIP(own); ip != nil && ip.IsUnspecified() {
		own = names[0] // every address of this machine
	}
	if !slices.Contains(names, own) { // such as 127.0.0.2, where localhost does not answer
		names = append([]string{own}, names...)
	}
	var hosts []string
	for _, name := range names {
		hosts = append(hosts, net.JoinHostPort(name, port))
	}
	if port != usualPort {
		return hosts
	}
	for _, name := range names { // a browser leaves the usual port out
		if strings.Contains(name, ":") {
			name = "[" + name + "]"
		}
		hosts = append(hosts, name)
	}
	return hosts
}

// usualPort is the one that an address without a port means.
const usualPort = "80"
