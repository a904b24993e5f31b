package importers

import (
	"bytes"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// transcript writes a worksheet as text.
type transcript struct {
	book   *book
	sizes  sizeLimits
	leave  bool      // leave hidden cells out
	repeat *repeater // nil where the value of merged cells stands once
	out    io.Writer

	last, blank                      int // the row that was read last, and the empty ones before it that are not written yet
	breaks, trailing, uncached, lost int
	widths                           []uint16 // cells of each line
	cells                            [][]byte
	line, texts                      []byte
}

// row writes a row as RFC 4180 text on the line of its own number and without the
// empty cells at its end, empty rows as empty lines. Rows behind the last filled
// one are counted and left out.
func (t *transcript) row(p *page, r *sheetRow) error {
	for n := t.last + 1; n < r.number; n++ {
		if err := t.write(p, &sheetRow{number: n}); err != nil {
			return err
		}
	}
	return t.write(p, r)
}

func (t *transcript) write(p *page, r *sheetRow) error {
	t.last = r.number
	if int64(r.number) > t.sizes.rows+int64(t.blank) {
		return &limitError{fmt.Sprintf("more than %d rows: split the sheet and import its parts, or raise --set limit-rows", t.sizes.rows)}
	}
	filled, err := t.fill(p, r)
	if err != nil {
		return err
	}
	if !filled {
		t.blank++
		return nil
	}
	t.line = t.line[:0]
	for ; t.blank > 0; t.blank-- {
		t.line = append(t.line, '\n')
		t.widths = append(t.widths, 0)
	}
	cells := t.cells
	for len(cells) > 1 && len(cells[len(cells)-1]) == 0 {
		cells = cells[:len(cells)-1]
	}
	t.widths = append(t.widths, uint16(len(cells)))
	for i, text := range cells {
		if i > 0 {
			t.line = append(t.line, ',')
		}
		t.line = appendCell(t.line, text)
	}
	t.line = append(t.line, '\n')
	_, err = t.out.Write(t.line)
	return err
}

// cellBytes tells the bytes that make a cell need quotes, and those that break
// its line.
var cellBytes = [256]uint8{',': needsQuotes, '"': needsQuotes, '\r': needsQuotes | breaksLine, '\n': needsQuotes | breaksLine}

const (
	needsQuotes = 1 << iota
	breaksLine
)

func cellNeeds(text []byte) (needs uint8) {
	for _, b := range text {
		needs |= cellBytes[b]
	}
	return needs
}

// appendCell adds a cell to a line of RFC 4180 text, in quotes where it needs
// them.
func appendCell(line, text []byte) []byte {
	if len(text) == 0 {
		return line
	}
	if first, _ := utf8.DecodeRune(text); cellNeeds(text) == 0 && !unicode.IsSpace(first) {
		return append(line, text...)
	}
	line = append(line, '"')
	for _, b := range text {
		if b == '"' {
			line = append(line, '"')
		}
		line = append(line, b)
	}
	return append(line, '"')
}

// pad writes the rows once more, every filled one with at least so many cells.
func (t *transcript) pad(w io.Writer, rows *text, width int) {
	commas := bytes.Repeat([]byte{','}, width)
	row := 0
	rows.pass(0, func(piece []byte) bool {
		for {
			i := bytes.IndexByte(piece, '\n')
			if i < 0 {
				_, err := w.Write(piece)
				return err == nil
			}
			if n := int(t.widths[row]); n > 0 && n < width {
				w.Write(piece[:i])
				w.Write(commas[n:])
				i, piece = 0, piece[i:]
			}
			if _, err := w.Write(piece[:i+1]); err != nil {
				return false
			}
			piece = piece[i+1:]
			row++
		}
	})
}

// fill puts the texts of a row into t.cells and reports whether any says something.
func (t *transcript) fill(p *page, r *sheetRow) (bool, error) {
	width := 0
	if n := len(r.cells); n > 0 {
		width = r.cells[n-1].column + 1
	}
	if t.repeat != nil {
		width = t.repeat.width
	}
	t.cells = slices.Grow(t.cells[:0], width)[:width]
	clear(t.cells)
	t.texts = t.texts[:0]
	for i := range r.cells {
		c := &r.cells[i]
		if c.column >= width || t.leave && (r.hidden || p.hiddenColumn(c.column)) {
			continue
		}
		from := len(t.texts)
		if err := t.text(r, c); err != nil {
			return false, err
		}
		t.cells[c.column] = t.oneLine(t.texts[from:])
	}
	if t.repeat != nil {
		t.repeat.row(r.number, t.cells, func(column int) bool { return t.leave && (r.hidden || p.hiddenColumn(column)) })
	}
	for _, text := range t.cells {
		if len(text) > 0 && (text[0] > ' ' && text[0] < utf8.RuneSelf || len(bytes.TrimSpace(text)) > 0) {
			return true, nil
		}
	}
	return false, nil
}

// oneLine puts blanks in place of line breaks.
func (t *transcript) oneLine(text []byte) []byte {
	if cellNeeds(text)&breaksLine == 0 {
		return text
	}
	t.breaks++
	text = bytes.ReplaceAll(text, []byte("\r\n"), []byte(" "))
	for i, b := range text {
		if b == '\n' || b == '\r' {
			text[i] = ' '
		}
	}
	return text
}

// lostText stands for a text that a workbook has lost.
const lostText = "#TEXT LOST!"

// text adds to t.texts what a cell says.
func (t *transcript) text(r *sheetRow, c *sheetCell) error {
	stated := r.stated(c)
	switch {
	case c.formula && len(stated) == 0 && (!c.value || c.kind != cellText):
		t.uncached++
		t.texts = append(append(t.texts, '='), r.written(c)...)
	case len(stated) == 0:
	case c.kind == cellNumber:
		t.texts = t.book.appendShown(t.texts, stated, c.style)
	case c.kind == cellShared:
		n, err := strconv.ParseInt(string(bytes.TrimSpace(stated)), 10, 64)
		if err != nil || n < 0 {
			return fmt.Errorf("a cell points to the text %q", stated)
		}
		var ok bool
		if t.texts, ok, err = t.book.shared.append(t.texts, n); err != nil {
			return err
		}
		if !ok {
			t.lost++
			t.texts = append(t.texts, lostText...)
		}
	case c.kind == cellText:
		t.texts = unescaped(t.texts, stated)
	case c.kind == cellBool:
		t.texts = append(t.texts, truthText(stated)...)
	case c.kind == cellDate:
		t.texts = append(t.texts, bytes.TrimSuffix(stated, []byte("T00:00:00"))...)
	default: // an error says which
		t.texts = append(t.texts, stated...)
	}
	return nil
}

func truthText(stated []byte) string {
	switch {
	case truth(stated):
		return "TRUE"
	case string(stated) == "0" || string(stated) == "false":
		return "FALSE"
	}
	return string(stated)
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

func areasAre(n int) string {
	if n == 1 {
		return "1 area of the worksheet is"
	}
	return fmt.Sprintf("%d areas of the worksheet are", n)
}

func (s *Sheet) askHidden(p *page, settings Settings) {
	if p.hiddenRows == 0 && p.columnsHidden() == 0 || settings["hidden"] != "" {
		return
	}
	s.ask("hidden", "hidden", "take", []string{"take", "leave"},
		fmt.Sprintf("The worksheet hides %d rows and %d columns. Are they to be taken like all others, or left out?", p.hiddenRows, p.columnsHidden()))
}

func (s *Sheet) askMerged(p *page, settings Settings) {
	if len(p.merges) == 0 || settings["merged"] != "" {
		return
	}
	rows := map[int]bool{}
	for _, m := range p.merges {
		rows[m.top] = true
	}
	tops := slices.Sorted(maps.Keys(rows))
	var on []string
	for _, top := range tops[:min(len(tops), 3)] {
		on = append(on, strconv.Itoa(top))
	}
	if len(tops) > len(on) {
		on = append(on, "...")
	}
	s.ask("merged", "merged", "once", []string{"once", "repeat"},
		fmt.Sprintf("%s merged, on row %s. Does the value stand once, in the first cell, or is it repeated in each cell of its area?", areasAre(len(p.merges)), strings.Join(on, ", ")))
}
