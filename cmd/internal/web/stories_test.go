package web

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"fitfill/cmd/internal/app"
)

// The counter: words while they are typed, an engine put on the bench, the
// reasons unfolded, back to the box: all of it without a mouse.
func TestCounterByKeyboardAlone(t *testing.T) {
	server := serveDemo(t)
	ctx, asked := tab(t, desk)
	run(t, ctx, chromedp.Navigate(server.URL+"/"))
	if at := script[string](t, ctx, focused); !strings.HasPrefix(at, "q ") {
		t.Errorf("the focus is in %q, want the box", at)
	}
	run(t, ctx, chromedp.KeyEvent("thermostat"))
	until(t, ctx, "hits", `document.querySelectorAll(".hit").length === 20`)
	until(t, ctx, "the ways to narrow", `!!document.querySelector(".narrow")`)
	hasAll(t, "facets", script[string](t, ctx, `document.querySelector(".narrow").innerText`), "narrow by supplier", "narrow by engine", "Quillmar")
	run(t, ctx, chromedp.KeyEvent(kb.Tab+kb.Tab+"TKV38"))
	until(t, ctx, "verdicts for the engine", `document.querySelectorAll(".hit .verdict").length === 7`)
	until(t, ctx, "a screen reader to hear it", `document.getElementById("live").textContent.includes("7 parts for TKV38")`)
	if at := script[string](t, ctx, "location.search"); !strings.Contains(at, "engine=TKV38") || !strings.Contains(at, "q=thermostat") {
		t.Errorf("the address is %q: it does not hold the state", at)
	}
	run(t, ctx, chromedp.KeyEvent(kb.Shift+kb.Tab), chromedp.Focus("#q"), chromedp.KeyEvent(kb.ArrowDown), chromedp.KeyEvent(kb.Enter))
	first := script[string](t, ctx, `document.querySelector(".hit details").open ? document.querySelector(".hit").innerText : ""`)
	hasAll(t, "the first hit", first, "fits:", "EUR", "(listed)", "(measured)", "line ")
	shot(t, ctx, "counter-1280")
	picture(t, ctx, "counter")
	run(t, ctx, chromedp.KeyEvent("/"))
	until(t, ctx, "the focus in the box", `document.activeElement.id === "q"`)
	run(t, ctx, chromedp.KeyEvent("QM-1038"+kb.Enter))
	until(t, ctx, "the number", `document.querySelector(".hit .number").textContent === "QM-1038" && document.getElementById("q").value === "QM-1038"`)
	until(t, ctx, "the last questions", `document.querySelectorAll("#last a").length >= 1`)
	run(t, ctx, chromedp.Click(`.hit a.place`))
	until(t, ctx, "the line of the sheet", `document.querySelector("h1").textContent.includes("line ")`)
	hasAll(t, "the line", script[string](t, ctx, `document.querySelector("main").innerText`), "as written", "QM-1038", "opening_temp")
	for _, address := range asked() {
		if !strings.HasPrefix(address, server.URL+"/") && !strings.HasPrefix(address, "data:,") {
			t.Errorf("the page asks elsewhere: %s", address)
		}
	}
}

