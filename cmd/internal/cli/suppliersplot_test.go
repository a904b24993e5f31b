package cli

import (
	"encoding/csv"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fitfill/cmd/internal/app"
)

func TestPicturesAreReadableInGrey(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"shares.svg", "shares.png"} {
		path := filepath.Join(dir, name)
		if code, out, errs := call(t, "--home", demoHome(t), "suppliers", "--plot", path); code != exitYes || !strings.Contains(out, "Ostrel") {
			t.Fatalf("exit code %d\n%s%s", code, out, errs)
		}
	}
	f, err := os.Open(filepath.Join(dir, "shares.png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	picture, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	dark := 0
	for y := picture.Bounds().Min.Y; y < picture.Bounds().Max.Y; y++ {
		for x := picture.Bounds().Min.X; x < picture.Bounds().Max.X; x++ {
			r, g, b, _ := picture.At(x, y).RGBA()
			if r != g || g != b {
				t.Fatalf("a colour at %d, %d", x, y)
			}
			if r < 0x4000 {
				dark++
			}
		}
	}
	if dark < 5000 {
		t.Errorf("only %d dark points: nothing was drawn", dark)
	}
	text, err := os.ReadFile(filepath.Join(dir, "shares.svg"))
	if err != nil {
		t.Fatal(err)
	}
	for d := xml.NewDecoder(strings.NewReader(string(text))); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	for _, s := range []string{"Quillmar", "Pindle &amp; Rook", "Ferrowick (too new)", "stroke-dasharray", "sans-serif"} {
		if !strings.Contains(string(text), s) {
			t.Errorf("no %q in the picture", s)
		}
	}
	if code, _, errs := call(t, "--home", demoHome(t), "suppliers", "--plot", filepath.Join(dir, "shares.svg")); code != exitUsage || !strings.Contains(errs, "name another file") {
		t.Errorf("a file that is there: exit code %d, %s", code, errs)
	}
	if code, _, errs := call(t, "--home", demoHome(t), "suppliers", "--plot", filepath.Join(dir, "shares.gif")); code != exitUsage || !strings.Contains(errs, ".svg or .png") {
		t.Errorf("another kind: exit code %d, %s", code, errs)
	}
}

func TestTheTableAsASheetHoldsNoCustomers(t *testing.T) {
	path := filepath.Join(t.TempDir(), "suppliers.csv")
	if code, _, errs := call(t, "--home", demoHome(t), "suppliers", "--type", "thermostat", "--labour-rate", "60EUR", "--csv", path); code != exitYes {
		t.Fatal(errs)
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 5 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	answer := ask[app.SuppliersAnswer](t, "suppliers", "--type", "thermostat", "--labour-rate", "60EUR")
	if len(rows) != 1+len(answer.Suppliers) {
		t.Errorf("%d rows for %d suppliers", len(rows)-1, len(answer.Suppliers))
	}
	for _, row := range rows {
		for _, cell := range row {
			for _, private := range []string{"vehicle", "customer", "document", "D 07", "P-0010", "returns.csv"} {
				if strings.Contains(strings.ToLower(cell), strings.ToLower(private)) {
					t.Errorf("%q went out", cell)
				}
			}
		}
	}
	a := app.SuppliersAnswer{Suppliers: []app.SupplierScore{{Supplier: `=HYPERLINK("x")`}}}
	if text, err := a.CSV(); err != nil || !strings.Contains(string(text), `"'=HYPERLINK(""x"")"`) {
		t.Errorf("a formula goes out as it stands: %s, %v", text, err)
	}
}
