package importers

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"

	"github.com/xuri/excelize/v2"
)

// page is what a worksheet says about itself apart from its values.
type page struct {
	name, part    string
	width         int // columns up to the last that holds anything
	hiddenRows    int
	hiddenColumns [][2]int // first and last, from 0
	merges        []merge
	byRow         map[int][]int // merged areas by row
}

// merge is a merged area; rows count from 1, columns from 0.
type merge struct{ top, left, bottom, right int }

func (p *page) hiddenColumn(i int) bool {
	for _, c := range p.hiddenColumns {
		if i >= c[0] && i <= c[1] {
			return true
		}
	}
	return false
}

// columnsHidden counts the hidden columns that hold anything.
func (p *page) columnsHidden() int {
	n := 0
	for i := range p.width {
		if p.hiddenColumn(i) {
			n++
		}
	}
	return n
}

// area returns the merged area that holds a cell, −1 if none does.
func (p *page) area(row, column int) int {
	for _, k := range p.byRow[row] {
		if a := p.merges[k]; column >= a.left && column <= a.right {
			return k
		}
	}
	return -1
}

// mostMergedRows bounds the rows that one merged area is kept for.
const mostMergedRows = 1 << 16

// look goes over the worksheet once for what has to be known before its values
// are written: how wide it is, what it hides and what it merges.
func (b *book) look(name string) (*page, error) {
	p := &page{name: name, part: b.paths[name], byRow: map[int][]int{}}
	err := b.eachElement(p.part, func(e xml.StartElement, c *cursor) error {
		switch e.Name.Local {
		case "col":
			if truth(attr(e, "hidden")) {
				first, err1 := strconv.Atoi(attr(e, "min"))
				last, err2 := strconv.Atoi(attr(e, "max"))
				if err := errors.Join(err1, err2); err != nil {
					return err
				}
				p.hiddenColumns = append(p.hiddenColumns, [2]int{first - 1, last - 1})
			}
		case "row":
			if truth(attr(e, "hidden")) {
				p.hiddenRows++
			}
		case "v", "f", "t":
			p.width = max(p.width, c.column+1)
		case "mergeCell":
			return p.addMerge(attr(e, "ref"))
		}
		return nil
	})
	if p.columnsHidden() == 0 {
		p.hiddenColumns = nil
	}
	return p, err
}

func (p *page) addMerge(ref string) error {
	var m merge
	a, z, two := cut2(ref, ':')
	if !two {
		return nil
	}
	left, top, err1 := excelize.CellNameToCoordinates(a)
	right, bottom, err2 := excelize.CellNameToCoordinates(z)
	if err := errors.Join(err1, err2); err != nil {
		return err
	}
	m = merge{top: top, left: left - 1, bottom: bottom, right: right - 1}
	p.merges = append(p.merges, m)
	for r := m.top; r <= m.bottom && r < m.top+mostMergedRows; r++ {
		p.byRow[r] = append(p.byRow[r], len(p.merges)-1)
	}
	return nil
}

func cut2(s string, at byte) (before, after string, found bool) {
	for i := range len(s) {
		if s[i] == at {
			return s[:i], s[i+1:], true
		}
	}
	return s, "", false
}

// anyValue reports whether a worksheet holds anything.
func (b *book) anyValue(name string) (bool, error) {
	found := errors.New("found")
	err := b.eachElement(b.paths[name], func(e xml.StartElement, _ *cursor) error {
		if e.Name.Local == "v" || e.Name.Local == "t" {
			return found
		}
		return nil
	})
	if errors.Is(err, found) {
		return true, nil
	}
	return false, err
}

// cursor is where in the worksheet an element stands.
type cursor struct{ row, column int }

// eachElement calls do for each element of a part, with the cell that it is in.
func (b *book) eachElement(part string, do func(xml.StartElement, *cursor) error) error {
	f := findPart(b.zip, part)
	if f == nil {
		return fmt.Errorf("the part %s is missing", part)
	}
	r, err := f.Open()
	if err != nil {
		return err
	}
	defer r.Close()
	d := xml.NewDecoder(r)
	c := cursor{column: -1}
	for {
		token, err := d.RawToken()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		if err := c.follow(e); err != nil {
			return err
		}
		if err := do(e, &c); err != nil {
			return err
		}
	}
}

// follow keeps count of rows and cells; both may leave their own number out.
func (c *cursor) follow(e xml.StartElement) error {
	switch e.Name.Local {
	case "row":
		c.row, c.column = c.row+1, -1
		if n := attr(e, "r"); n != "" {
			row, err := strconv.Atoi(n)
			if err != nil {
				return err
			}
			c.row = row
		}
	case "c":
		c.column++
		if name := attr(e, "r"); name != "" {
			column, _, err := excelize.CellNameToCoordinates(name)
			if err != nil {
				return err
			}
			c.column = column - 1
		}
	}
	return nil
}

func attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func truth(value string) bool { return value == "1" || value == "true" }
