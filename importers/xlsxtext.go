package importers

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"
)

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