// The bay: a phone, two taps, an answer; then it is logged.
func TestBayInTwoTaps(t *testing.T) {
	shop, err := openDemo(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { shop.Close() })
	server := serveShop(t, shop)
	ctx, _ := tab(t, phone)
	tap := func(text string) {
		t.Helper()
		run(t, ctx, chromedp.Click(`//a[contains(., "`+text+`")]`))
	}
	run(t, ctx, chromedp.Navigate(server.URL+"/bay?vehicle=D+01"))
	shot(t, ctx, "bay-390")
	tap("green")
	until(t, ctx, "what goes in", `document.body.innerText.includes("What is going in?")`)
	tap("PR-SI50-20")
	until(t, ctx, "the verdict", `!!document.querySelector(".said .verdict")`)
	answer := script[string](t, ctx, `document.querySelector("main").innerText`)
	hasAll(t, "the answer", answer, "don't pour yet", "To find out", "How much of it", "Mind")
	big := script[float64](t, ctx, `parseFloat(getComputedStyle(document.querySelector(".said .verdict")).fontSize)`)
	if body := script[float64](t, ctx, `parseFloat(getComputedStyle(document.querySelector(".said p")).fontSize)`); big < 1.6*body {
		t.Errorf("the verdict is %.0f px beside %.0f px: not to be read at arm's length", big, body)
	}
	tap("0.5 L")
	until(t, ctx, "the answer for the amount", `location.search.includes("amount=0.5")`)
	shot(t, ctx, "bay-answer-390")
	picture(t, ctx, "bay")
	run(t, ctx, chromedp.Click(`.log > summary`), chromedp.Click(`.log button`))
	until(t, ctx, "the log", `document.body.innerText.includes("Logged.")`)
	hasAll(t, "the record", script[string](t, ctx, `document.querySelector("main").innerText`), "0.5 L of PR-SI50-20", "take it back")
}

// The office: who is worse, a held row put right, a new list that waits for a
// decision.
func TestOfficeStory(t *testing.T) {
	shop, err := openDemo(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { shop.Close() })
	server := serveShop(t, shop)
	ctx, _ := tab(t, desk)
	run(t, ctx, chromedp.Navigate(server.URL+"/office"))
	ostrel := script[string](t, ctx, `[...document.querySelectorAll("tbody tr")].find((r) => r.innerText.startsWith("Ostrel")).innerText`)
	hasAll(t, "the row", ostrel, "worse")
	if drawn := script[float64](t, ctx, `document.querySelector(".chart text").getBoundingClientRect().height`); drawn < 11 {
		t.Errorf("the names in the drawing are %.1f px high", drawn)
	}
	shot(t, ctx, "office-1280")
	picture(t, ctx, "office")
	run(t, ctx, chromedp.Navigate(server.URL+"/office/held"), chromedp.SetValue(`//form[label[contains(., "Yrs")]]//input[@name="value"]`, "2004-2011"),
		chromedp.Click(`//form[label[contains(., "Yrs")]]//button`))
	until(t, ctx, "the question what it changes", `document.body.innerText.includes("now listed for")`)
	run(t, ctx, chromedp.Click(`button[value=take]`))
	until(t, ctx, "the row to be taken", `document.body.innerText.includes("It is in use.")`)
	file, err := filepath.Abs("../../../data/demo/later/quillmar-2026-2.csv")
	if err != nil {
		t.Fatal(err)
	}
	run(t, ctx, chromedp.Navigate(server.URL+"/office/sheets"), chromedp.SetUploadFiles(`input[type=file]`, []string{file}), chromedp.SetValue(`input[name=supplier]`, "Quillmar"), chromedp.Click(`.upload button`))
	until(t, ctx, "the sheet to wait", `document.body.innerText.includes("It waits for a decision")`)
	hasAll(t, "the decision", script[string](t, ctx, `document.querySelector("main").innerText`), "the columns may have been swapped", "Take it like this", "Drop the sheet")
	shot(t, ctx, "office-decide-1280")
	run(t, ctx, chromedp.Click(`button[value=drop]`))
	until(t, ctx, "the sheet to be gone", `!document.body.innerText.includes("quillmar-2026-2.csv")`)
}

