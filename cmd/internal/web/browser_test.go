package web

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
)

// browserNames are the programs that a browser for the tests may be called.
var browserNames = []string{"chromium", "chromium-browser", "google-chrome-stable", "chrome"}

// browser starts one headless browser for all tests; each test gets a tab.
var browser = sync.OnceValues(func() (context.Context, error) {
	var path string
	for _, name := range browserNames {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		return nil, fmt.Errorf("no Chromium is installed, so the pages were not tried in a browser (apt-get install chromium)")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.Flag("disable-gpu", true), chromedp.Flag("hide-scrollbars", true))
	ctx, _ := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, _ = chromedp.NewContext(ctx)
	browserContext = ctx
	_, err := chromedp.Run(ctx, chromedp.Title())
	return ctx, err
})

// browserContext is the running browser, so that it ends with the tests.
var browserContext context.Context

func stopBrowser() {
	if browserContext != nil {
		_ = chromedp.Cancel(browserContext) // the tests are over; it is gone either way
	}
}

// patience is how long a step in the browser may take.
const patience = time.Minute

// size is a screen.
type size struct {
	name          string
	width, height int64
	dark          bool
}

var (
	desk  = size{"1280", 1280, 900, false}
	phone = size{"390", 390, 844, false}
)

// tab opens a tab of a size and tells which addresses it asks for.
func tab(t *testing.T, s size) (ctx context.Context, asked func() []string) {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes its time")
	}
	parent, err := browser()
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal(err)
		}
		t.Skip(err)
	}
	ctx, cancel := chromedp.NewContext(parent)
	t.Cleanup(cancel)
	ctx, stop := context.WithTimeout(ctx, patience)
	t.Cleanup(stop)
	var mu sync.Mutex
	var list []string
	err = chromedp.Listen(ctx, func(event any) {
		if e, ok := event.(*network.EventRequestWillBeSent); ok {
			mu.Lock()
			list = append(list, e.Request.URL)
			mu.Unlock()
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	scheme := "light"
	if s.dark {
		scheme = "dark"
	}
	_, err = chromedp.Call(ctx, network.Enable, network.EnableParams{})
	call(t, err)
	_, err = chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
	call(t, err)
	run(t, ctx, chromedp.EmulateViewport(s.width, s.height))
	return ctx, func() []string {
		mu.Lock()
		defer mu.Unlock()
		return list
	}
}

func run(t *testing.T, ctx context.Context, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	call(t, chromedp.Do(ctx, steps...))
}

// call fails the test if a command to the browser failed.
func call(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// value runs a step in the browser that returns something.
func value[T any](t *testing.T, ctx context.Context, step chromedp.Action[T]) T {
	t.Helper()
	out, err := chromedp.Run(ctx, step)
	call(t, err)
	return out
}

// script evaluates an expression in the page.
func script[T any](t *testing.T, ctx context.Context, js string) T {
	t.Helper()
	return value(t, ctx, chromedp.Evaluate[T](js))
}

// until waits for an expression to become true.
func until(t *testing.T, ctx context.Context, what, js string) {
	t.Helper()
	for end := time.Now().Add(patience / 2); time.Now().Before(end); time.Sleep(15 * time.Millisecond) {
		if script[bool](t, ctx, "(() => { try { return !!("+js+") } catch { return false } })()") { // between two pages there is no body
			return
		}
	}
	t.Fatalf("waited for %s; the page shows: %.600s", what, script[string](t, ctx, "document.body ? document.body.innerText : ''"))
}

// shot keeps a picture of the whole page.
func shot(t *testing.T, ctx context.Context, name string) {
	t.Helper()
	keep(t, ctx, name, chromedp.FullScreenshot(100))
}

// picture keeps a picture of what the screen shows, for README.md.
func picture(t *testing.T, ctx context.Context, name string) {
	t.Helper()
	run(t, ctx, chromedp.Evaluate[chromedp.Void]("scrollTo(0, 0)"))
	keep(t, ctx, "picture-"+name, chromedp.CaptureScreenshot())
}

// keep writes a picture into the folder that FITFILL_SHOTS names.
func keep(t *testing.T, ctx context.Context, name string, take chromedp.Action[[]byte]) {
	t.Helper()
	until(t, ctx, "the page", `document.readyState === "complete"`)
	taken := value(t, ctx, take)
	dir := os.Getenv("FITFILL_SHOTS")
	if dir == "" {
		dir = t.TempDir()
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, name+".png"), taken, 0o644); err != nil {
		t.Fatal(err)
	}
	if len(taken) < 2000 {
		t.Errorf("the picture %s is empty", name)
	}
}

// focused says which element has the focus.
const focused = `(document.activeElement.id || document.activeElement.tagName) + " " + (document.activeElement.textContent || "").trim()`

func hasAll(t *testing.T, where, text string, parts ...string) {
	t.Helper()
	for _, p := range parts {
		if !strings.Contains(text, p) {
			t.Errorf("%s lacks %q: %.800s", where, p, text)
		}
	}
}
