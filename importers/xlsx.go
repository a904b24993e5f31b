package importers

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"maps"
)

const workbookPart = "xl/workbook.xml"

// isWorkbook reports whether the bytes are a workbook of Office Open XML
// (ISO/IEC 29500): a zip archive with a part of that name.
func isWorkbook(raw *text) bool {
	if !bytes.HasPrefix(raw.head(headBytes), []byte(zipMagic)) {
		return false
	}
	z, err := zip.NewReader(raw, raw.Size())
	return err == nil && findPart(z, workbookPart) != nil
}

// workbookPacked stands in front of the worksheet's name.
const workbookPacked = "workbook: "

// readWorkbook writes one worksheet as a text sheet that says the same, row by
// row on the same lines, and returns it with the worksheet's name. Texts are
// taken as they are. Of a number that is shown with leading zeros, as a date, a
// fraction or with a unit, what is shown is taken, of all others the number
// itself, so that no digit is rounded. A formula without a value, an error and
// a text that is lost come out as what holds the row back. Merged and hidden
// cells are asked about once.
func (s *Sheet) readWorkbook(voc *vocabulary, name string, raw []byte, settings Settings) (text []byte, packed string, err error) {
	b, err := openBook(name, raw, s.sizes)
	if err != nil {
		return nil, "", err
	}
	defer func() { err = errors.Join(err, b.close()) }()
	worksheet, err := b.choose(name, settings["sheet"])
	if err != nil {
		return nil, "", err
	}
	var out bytes.Buffer
	t := &transcript{book: b, sizes: s.sizes, leave: settings["hidden"] == "leave", out: &out}
	page, err := t.of(worksheet, settings["merged"] == "repeat")
	if err != nil {
		var limit *limitError
		if errors.As(err, &limit) {
			return nil, "", fmt.Errorf("%s: %w", name, err)
		}
		return nil, "", damagedBook(name, err)
	}
	s.askHidden(page, settings)
	s.askMerged(page, settings)
	if text, err = t.asWideAsTheHeading(voc, name, out.Bytes(), settings); err != nil {
		return nil, "", err
	}
	t.tell(s)
	sum := sha256.Sum256(raw)
	s.prove("workbook", worksheet, fmt.Sprintf("a worksheet of %s, a workbook with the SHA-256 %x", name, sum))
	return text, workbookPacked + worksheet, nil
}

// of writes a worksheet. To repeat the value of merged cells it has to be known
// beforehand which they are, and they stand behind all rows.
func (t *transcript) of(worksheet string, repeat bool) (*page, error) {
	if repeat {
		p, err := t.book.page(worksheet, func(*page, *sheetRow) error { return nil })
		if err != nil {
			return nil, err
		}
		t.repeat = newRepeater(p)
	}
	p, err := t.book.page(worksheet, t.row)
	t.trailing = t.blank
	return p, err
}

// asWideAsTheHeading finds the heading, and gives every row its width.
func (t *transcript) asWideAsTheHeading(voc *vocabulary, name string, text []byte, settings Settings) ([]byte, error) {
	if len(text) == 0 {
		return nil, fmt.Errorf("%s holds no text: export the sheet again", name)
	}
	probe := maps.Clone(settings)
	if probe == nil {
		probe = Settings{}
	}
	delete(probe, "sheet")
	probe["tail"], probe["separator"], probe["quote"] = "trimmed", "comma", "double"
	found, err := openSheet(voc, name, text, probe)
	if err != nil {
		return nil, err
	}
	return t.padded(text, len(found.Header)), nil
}

func damagedBook(name string, err error) error {
	return fmt.Errorf("%s is a damaged workbook (%v); nothing was imported: open it in a program for tables, save it and import it again", name, err)
}

// limitError says which limit stopped the reading.
type limitError struct{ text string }

func (e *limitError) Error() string { return e.text }
