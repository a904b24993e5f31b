package importers

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// book is an open workbook: what it says of itself, and its worksheets and shared
// texts, which may be large and are read each once and as they come.
type book struct {
	zip        *zip.Reader
	sheets     []bookSheet
	styles     *styleSheet
	sharedPart string
	shared     sharedTexts
	shapes     map[int]*shape // of the styles that were met
	from       bool           // days are counted from 1904
}

func openBook(name string, raw File, l sizeLimits, scratch Scratch) (*book, error) {
	z, err := zip.NewReader(raw, raw.Size())
	if err != nil {
		return nil, damagedBook(name, err)
	}
	if err := bounded(name, z, raw.Size(), l); err != nil {
		return nil, err
	}
	b := &book{zip: z, shapes: map[int]*shape{}, shared: sharedTexts{scratch: scratch}}
	if err := b.readStructure(); err != nil {
		return nil, errors.Join(damagedBook(name, err), b.close())
	}
	return b, nil
}

func (b *book) readStructure() error {
	rels, err := relations(b.zip)
	if err != nil {
		return err
	}
	o, err := readOutline(b.zip)
	if err != nil {
		return err
	}
	b.from, b.sheets = o.Properties.From1904, o.sheets(rels)
	if b.styles, err = readStyles(b.zip, rels.target("/styles")); err != nil {
		return err
	}
	b.sharedPart = rels.target("/sharedStrings")
	return b.readSharedTexts()
}

func (b *book) close() error { return b.shared.close() }

// part returns the part that holds a worksheet.
func (b *book) part(worksheet string) string {
	for _, s := range b.sheets {
		if s.name == worksheet {
			return s.part
		}
	}
	return ""
}

// open opens a part to be read as it comes.
func (b *book) open(part string) (io.ReadCloser, error) {
	f := findPart(b.zip, part)
	if f == nil {
		return nil, fmt.Errorf("the part %s is missing", part)
	}
	return f.Open()
}

// bounded refuses a workbook whose parts are too large. What an archive says of
// their sizes holds: a part that turns out larger ends in an error where it is
// read (archive/zip), and one that is not read does no harm.
func bounded(name string, z *zip.Reader, size int64, l sizeLimits) error {
	most := min(l.unpacked, max(size*l.ratio, 1<<20))
	var sum uint64
	for _, f := range z.File {
		if sum += f.UncompressedSize64; sum <= uint64(most) && f.UncompressedSize64 <= uint64(most) {
			continue
		}
		if most == l.unpacked {
			return fmt.Errorf("%s unpacks to more than %s: split the workbook and import its parts, or raise --set limit-unpacked", name, sizeText(l.unpacked))
		}
		return fmt.Errorf("%s unpacks to more than %d times its size, as only a workbook made to do harm does: ask for it again, or raise --set limit-ratio", name, l.ratio)
	}
	return nil
}

// choose returns the worksheet that is meant: the one asked for, or the only
// one that holds anything.
func (b *book) choose(name, chosen string) (string, error) {
	var filled []bookSheet
	for _, w := range b.sheets {
		if w.part == "" {
			continue
		}
		if w.name == chosen {
			return chosen, nil
		}
		any, err := b.anyValue(w.name)
		if err != nil {
			return "", damagedBook(name, err)
		}
		if any {
			filled = append(filled, w)
		}
	}
	switch {
	case chosen != "":
		return "", fmt.Errorf("%s holds no worksheet %q: it holds %s", name, chosen, strings.Join(sheetNames(filled), ", "))
	case len(filled) == 0:
		return "", fmt.Errorf("%s holds no text: export the sheet again", name)
	case len(filled) > 1:
		slices.SortStableFunc(filled, func(x, y bookSheet) int {
			switch {
			case x.hidden == y.hidden:
				return 0
			case y.hidden:
				return -1
			}
			return 1
		})
		return "", &SheetChoice{Name: name, Sheets: sheetNames(filled)}
	}
	return filled[0].name, nil
}

func sheetNames(list []bookSheet) (names []string) {
	for _, s := range list {
		names = append(names, s.name)
	}
	return names
}
