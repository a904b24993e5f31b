package web

import (
	"context"
	"net"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"fitfill/cmd/internal/app"
)

// networkAddress is an address of this machine that others would use.
func networkAddress(t *testing.T) string {
	t.Helper()
	found, err := net.InterfaceAddrs()
	if err != nil {
		t.Skip(err)
	}
	for _, a := range found {
		if n, ok := a.(*net.IPNet); ok && n.IP.To4() != nil && !n.IP.IsLoopback() {
			return n.IP.String()
		}
	}
	t.Skip("this machine is on no network")
	return ""
}

// As another machine has it: without TLS and not at localhost a browser says less
// of where a form comes from, and the forms work all the same.
func TestABrowserOnTheNetworkEntersAndWrites(t *testing.T) {
	ip := networkAddress(t)
	home := t.TempDir()
	shop, err := openDemo(home)
	if err != nil {
		t.Fatal(err)
	}
	defer shop.Close()
	if err := app.SetPassphrase(home, words); err != nil {
		t.Fatal(err)
	}
	serving, stop := context.WithCancel(t.Context())
	at, done := make(chan Standing, 1), make(chan error, 1)
	go func() { done <- Serve(serving, shop, Place{Listen: "0.0.0.0:0"}, func(s Standing) { at <- s }) }()
	var s Standing
	select {
	case s = <-at:
	case err := <-done:
		t.Fatal(err)
	}
	defer func() {
		stop()
		if err := <-done; err != nil {
			t.Error(err)
		}
	}()
	base := s.Addresses[0]
	if !s.Others || !s.Passphrase || !strings.Contains(base, ip) || !strings.Contains(s.Addresses[len(s.Addresses)-1], "localhost") {
		t.Fatalf("%+v", s)
	}
	for _, screen := range []size{desk, phone} {
		ctx, _ := tab(t, screen)
		run(t, ctx, chromedp.Navigate(base+"bay?vehicle=D+01"), chromedp.WaitVisible("#passphrase"))
		for _, wrong := range script[[]string](t, ctx, rules) {
			t.Errorf("%s: %s", screen.name, wrong)
		}
		if at := script[string](t, ctx, "document.activeElement.id"); at != "passphrase" {
			t.Errorf("%s: the focus is at %q", screen.name, at)
		}
		run(t, ctx, chromedp.SendKeys("#passphrase", "four blue can\r"), chromedp.WaitVisible(".problem"))
		for _, wrong := range script[[]string](t, ctx, rules) {
			t.Errorf("%s: %s", screen.name, wrong)
		}
		shot(t, ctx, "passphrase-"+screen.name)
		run(t, ctx, chromedp.SendKeys("#passphrase", words+"\r"), chromedp.WaitVisible(".leave"))
		if where := script[string](t, ctx, "location.pathname + location.search"); where != "/bay?vehicle=D+01" {
			t.Errorf("%s: it goes on to %s", screen.name, where)
		}
		for _, wrong := range script[[]string](t, ctx, rules) {
			t.Errorf("%s: %s", screen.name, wrong)
		}
		if cookie := script[string](t, ctx, "document.cookie"); cookie != "" {
			t.Errorf("a script reads the cookie: %s", cookie)
		}
		// Typing at the Counter, and writing at the Bay.
		run(t, ctx, chromedp.Navigate(base+"counter"), chromedp.SendKeys("#q", "QM-1038"), chromedp.WaitVisible(".hit"))
		run(t, ctx, chromedp.Navigate(base+"bay?vehicle=D+01&fill=green"), chromedp.WaitVisible(".leave"))
		shot(t, ctx, "letin-"+screen.name)
		run(t, ctx, chromedp.Click(".leave button"), chromedp.WaitVisible("#passphrase"))
		run(t, ctx, chromedp.Navigate(base+"office"), chromedp.WaitVisible("#passphrase"))
		run(t, ctx, chromedp.Navigate("http://localhost:"+base[strings.LastIndex(base, ":")+1:]), chromedp.WaitVisible("#passphrase"))
	}
}
