package web

import (
	"bytes"
	"encoding/csv"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"fitfill/cmd/internal/app"
)

// upload sends a sheet as the form of the Office does.
func upload(t *testing.T, server *httptest.Server, path, name, sheet string, fields ...string) got {
	t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	for i := 0; i+1 < len(fields); i += 2 {
		if err := form.WriteField(fields[i], fields[i+1]); err != nil {
			t.Fatal(err)
		}
	}
	file, err := form.CreateFormFile("sheet", name)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.WriteString(file, sheet); err != nil {
		t.Fatal(err)
	}
	if err := form.Close(); err != nil {
		t.Fatal(err)
	}
	r, err := http.NewRequest(http.MethodPost, server.URL+path, &body)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", form.FormDataContentType())
	return do(t, r)
}

// A file that is no sheet is refused with what it is and what to do instead.
func TestAFileThatIsNoSheetIsRefused(t *testing.T) {
	_, server := emptyShop(t)
	for name, c := range map[string]struct{ file, says string }{
		"page.csv":  {"<html><table></table></html>", `"page.csv" looks like a web page. Ask the supplier`},
		"empty.csv": {"", `"empty.csv" is empty. Export the sheet again.`},
		"list.pdf":  {"%PDF-1.4", `"list.pdf" looks like a PDF document. Ask the supplier`},
	} {
		if g := upload(t, server, "/office/import", name, c.file, "supplier", "Brackwell"); g.status != 400 || !strings.Contains(text(g.body), c.says) {
			t.Errorf("%s: status %d: %s", name, g.status, text(g.body))
		}
	}
	if status, problem, hint := described(&http.MaxBytesError{Limit: largestSheet}); status != 413 || problem == "" || hint == "" {
		t.Errorf("too large: %d %q %q", status, problem, hint)
	}
}

// Without the price of an hour the Office says what is missing where it is to be
// said, and shows everything else; said once, it goes along.
func TestTheOfficeTakesThePriceOfAnHour(t *testing.T) {
	shop, err := app.Open(t.TempDir(), nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { shop.Close() })
	if err := shop.LoadDemo(t.Context(), func(app.ImportAnswer) {}); err != nil {
		t.Fatal(err)
	}
	server := serveShop(t, shop)
	const path = "/office?type=thermostat&a=Ostrel&b=Quillmar"
	without := text(get(t, server, path).body)
	hasAll(t, "without it", without, "an hour of labour", "Parts that come back most")
	if strings.Contains(without, "--labour-rate") {
		t.Errorf("names a flag, which nobody has at a page:\n%s", without)
	}
	with := get(t, server, path+"&labour=60+EUR")
	hasAll(t, "with it", text(with.body), "saves", "cost of a fitted part")
	if with.status != 200 || !strings.Contains(with.body, "labour=60") {
		t.Errorf("status %d; the price does not go along", with.status)
	}
	if g := get(t, server, "/office.json?type=thermostat&a=Ostrel&b=Ostrel"); g.status != 400 || !strings.Contains(g.body, "one supplier") {
		t.Errorf("the twin: %d %s", g.status, g.body)
	}
}

// emptyShop serves a garage that has read in nothing yet.
func emptyShop(t *testing.T) (*app.Shop, *httptest.Server) {
	t.Helper()
	shop, err := app.Open(t.TempDir(), nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { shop.Close() })
	return shop, serveShop(t, shop)
}

const smallList = "number,type,description,price,currency,engine,make,years\nX-1,thermostat,thermostat 82,10.00,EUR,E1,Mak,2001-2004\nX-2,seal,o-ring,1.00,EUR,E1,Mak,2004-2001\n"

// A sheet comes in, a row of it is held, put right in place, and taken back.
func TestSheetThroughThePage(t *testing.T) {
	shop, server := emptyShop(t)
	g := upload(t, server, "/office/import", "small.csv", smallList, "supplier", "Newby")
	hasAll(t, "the answer", text(g.body), "It is in use.", "2 rows: 1 taken, 1 held back", "runs backwards")
	if g := get(t, server, "/counter?q=X-1&engine=E1"); !strings.Contains(text(g.body), "fits: one list, not measured") {
		t.Errorf("the counter does not know it: %s", text(g.body))
	}
	held, err := shop.Held(t.Context(), 0)
	if err != nil || len(held) != 1 {
		t.Fatalf("%d held rows (%v)", len(held), err)
	}
	page := get(t, server, "/office/held").body
	sheet, line, column := between(page, `name="sheet" value="`, `"`), between(page, `name="line" value="`, `"`), between(page, `name="column" value="`, `"`)
	g = post(t, server, "/office/held", url.Values{"sheet": {sheet}, "line": {line}, "column": {column}, "value": {"2004-20x1"}})
	if g.status != http.StatusBadRequest || !strings.Contains(text(g.body), "still held back") {
		t.Errorf("a wrong correction: status %d, %s", g.status, text(g.body))
	}
	g = post(t, server, "/office/held", url.Values{"sheet": {sheet}, "line": {line}, "column": {column}, "value": {"2001-2004"}})
	if id := between(g.body, `name="id" value="`, `"`); g.status == http.StatusOK && id != "" { // it asks what the correction changes
		g = post(t, server, "/office/decide", url.Values{"id": {id}, "do": {"take"}})
	}
	if held, err := shop.Held(t.Context(), 0); err != nil || len(held) != 0 {
		t.Errorf("%d rows are still held (%v): %s", len(held), err, text(g.body))
	}
	list, err := shop.Sheets(t.Context())
	if err != nil || len(list) == 0 {
		t.Fatal(list, err)
	}
	if g := post(t, server, "/office/undo", url.Values{"id": {between(get(t, server, "/office/sheets").body, `name="id" value="`, `"`)}}); g.status != http.StatusSeeOther {
		t.Errorf("take back: status %d, %s", g.status, text(g.body))
	}
}

