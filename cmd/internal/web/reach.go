package web

import (
	"fmt"
	"net"
	"os"
	"slices"
	"strings"

	"fitfill/cmd/internal/app"
)

// reachOf says who reaches a page that is served at a place, and under which
// names beside those of this machine for itself.
func reachOf(at Place) (h reach, err error) {
	host, _, err := net.SplitHostPort(at.Listen)
	if err != nil {
		return h, &app.UsageError{Problem: fmt.Sprintf("--listen %s is no address", at.Listen), Hint: "write host and port, such as --listen localhost:8017"}
	}
	for _, name := range at.Names {
		name = strings.ToLower(strings.TrimSuffix(name, "."))
		if name == "" || strings.ContainsAny(name, "/:@* ") && net.ParseIP(name) == nil {
			return h, &app.UsageError{Problem: fmt.Sprintf("--name %q is no name of a machine", name), Hint: "write it without scheme and port, such as --name parts.example"}
		}
		h.names = append(h.names, name)
	}
	ip := net.ParseIP(host)
	if host == "localhost" || ip != nil && ip.IsLoopback() {
		h.others = len(h.names) > 0 // through a proxy on this machine
		return h, nil
	}
	h.others, h.own = true, true
	return h, nil
}

// ownNames lists the hosts that machines of the network call this one.
func ownNames(port string) (hosts []string) {
	own, err := os.Hostname()
	if err != nil || own == "" {
		return nil
	}
	own = strings.ToLower(own)
	for _, name := range []string{own, strings.TrimSuffix(own, ".local") + ".local"} {
		hosts = append(hosts, net.JoinHostPort(name, port))
		if port == usualPort { // a browser leaves it out
			hosts = append(hosts, name)
		}
	}
	return hosts
}

// addressesOf lists what to open in a browser.
func addressesOf(a net.Addr, h reach) (list []string) {
	address := func(host string) string { return "http://" + host + "/" }
	_, port, err := net.SplitHostPort(a.String())
	tcp, ok := a.(*net.TCPAddr)
	if err != nil || !ok || !h.own {
		return []string{address(h.hosts[0])}
	}
	if !tcp.IP.IsUnspecified() {
		return []string{address(a.String())}
	}
	found, _ := net.InterfaceAddrs() // without them the page stands all the same
	for _, one := range found {
		network, ok := one.(*net.IPNet)
		if ok && network.IP.To4() != nil && !network.IP.IsLoopback() && !network.IP.IsLinkLocalUnicast() {
			list = append(list, address(net.JoinHostPort(network.IP.String(), port)))
		}
	}
	slices.Sort(list)
	return append(list, address(net.JoinHostPort("localhost", port)))
}
