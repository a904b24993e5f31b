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

	"github.com/xuri/excelize/v2"
)

const workbookPart = "xl/workbook.xml"

// isWorkbook reports whether the bytes are a workbook of Office Open XML
// (ISO/IEC 29500): a zip archive with a part of that name.
func isWorkbook(raw []byte) bool {
	if !bytes.HasPrefix(raw, []byte(zipMagic)) {
		return false
	}
	z, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	return err == nil && findPart(z, workbookPart) != nil
}

// workbookPacked stands in front of the worksheet's name.
const workbookPacked = "workbook: "

// largePart is the size from which a part of a workbook waits in a file and
// not in memory.
const largePart = 16 << 20

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
	defer func() { err = errors.Join(err, b.file.Close()) }()
	worksheet, err := b.choose(name, settings["sheet"])
	if err != nil {
		return nil, "", err
	}
	page, err := b.look(worksheet)
	if err != nil {
		return nil, "", damagedBook(name, err)
	}
	s.askHidden(page, settings)
	s.askMerged(page, settings)
	t := &transcript{book: b, page: page, sizes: s.sizes, leave: settings["hidden"] == "leave", repeat: settings["merged"] == "repeat"}
	if text, err = t.write(); err != nil {
		var limit *limitError
		if errors.As(err, &limit) {
			return nil, "", fmt.Errorf("%s: %w", name, err)
		}
		return nil, "", damagedBook(name, err)
	}
	if text, err = t.asWideAsTheHeading(voc, name, text, settings); err != nil {
		return nil, "", err
	}
	t.tell(s)
	sum := sha256.Sum256(raw)
	s.prove("workbook", worksheet, fmt.Sprintf("a worksheet of %s, a workbook with the SHA-256 %x", name, sum))
	return text, workbookPacked + worksheet, nil
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

// book is an open workbook.
type book struct {
	file  *excelize.File
	zip   *zip.Reader
	paths map[string]string // part of each worksheet
	from  bool              // days are counted from 1904
	lost  int64             // shared texts that the book holds
}

func openBook(name string, raw []byte, l sizeLimits) (*book, error) {
	z, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	if err != nil {
		return nil, damagedBook(name, err)
	}
	if err := bounded(name, z, int64(len(raw)), l); err != nil {
		return nil, err
	}
	b := &book{zip: z}
	if b.file, err = excelize.OpenReader(bytes.NewReader(raw), excelize.Options{
		RawCellValue: true, UnzipSizeLimit: l.unpacked, UnzipXMLSizeLimit: min(largePart, l.unpacked),
	}); err != nil {
		return nil, damagedBook(name, err)
	}
	if b.paths, err = worksheetParts(z); err == nil {
		b.lost, err = sharedTexts(z)
	}
	if err != nil {
		return nil, errors.Join(damagedBook(name, err), b.file.Close())
	}
	if p, err := b.file.GetWorkbookProps(); err == nil && p.Date1904 != nil {
		b.from = *p.Date1904
	}
	return b, nil
}

// bounded unpacks every part once, counting: what an archive says of its own
// size proves nothing.
func bounded(name string, z *zip.Reader, size int64, l sizeLimits) error {
	most := min(l.unpacked, max(size*l.ratio, 1<<20))
	var sum int64
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			return damagedBook(name, err)
		}
		n, err := io.Copy(io.Discard, io.LimitReader(r, most-sum+1))
		r.Close()
		sum += n
		switch {
		case sum > most && most == l.unpacked:
			return fmt.Errorf("%s unpacks to more than %s: split the workbook and import its parts, or raise --set limit-unpacked", name, sizeText(l.unpacked))
		case sum > most:
			return fmt.Errorf("%s unpacks to more than %d times its size, as only a workbook made to do harm does: ask for it again, or raise --set limit-ratio", name, l.ratio)
		case err != nil:
			return damagedBook(name, err)
		}
	}
	return nil
}

// choose returns the worksheet that is meant: the one asked for, or the only
// one that holds anything.
func (b *book) choose(name, chosen string) (string, error) {
	var filled []string
	for _, w := range b.file.GetSheetList() {
		if b.paths[w] == "" {
			continue // a page of charts
		}
		if w == chosen {
			return w, nil
		}
		any, err := b.anyValue(w)
		if err != nil {
			return "", damagedBook(name, err)
		}
		if any {
			filled = append(filled, w)
		}
	}
	switch {
	case chosen != "":
		return "", fmt.Errorf("%s holds no worksheet %q: it holds %s", name, chosen, strings.Join(filled, ", "))
	case len(filled) == 0:
		return "", fmt.Errorf("%s holds no text: export the sheet again", name)
	case len(filled) > 1:
		return "", &SheetChoice{Name: name, Sheets: b.visibleFirst(filled)}
	}
	return filled[0], nil
}

func (b *book) visibleFirst(names []string) []string {
	slices.SortStableFunc(names, func(x, y string) int {
		hiddenX, hiddenY := b.hidden(x), b.hidden(y)
		switch {
		case hiddenX == hiddenY:
			return 0
		case hiddenY:
			return -1
		}
		return 1
	})
	return names
}

func (b *book) hidden(name string) bool {
	visible, err := b.file.GetSheetVisible(name)
	return err == nil && !visible
}