// A garage that has read in nothing is told where to begin, and never that
// something is in order.
func TestAnEmptyGarageIsToldWhereToBegin(t *testing.T) {
	_, server := emptyShop(t)
	for _, path := range []string{"/", "/counter?q=thermostat", "/bay?fill=green", "/office", "/office?a=Ostrel&b=Quillmar", "/office/audit"} {
		g := get(t, server, path)
		if g.status != 200 || !strings.Contains(g.body, `href="/office/sheets">`) || strings.Contains(g.body, "agree with each other") {
			t.Errorf("%s: status %d: %s", path, g.status, text(g.body))
		}
	}
	if g := upload(t, server, "/office/import", "list.csv", smallList, "supplier", "Brackwell"); g.status != 200 {
		t.Fatal(g.status)
	}
	hasAll(t, "with a list", text(get(t, server, "/").body), "Type what the customer says")
	hasAll(t, "with a list", text(get(t, server, "/office/audit").body), "agree with each other")
}

// What an empty page says is what to do next.
func TestEmptyPagesSayWhatToDoNext(t *testing.T) {
	_, server := emptyShop(t)
	for path, want := range map[string]string{
		"/": "Nothing has been read in yet", "/counter?q=thermostat": "catalogue is empty", "/job": "Nothing is on the list yet", "/bay": "What is in it?",
		"/office": "Read in a sheet", "/office/sheets": "Begin with a supplier’s price list", "/office/held": "No row is held back", "/office/notes": "Every note is understood",
		"/office/audit": "No list has been read in yet",
	} {
		if g := get(t, server, path); g.status != http.StatusOK || !strings.Contains(text(g.body), want) {
			t.Errorf("%s: status %d, lacks %q: %s", path, g.status, want, text(g.body))
		}
	}
}

func TestSheetsThatCannotBeTaken(t *testing.T) {
	_, server := emptyShop(t)
	for name, g := range map[string]got{
		"no file":       post(t, server, "/office/import", url.Values{}),
		"a picture":     upload(t, server, "/office/import", "x.png", "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "supplier", "A"),
		"no such kind":  upload(t, server, "/office/import", "x.csv", smallList, "supplier", "A", "as", "poems"),
		"no such sheet": post(t, server, "/office/decide", url.Values{"id": {"77"}, "do": {"take"}}),
	} {
		if g.status < 400 || g.status >= 500 || !strings.Contains(text(g.body), "That did not work") {
			t.Errorf("%s: status %d: %s", name, g.status, text(g.body))
		}
	}
}

// What goes back to a supplier holds his own rows and nothing else.
func TestFindingsGoBackAsASheet(t *testing.T) {
	server := serveDemo(t)
	g := get(t, server, "/office/audit.csv?supplier=Ostrel")
	if !strings.HasPrefix(g.header.Get("Content-Type"), "text/csv") || !strings.Contains(g.header.Get("Content-Disposition"), "attachment") {
		t.Errorf("headers %v", g.header)
	}
	rows, err := csv.NewReader(strings.NewReader(g.body)).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%d rows (%v)", len(rows), err)
	}
	for _, row := range rows[1:] {
		if row[0] != "Ostrel" {
			t.Errorf("a row of %s goes to Ostrel", row[0])
		}
	}
}

func TestNoteIsAnsweredOnThePage(t *testing.T) {
	shop, err := openDemo(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { shop.Close() })
	server := serveShop(t, shop)
	before, err := shop.Notes(t.Context(), "")
	if err != nil || before.OpenTexts == 0 {
		t.Fatalf("%d open texts (%v)", before.OpenTexts, err)
	}
	page := get(t, server, "/office/notes").body
	g := post(t, server, "/office/notes", url.Values{"supplier": {unescape(between(page, `name="supplier" value="`, `"`))}, "note": {unescape(between(page, `name="note" value="`, `"`))}, "means": {"harmless"}})
	if g.status != http.StatusSeeOther {
		t.Fatalf("status %d: %s", g.status, text(g.body))
	}
	if after, err := shop.Notes(t.Context(), ""); err != nil || after.OpenTexts != before.OpenTexts-1 {
		t.Errorf("%d open texts, want %d (%v)", after.OpenTexts, before.OpenTexts-1, err)
	}
}
