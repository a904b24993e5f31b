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

// Serve serves the page of a shop until ctx ends, then lets the answers under
// way finish. Anything but an address of this machine itself is refused: there
// is no passphrase that would keep strangers out. ready is called with the
// address to open.
func Serve(ctx context.Context, shop *app.Shop, listen string, ready func(address string)) error {
	if err := loopback(listen); err != nil {
		return err
	}
	l, err := net.Listen("tcp", listen)
	if err != nil {
		return &app.UsageError{Problem: fmt.Sprintf("the page cannot listen on %s: %v", listen, errors.Unwrap(err)), Hint: "perhaps it runs already; another port: --listen localhost:8018"}
	}
	handler, err := New(shop, hostsOf(l.Addr()))
	if err != nil {
		return errors.Join(err, l.Close())
	}
	heap.Answering()
	server := &http.Server{Handler: handler, ReadHeaderTimeout: headerTime, IdleTimeout: idleTime}
	done := make(chan error, 1)
	go func() { done <- server.Serve(l) }()
	ready("http://" + hostsOf(l.Addr())[0] + "/")
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	stop, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopTime)
	defer cancel()
	return server.Shutdown(stop)
}

// loopback refuses an address that other machines reach.
func loopback(listen string) error {
	host, _, err := net.SplitHostPort(listen)
	if err != nil {
		return &app.UsageError{Problem: fmt.Sprintf("--listen %s is no address", listen), Hint: "write host and port, such as --listen localhost:8017"}
	}
	ip := net.ParseIP(host)
	if host == "localhost" || ip != nil && ip.IsLoopback() {
		return nil
	}
	return &app.UsageError{
		Problem: "the page is served to this machine only: no passphrase can be set yet that would keep strangers out of the shop's books",
		Hint:    "leave --listen out, or name an address of this machine: --listen localhost:8017",
	}
}

// hostsOf lists the names under which a browser on this machine may ask for the
// page, the one to show first.
func hostsOf(a net.Addr) []string {
	own, port, err := net.SplitHostPort(a.String())
	if err != nil {
		return []string{a.String()}
	}
	names := []string{"localhost", "127.0.0.1", "::1"}
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
