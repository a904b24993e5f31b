package importers

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
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

// OfWorkbook reports whether the sheet is a worksheet of a workbook.
func (s *Sheet) OfWorkbook() bool { return strings.Contains(s.Packed, workbookPacked) }

// readWorkbook writes one worksheet as a text sheet that says the same, row by
// row on the same lines, and returns it with the worksheet's name. Texts are
// taken as they are. Of a number that is shown with leading zeros, as a date, a
// fraction or with a unit, what is shown is taken, of all others the number
// itself, so that no digit is rounded. A formula without a value, an error and
// a text that is lost come out as what holds the row back. Merged and hidden
// cells are asked about once.
func (s *Sheet) readWorkbook(voc *vocabulary, name string, raw *text, settings Settings) (sheet *text, packed string, err error) {
	b, err := openBook(name, raw, s.sizes, s.storage.scratch)
	if err != nil {
		return nil, "", err
	}
	defer func() { err = errors.Join(err, b.close()) }()
	worksheet, err := b.choose(name, settings["sheet"])
	if err != nil {
		return nil, "", err
	}
	rows := s.newText()
	t := &transcript{book: b, sizes: s.sizes, leave: settings["hidden"] == "leave", out: rows}
	page, err := t.of(worksheet, settings["merged"] == "repeat")
	var limit *limitError
	switch {
	case rows.err != nil:
		_, err = rows.text()
		return nil, "", err
	case errors.As(err, &limit):
		return nil, "", fmt.Errorf("%s: %w", name, err)
	case err != nil:
		return nil, "", damagedBook(name, err)
	}
	s.askHidden(page, settings)
	s.askMerged(page, settings)
	if sheet, err = s.asWideAsTheHeading(voc, name, t, rows, settings); err != nil {
		return nil, "", err
	}
	t.tell(s)
	sum := sha256.New()
	if _, err := io.Copy(sum, io.NewSectionReader(raw, 0, raw.Size())); err != nil {
		return nil, "", err
	}
	s.prove("workbook", worksheet, fmt.Sprintf("a worksheet of %s, a workbook with the SHA-256 %x", name, sum.Sum(nil)))
	return sheet, workbookPacked + worksheet, nil
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

// asWideAsTheHeading finds the heading of the rows that were written, and makes
// every row as wide: a workbook leaves out the empty cells at the end of a row, so
// a short row is whole.
func (s *Sheet) asWideAsTheHeading(voc *vocabulary, name string, t *transcript, rows *textWriter, settings Settings) (*text, error) {
	sheet, err := rows.text()
	if err != nil {
		return nil, err
	}
	if sheet.size == 0 {
		return nil, fmt.Errorf("%s holds no text: export the sheet again", name)
	}
	width, err := s.headingWidth(voc, sheet, settings)
	if err != nil {
		return nil, err
	}
	if !slices.ContainsFunc(t.widths, func(n uint16) bool { return n > 0 && int(n) < width }) {
		return sheet, nil
	}
	wide := s.newText()
	t.pad(wide, sheet, width)
	if err := errors.Join(sheet.err(), rows.Close()); err != nil {
		return nil, err
	}
	rows.file = nil
	return wide.text()
}

// headingWidth returns how many cells the heading has.
func (s *Sheet) headingWidth(voc *vocabulary, sheet *text, settings Settings) (width int, err error) {
	probe := &Sheet{Name: s.Name, sizes: s.sizes, answers: Settings{}, storage: s.storage, raw: sheet}
	defer func() { err = errors.Join(err, probe.Close()) }()
	settings = maps.Clone(settings)
	if settings == nil {
		settings = Settings{}
	}
	delete(settings, "sheet")
	settings["tail"], settings["separator"], settings["quote"] = "trimmed", "comma", "double"
	if err := probe.readText(settings); err != nil {
		return 0, err
	}
	if err := refuseText(s.Name, probe.text); err != nil {
		return 0, err
	}
	usual, _ := probe.chooseDialect(voc, settings)
	probe.split(usual)
	_, err = probe.findHeading(voc, usual, settings)
	return len(probe.Header), err
}

func damagedBook(name string, err error) error {
	return fmt.Errorf("%s is a damaged workbook (%v); nothing was imported: open it in a program for tables, save it and import it again", name, err)
}

// limitError says which limit stopped the reading.
type limitError struct{ text string }

func (e *limitError) Error() string { return e.text }
