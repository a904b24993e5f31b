package importers

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
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

var cellKinds = map[string]int{"": cellNumber, "n": cellNumber, "s": cellShared, "str": cellText, "inlineStr": cellText, "b": cellBool, "e": cellError, "d": cellDate}

// cellInfo is what stands in the worksheet about one cell.
type cellInfo struct {
	kind      int
	style     int
	index     int64  // of a shared text
	number    string // the value as written, unless it is a text
	formula   bool
	written   string // the formula
	value     bool
	hiddenRow bool
}

// cellReader reads the cells of a worksheet row by row, beside the library's
// reader of the values, which gives neither the type nor the style of a cell and
// an empty text for a shared one that is missing.
type cellReader struct {
	part io.ReadCloser
	xml  *xml.Decoder
	at   cursor
	next []cellInfo // of row at.row, read and not yet asked for
	have bool
	done bool
}

func (b *book) cells(p *page) (*cellReader, error) {
	f := findPart(b.zip, p.part)
	if f == nil {
		return nil, fmt.Errorf("the part %s is missing", p.part)
	}
	r, err := f.Open()
	if err != nil {
		return nil, err
	}
	return &cellReader{part: r, xml: xml.NewDecoder(r), at: cursor{column: -1}}, nil
}

func (c *cellReader) close() { c.part.Close() }

// row returns the cells of row n; rows are asked for in order.
func (c *cellReader) row(n int) ([]cellInfo, error) {
	for !c.done && (!c.have || c.at.row < n) {
		if err := c.read(); err != nil {
			return nil, err
		}
	}
	if c.have && c.at.row == n {
		return c.next, nil
	}
	return nil, nil
}

// read goes on to the end of the next row.
func (c *cellReader) read() error {
	c.next, c.have = c.next[:0], false
	inRow, hidden := false, false
	var text *string
	for {
		token, err := c.xml.RawToken()
		if errors.Is(err, io.EOF) {
			c.done = true
			return nil
		}
		if err != nil {
			return err
		}
		switch e := token.(type) {
		case xml.StartElement:
			if err := c.at.follow(e); err != nil {
				return err
			}
			text = nil
			switch e.Name.Local {
			case "row":
				inRow, hidden = true, truth(attr(e, "hidden"))
			case "c":
				if err := c.begin(e, hidden); err != nil {
					return err
				}
			case "f":
				if cell := c.cell(); cell != nil {
					cell.formula, text = true, &cell.written
				}
			case "v":
				if cell := c.cell(); cell != nil {
					cell.value, text = true, &cell.number
				}
			case "t":
				if cell := c.cell(); cell != nil {
					cell.value = true
				}
			}
		case xml.CharData:
			if text != nil {
				*text += string(e)
			}
		case xml.EndElement:
			if cell := c.cell(); e.Name.Local == "c" && cell != nil {
				if err := cell.end(); err != nil {
					return err
				}
			}
			text = nil
			switch {
			case e.Name.Local == "row" && inRow:
				c.have = true
				return nil
			case e.Name.Local == "sheetData":
				c.done = true
				return nil
			}
		}
	}
}

// cell is the cell that is being read.
func (c *cellReader) cell() *cellInfo {
	if c.at.column < 0 || c.at.column >= len(c.next) {
		return nil
	}
	return &c.next[c.at.column]
}

func (c *cellReader) begin(e xml.StartElement, hidden bool) error {
	const most = 1 << 14 // columns of a worksheet
	if c.at.column >= most {
		return fmt.Errorf("a cell stands in column %d", c.at.column+1)
	}
	for len(c.next) <= c.at.column {
		c.next = append(c.next, cellInfo{hiddenRow: hidden})
	}
	kind, known := cellKinds[attr(e, "t")]
	if !known {
		return fmt.Errorf("a cell is of the unknown type %q", attr(e, "t"))
	}
	style, _ := strconv.Atoi(attr(e, "s"))
	c.next[c.at.column] = cellInfo{kind: kind, style: style, hiddenRow: hidden}
	return nil
}

// end reads the number of a shared text.
func (i *cellInfo) end() error {
	if i.kind != cellShared || !i.value {
		return nil
	}
	n, err := strconv.ParseInt(i.number, 10, 64)
	if err != nil || n < 0 {
		return fmt.Errorf("a cell points to the text %q", i.number)
	}
	i.index = n
	return nil
}
