package importers

import (
	"fmt"
	"io"
	"slices"
	"strconv"
)

// The kinds of value that a cell of a workbook states (ISO/IEC 29500-1,
// 18.18.11 ST_CellType).
const (
	cellNumber = iota
	cellShared
	cellText // inline, or the result of a formula
	cellBool
	cellError
	cellDate // written by ISO 8601
)

func cellKind(name []byte) (kind uint8, known bool) {
	switch string(name) {
	case "", "n":
		return cellNumber, true
	case "s":
		return cellShared, true
	case "str", "inlineStr":
		return cellText, true
	case "b":
		return cellBool, true
	case "e":
		return cellError, true
	case "d":
		return cellDate, true
	}
	return 0, false
}

// How many columns and rows a worksheet can have.
const (
	mostColumns = 1 << 14
	mostRows    = 1 << 20
)

// sheetCell is what stands in the worksheet about one cell: the value as it is
// written, of what kind it is and how it is shown.
type sheetCell struct {
	column  int // from 0
	style   int
	kind    uint8
	formula bool
	value   bool
	stated  [2]int // where the value stands among the row's texts
	written [2]int // and the formula
}

// sheetRow is one row of a worksheet.
type sheetRow struct {
	number int // from 1
	hidden bool
	cells  []sheetCell // by column
	texts  []byte
}

func (r *sheetRow) stated(c *sheetCell) []byte  { return r.texts[c.stated[0]:c.stated[1]] }
func (r *sheetRow) written(c *sheetCell) []byte { return r.texts[c.written[0]:c.written[1]] }

// read goes over a worksheet once and calls do with each row, whose cells are
// valid until the next; nil reads what stands around them alone. Rows that do not
// ascend are an error, as their lines could be told no more.
func (p *page) read(part io.Reader, do func(*sheetRow) error) error {
	x := newMarkup(part)
	var row sheetRow
	for x.child(0) {
		for x.child(1) {
			var err error
			switch string(x.name) {
			case "cols":
				for err == nil && x.child(2) {
					err = p.addColumns(x)
				}
			case "sheetData":
				for err == nil && x.child(2) {
					if string(x.name) != "row" {
						continue
					}
					if err = row.read(x); err != nil || x.err != nil {
						break
					}
					p.count(&row)
					if do != nil {
						err = do(&row)
					}
				}
			case "mergeCells":
				for err == nil && x.child(2) {
					err = p.addMerge(string(x.attr("ref")))
				}
			}
			if err != nil {
				return err
			}
		}
	}
	return x.err
}

// count notes what is hidden and how far to the right anything stands.
func (p *page) count(r *sheetRow) {
	if r.hidden {
		p.hiddenRows++
	}
	for i := len(r.cells) - 1; i >= 0; i-- {
		if r.cells[i].value || r.cells[i].formula {
			p.width = max(p.width, r.cells[i].column+1)
			return
		}
	}
}

// read reads the row that began. Rows and cells may leave their own number out.
func (r *sheetRow) read(x *markupReader) error {
	r.cells, r.texts = r.cells[:0], r.texts[:0]
	before := r.number
	r.number++
	if n := x.attr("r"); len(n) > 0 {
		var err error
		if r.number, err = strconv.Atoi(string(n)); err != nil {
			return err
		}
	}
	if r.number <= before || r.number > mostRows {
		return fmt.Errorf("row %d stands behind row %d", r.number, before)
	}
	r.hidden = truth(x.attr("hidden"))
	column, ascending := -1, true
	for x.child(3) {
		if string(x.name) != "c" {
			continue
		}
		c := sheetCell{column: column + 1}
		if name := x.attr("r"); len(name) > 0 {
			var ok bool
			if c.column, ok = cellColumn(name); !ok {
				return fmt.Errorf("row %d holds a cell %q", r.number, name)
			}
		}
		if c.column >= mostColumns {
			return fmt.Errorf("a cell stands in column %d", c.column+1)
		}
		ascending = ascending && c.column > column
		column = c.column
		if err := r.cell(x, &c); err != nil {
			return err
		}
		r.cells = append(r.cells, c)
	}
	if ascending {
		return nil
	}
	slices.SortFunc(r.cells, func(a, b sheetCell) int { return a.column - b.column })
	for i := 1; i < len(r.cells); i++ {
		if r.cells[i].column == r.cells[i-1].column {
			return fmt.Errorf("row %d holds the cell of column %d twice", r.number, r.cells[i].column+1)
		}
	}
	return nil
}

// cell reads the cell that began.
func (r *sheetRow) cell(x *markupReader, c *sheetCell) error {
	var known bool
	if c.kind, known = cellKind(x.attr("t")); !known {
		return fmt.Errorf("a cell is of the unknown type %q", x.attr("t"))
	}
	if style := x.attr("s"); len(style) > 0 {
		c.style, _ = strconv.Atoi(string(style))
	}
	from := len(r.texts)
	if string(x.names[x.outer(x.depth-1):]) == "c" {
		if r.texts, c.value = x.only(r.texts, "<v>", "</v></c>"); !c.value {
			r.texts, c.value = x.only(r.texts, "<is><t>", "</t></is></c>")
		}
		if c.value {
			c.stated = [2]int{from, len(r.texts)}
			return nil
		}
	}
	for x.child(4) {
		switch string(x.name) {
		case "v":
			c.value = true
			c.stated = r.keep(x.content())
		case "f":
			c.formula = true
			c.written = r.keep(x.content())
		case "is":
			from = len(r.texts)
			c.value = eachText(x, func(text []byte) { r.keep(text) })
			c.stated = [2]int{from, len(r.texts)}
		}
	}
	return nil
}

// keep adds a text and returns where it stands.
func (r *sheetRow) keep(text []byte) [2]int {
	from := len(r.texts)
	r.texts = append(r.texts, text...)
	return [2]int{from, len(r.texts)}
}

// eachText calls do with the texts of the element that began (ISO/IEC 29500-1,
// 18.4.8 si): its own, or those of its runs. How it is spoken is left out.
func eachText(x *markupReader, do func([]byte)) (any bool) {
	for depth := x.depth; x.child(depth); {
		switch string(x.name) {
		case "t":
			do(x.content())
			any = true
		case "r":
			for x.child(depth + 1) {
				if string(x.name) == "t" {
					do(x.content())
					any = true
				}
			}
		}
	}
	return any
}

// cellColumn reads the column, from 0, off the name of a cell such as AB12.
func cellColumn(name []byte) (column int, ok bool) {
	i := 0
	for ; i < len(name); i++ {
		b := name[i] &^ 0x20 // capital or not
		if b < 'A' || b > 'Z' {
			break
		}
		if column = column*26 + int(b-'A') + 1; column > mostColumns {
			return 0, false
		}
	}
	digits := name[i:]
	for _, b := range digits {
		if b < '0' || b > '9' {
			return 0, false
		}
	}
	return column - 1, i > 0 && len(digits) > 0 && digits[0] != '0'
}
