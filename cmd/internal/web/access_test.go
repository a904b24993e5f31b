package web

import (
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// everyKind has an address of each kind of page, with something on it.
var everyKind = []string{
	"/", "/counter?q=thermostat&engine=TKV38", "/counter?q=thermostat", "/counter?q=zzzz", "/counter?engine=TKV30", "/fit?engine=TKV30&type=thermostat", "/job?engine=TKV38&job=thermostat&list=PR-CL-1+of+Pindle+%26+Rook",
	"/sheet/2/line/5", "/bay", "/bay?vehicle=D+01&fill=green", "/bay?engine=TKV30&fill=iat&add=PR-SI50-20&strength=40&amount=0.5+L&coldest=-12+C", "/bay?vehicle=D+04&fill=factory&add=PR-SI50-20",
	"/bay/flush?engine=VSR18&fill=green&to=PR-SIC-5", "/bay/vehicle?vehicle=D+01", "/office", "/office?type=thermostat&a=Ostrel&b=Quillmar", "/office/sheets", "/office/held", "/office/notes", "/office/audit", "/nowhere",
}

// rules looks a page over by rules of WCAG 2.2 that can be computed: language
// (3.1.1), title (2.4.2), landmarks and one first heading (1.3.1), names of
// fields, links and buttons (4.1.2, 2.4.4), of pictures (1.1.1), ids used twice,
// contrast of every text on its ground (1.4.3), size of targets (2.5.8: 24 px),
// nothing to scroll sideways (1.4.10), and the order of the focus (2.4.3).
const rules = `(() => {
  const wrong = [];
  const shown = (e) => { const r = e.getBoundingClientRect(); return r.width > 0 && r.height > 0 && e.checkVisibility({ visibilityProperty: true }); };
  const say = (rule, e) => wrong.push(rule + ": " + (e ? e.outerHTML.slice(0, 120) : ""));
  if (!document.documentElement.lang) say("no language");
  if (!document.title) say("no title");
  if (document.querySelectorAll("main").length !== 1 || !document.querySelector("nav[aria-label]")) say("no landmarks");
  if (document.querySelectorAll("h1").length !== 1) say("not one first heading");
  const ids = new Set();
  for (const e of document.querySelectorAll("[id]")) { if (ids.has(e.id)) say("id twice", e); ids.add(e.id); }
  for (const e of document.querySelectorAll("input:not([type=hidden]), select, textarea")) if (!e.labels.length && !e.getAttribute("aria-label")) say("field without a name", e);
  for (const e of document.querySelectorAll("a, button, summary")) if (!(e.textContent.trim() || e.getAttribute("aria-label"))) say("nothing to read", e);
  for (const e of document.querySelectorAll("svg")) if (e.getAttribute("role") !== "img" || !e.querySelector("title")) say("picture without a name", e);
  for (const e of document.querySelectorAll("th")) if (!e.scope && e.closest("thead")) say("heading of nothing", e);
  for (const e of document.querySelectorAll("[tabindex]")) if (e.tabIndex > 0) say("focus out of order", e);
  const lum = (c) => { const [r, g, b] = c.map((v) => { v /= 255; return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; }); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
  const rgb = (c) => (c.match(/[\d.]+/g) || []).map(Number);
  const ground = (e) => { for (; e; e = e.parentElement) { const c = rgb(getComputedStyle(e).backgroundColor); if (c.length === 3 || c[3] === 1) return c.slice(0, 3); } return [255, 255, 255]; };
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement;
    if (!walk.currentNode.textContent.trim() || !shown(e) || e.closest("svg, script, option, .hide, .skip")) continue;
    const a = lum(rgb(getComputedStyle(e).color).slice(0, 3)), b = lum(ground(e));
    const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    if (ratio < 4.5) say("contrast " + ratio.toFixed(2), e);
  }
  for (const e of document.querySelectorAll("button, .tap, .taps a, summary, input:not([type=hidden]), select, .doors a, .choices a")) {
    const r = e.getBoundingClientRect();
    if (shown(e) && !e.closest(".hide") && r.height < 24) say("target of " + r.height.toFixed(0) + " px", e);
  }
  if (document.documentElement.scrollWidth > innerWidth + 1) {
    const wide = [...document.querySelectorAll("main *")].find((e) => e.getBoundingClientRect().right > innerWidth + 1 && !e.closest(".scroll"));
    say("wider than the screen by " + (document.documentElement.scrollWidth - innerWidth), wide);
  }
  return wrong;
})()`

// Every kind of page on a desk, at 200 % zoom (half the width), on a phone, and
// in the dark.
func TestPagesKeepTheRulesOfAccess(t *testing.T) {
	server := serveDemo(t)
	for _, s := range []size{desk, {"640", 640, 450, false}, phone, {"390-dark", 390, 844, true}} {
		ctx, _ := tab(t, s)
		for i, path := range everyKind {
			if s.dark && i%3 != 1 { // the style is the same; its colours are checked by themselves
				continue
			}
			run(t, ctx, chromedp.Navigate(server.URL+path))
			for _, wrong := range script[[]string](t, ctx, rules) {
				t.Errorf("%s at %s: %s", path, s.name, wrong)
			}
		}
	}
}

// Gloves: what is tapped in the bay is at least 48 px high and wide.
func TestBayIsMadeForGloves(t *testing.T) {
	server := serveDemo(t)
	ctx, _ := tab(t, phone)
	for _, path := range everyKind {
		if !strings.HasPrefix(path, "/bay") {
			continue
		}
		run(t, ctx, chromedp.Navigate(server.URL+path))
		for _, small := range script[[]string](t, ctx, `[...document.querySelectorAll("main a, main button, main summary, main input:not([type=hidden]), main select, .doors a")].filter((e) => {
			const r = e.getBoundingClientRect(); return e.checkVisibility() && r.width > 0 && (r.height < 48 || r.width < 40) }).map((e) => e.getBoundingClientRect().height.toFixed(0) + " px high: " + e.outerHTML.slice(0, 100))`) {
			t.Errorf("%s: %s", path, small)
		}
	}
}

// Every link of every page answers; so does its twin.
func TestEveryLinkAnswers(t *testing.T) {
	server := serveDemo(t)
	href := regexp.MustCompile(`href="(/[^"]*)"`)
	const most = 160
	todo, seen := slices.Clone(everyKind[:len(everyKind)-1]), map[string]bool{}
	for len(todo) > 0 && len(seen) < most {
		path := todo[0]
		todo = todo[1:]
		if seen[path] {
			continue
		}
		seen[path] = true
		g := get(t, server, path)
		if g.status != 200 && !(g.status == 303 && strings.Contains(path, "car=")) {
			t.Errorf("%s: status %d: %.200s", path, g.status, text(g.body))
			continue
		}
		if !strings.HasPrefix(g.header.Get("Content-Type"), "text/html") {
			continue
		}
		for _, m := range href.FindAllStringSubmatch(g.body, -1) {
			to := unescape(m[1])
			if _, err := url.Parse(to); err != nil {
				t.Errorf("%s links to %s: %v", path, to, err)
			}
			todo = append(todo, to)
		}
	}
	if len(seen) < 100 {
		t.Errorf("only %d links found", len(seen))
	}
}
