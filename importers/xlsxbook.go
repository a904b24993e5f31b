package importers

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
)

// book is an open workbook. The library knows what the workbook says of itself:
// its worksheets, its formats, from when its days count. Worksheets and shared
// texts, which may be large, are read here, each once and as they come.
type book struct {
	file       *excelize.File
	zip        *zip.Reader
	paths      map[string]string // part of each worksheet
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
	if err := b.readStructure(l); err != nil {
		return nil, errors.Join(damagedBook(name, err), b.close())
	}
	return b, nil
}

func (b *book) readStructure(l sizeLimits) error {
	rels, err := relations(b.zip)
	if err != nil {
		return err
	}
	if b.paths, err = worksheetParts(b.zip, rels); err != nil {
		return err
	}
	frame, err := frameOf(b.zip, rels)
	if err != nil {
		return err
	}
	most := min(mostFrame, l.unpacked)
	if b.file, err = excelize.OpenReader(bytes.NewReader(frame), excelize.Options{
		RawCellValue: true, UnzipSizeLimit: most, UnzipXMLSizeLimit: most,
	}); err != nil {
		return err
	}
	if p, err := b.file.GetWorkbookProps(); err == nil && p.Date1904 != nil {
		b.from = *p.Date1904
	}
	b.sharedPart = rels.target("/sharedStrings")
	return b.readSharedTexts()
}

func (b *book) close() error {
	err := b.shared.close()
	if b.file != nil {
		err = errors.Join(err, b.file.Close())
	}
	return err
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
