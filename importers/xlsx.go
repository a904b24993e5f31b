package importers

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/csv"
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

// transcript writes a worksheet as text.
type transcript struct {
	book          *book
	page          *page
	sizes         sizeLimits
	leave, repeat bool // leave hidden cells out; repeat the value of merged ones

	breaks, trailing, uncached, lost int
	anchors                          map[int]string // by merged area, the value of its first cell
	widths                           []uint16       // cells of each line
}

// write returns the rows as RFC 4180 text, each on the line of its own number
// and without the empty cells at its end, empty rows as empty lines. Rows behind
// the last filled one are counted and left out.
func (t *transcript) write() ([]byte, error) {
	rows, err := t.book.file.Rows(t.page.name)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	cells, err := t.book.cells(t.page)
	if err != nil {
		return nil, err
	}
	defer cells.close()
	t.anchors = map[int]string{}
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	full := make([]string, t.page.width)
	blank := 0
	for n := 1; rows.Next(); n++ {
		if int64(n) > t.sizes.rows+int64(blank) {
			return nil, &limitError{fmt.Sprintf("more than %d rows: split the sheet and import its parts, or raise --set limit-rows", t.sizes.rows)}
		}
		texts, err := rows.Columns(excelize.Options{RawCellValue: true})
		if err != nil {
			return nil, err
		}
		r, err := cells.row(n)
		if err != nil {
			return nil, err
		}
		if !t.fill(full, texts, r, n) {
			blank++
			continue
		}
		w.Flush()
		for ; blank > 0; blank-- {
			out.WriteByte('\n')
			t.widths = append(t.widths, 0)
		}
		cells := full
		for len(cells) > 1 && cells[len(cells)-1] == "" {
			cells = cells[:len(cells)-1]
		}
		t.widths = append(t.widths, uint16(len(cells)))
		if err := w.Write(cells); err != nil {
			return nil, err
		}
	}
	w.Flush()
	t.trailing = blank
	return out.Bytes(), errors.Join(rows.Error(), w.Error())
}

// padded makes every filled line at least as wide as the heading: a workbook
// leaves out the empty cells at the end of a row, so a short row is whole.
func (t *transcript) padded(text []byte, width int) []byte {
	out := make([]byte, 0, len(text)+len(t.widths))
	for _, n := range t.widths {
		end := bytes.IndexByte(text, '\n')
		out = append(out, text[:end]...)
		for ; n > 0 && int(n) < width; n++ {
			out = append(out, ',')
		}
		out, text = append(out, '\n'), text[end+1:]
	}
	return out
}

// fill puts the cells of row n into full and reports whether any holds a text.
func (t *transcript) fill(full, texts []string, r []cellInfo, n int) bool {
	clear(full)
	filled := false
	for i := range full {
		var info cellInfo
		if i < len(r) {
			info = r[i]
		}
		text := ""
		if i < len(texts) {
			text = texts[i]
		}
		if t.leave && (info.hiddenRow || t.page.hiddenColumn(i)) {
			continue
		}
		text = t.text(text, info)
		if strings.ContainsAny(text, "\r\n") {
			text = strings.NewReplacer("\r\n", " ", "\r", " ", "\n", " ").Replace(text)
			t.breaks++
		}
		if t.repeat {
			text = t.merged(text, n, i)
		}
		full[i] = text
		filled = filled || strings.TrimSpace(text) != ""
	}
	return filled
}

// merged repeats the value of a merged area in each of its cells.
func (t *transcript) merged(text string, row, column int) string {
	k := t.page.area(row, column)
	if k < 0 {
		return text
	}
	if a := t.page.merges[k]; a.top == row && a.left == column {
		t.anchors[k] = text
	}
	return t.anchors[k]
}

// lostText stands for a text that a workbook has lost.
const lostText = "#TEXT LOST!"

// text returns what a cell says.
func (t *transcript) text(text string, c cellInfo) string {
	switch {
	case c.formula && !c.value:
		t.uncached++
		return "=" + c.written
	case c.kind == cellError:
		return c.number
	case c.kind == cellShared && c.index >= t.book.lost:
		t.lost++
		return lostText
	case c.kind == cellBool:
		if c.number == "1" {
			return "TRUE"
		}
		return "FALSE"
	case c.kind == cellNumber && c.value:
		return t.book.shown(c.number, c.style)
	case c.kind == cellDate && c.value:
		return strings.TrimSuffix(c.number, "T00:00:00")
	}
	return text
}

// tell notes what a person should know of the worksheet.
func (t *transcript) tell(s *Sheet) {
	if t.breaks > 0 {
		s.note("line-breaks", 0, fmt.Sprintf("%s over several lines: read with blanks in place of the line breaks", cellsRun(t.breaks)))
	}
	if t.trailing > 0 {
		s.note("trailing-rows", 0, fmt.Sprintf("%d empty rows behind the last filled one were left out", t.trailing))
	}
	if t.uncached > 0 {
		s.note("formula-uncached", 0, fmt.Sprintf("%d formulas were saved without their values, and their rows are held: open the workbook in a program for tables, save it and import it again", t.uncached))
	}
	if t.lost > 0 {
		s.note("text-lost", 0, fmt.Sprintf("%d cells point to texts that the workbook does not hold, and their rows are held", t.lost))
	}
}

func cellsRun(n int) string {
	if n == 1 {
		return "1 cell runs"
	}
	return fmt.Sprintf("%d cells run", n)
}

func (s *Sheet) askHidden(p *page, settings Settings) {
	if p.hiddenRows == 0 && len(p.hiddenColumns) == 0 || settings["hidden"] != "" {
		return
	}
	s.ask("hidden", "hidden", "take", []string{"take", "leave"},
		fmt.Sprintf("The worksheet hides %d rows and %d columns. Are they to be taken like all others, or left out?", p.hiddenRows, p.columnsHidden()))
}

func (s *Sheet) askMerged(p *page, settings Settings) {
	if len(p.merges) == 0 || settings["merged"] != "" {
		return
	}
	first := p.merges[0]
	s.ask("merged", "merged", "once", []string{"once", "repeat"},
		fmt.Sprintf("%d areas of the worksheet are merged, the first on row %d. Does the value stand once, in the first cell, or is it repeated in each cell of its area?", len(p.merges), first.top))
}