// Without a script the plain form does the same.
func TestCounterWithoutScript(t *testing.T) {
	server := serveDemo(t)
	ctx, _ := tab(t, phone)
	_, err := chromedp.Call(ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	call(t, err)
	run(t, ctx, chromedp.Navigate(server.URL+"/?engine=TKV38"), chromedp.SendKeys("#q", "thermostat"+kb.Enter), chromedp.WaitVisible(".hit .verdict"))
	hasAll(t, "the page", value(t, ctx, chromedp.Text("main")), "fits: one list and measured", "QM-1038")
}

// All of the drawing is to be seen on a phone, in letters that can be read.
func TestTheDrawingFitsAPhone(t *testing.T) {
	server := serveDemo(t)
	ctx, _ := tab(t, phone)
	run(t, ctx, chromedp.Navigate(server.URL+"/office"))
	if right := script[float64](t, ctx, `Math.max(...[...document.querySelectorAll(".chart *")].map((e) => e.getBoundingClientRect().right))`); right > float64(phone.width) {
		t.Errorf("the drawing reaches to %.0f px of %d", right, phone.width)
	}
	if small := script[float64](t, ctx, `Math.min(...[...document.querySelectorAll(".chart text")].map((e) => e.getBoundingClientRect().height))`); small < 11 {
		t.Errorf("letters in the drawing are %.1f px high", small)
	}
}

func TestDarkPagesAreDark(t *testing.T) {
	server := serveDemo(t)
	ctx, _ := tab(t, size{"390-dark", 390, 844, true})
	for name, path := range map[string]string{"counter": "/counter?q=thermostat&engine=TKV38", "bay": "/bay?engine=TKV30&fill=iat&add=PR-SI50-20&strength=40&amount=0.5+L", "office": "/office"} {
		run(t, ctx, chromedp.Navigate(server.URL+path))
		if back := script[string](t, ctx, `getComputedStyle(document.body).backgroundColor`); back != "rgb(21, 23, 26)" {
			t.Errorf("%s: the ground is %s", name, back)
		}
		shot(t, ctx, name+"-390-dark")
	}
}

// The job list prints on one A4 page.
func TestJobPrintsOnOnePage(t *testing.T) {
	server := serveDemo(t)
	ctx, _ := tab(t, desk)
	run(t, ctx, chromedp.Navigate(server.URL+"/job?engine=TKV38&job=thermostat&list=PR-CL-1+of+Pindle+%26+Rook"))
	pdf := value(t, ctx, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperA4), chromedp.PDFPreferCSSPageSize()))
	if pages := bytes.Count(pdf, []byte("/Type /Page\n")); pages != 1 {
		t.Errorf("%d pages, want 1", pages)
	}
	if dir := os.Getenv("FITFILL_SHOTS"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, "job.pdf"), pdf, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// What a sheet says is text, whatever it says.
func TestHostileSheetIsShownAsText(t *testing.T) {
	shop, err := app.Open(t.TempDir(), nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { shop.Close() })
	const sheet = "number,type,description,price,currency,engine,make\n" +
		`X-1<script>hacked=1</script>,thermostat,"<img src=x onerror=""hacked=2""> thermostat",1.00,EUR,"E1""><svg onload=hacked=3>",M` + "\n" +
		`=HYPERLINK(1),thermostat,"</textarea><script>hacked=4</script> thermostat",2.00,EUR,E1,M` + "\n"
	if _, err := shop.Import(t.Context(), app.ImportQuestion{Name: `<b onclick="hacked=5">.csv`, Raw: []byte(sheet), Supplier: `<i>Evil</i>"`}); err != nil {
		t.Fatal(err)
	}
	server := serveShop(t, shop)
	ctx, _ := tab(t, desk)
	for _, path := range []string{"/counter?q=thermostat&engine=E1", "/counter?q=%3Cscript%3Ehacked%3D6%3C%2Fscript%3E", "/office/sheets", "/sheet/1/line/2", "/office/audit", "/office/held"} {
		run(t, ctx, chromedp.Navigate(server.URL+path))
		if did := script[string](t, ctx, `String(window.hacked) + document.querySelectorAll("main script, main img, main i, main b").length`); did != "undefined0" {
			t.Errorf("%s: something of the sheet ran or became a tag (%s)", path, did)
		}
	}
}
