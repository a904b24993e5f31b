package importers

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// page is what a worksheet says about itself apart from its values.
type page struct {
	name       string
	width      int // columns up to the last that holds anything
	hiddenRows int
	hidden     []bool // columns that are hidden; nil where none is
	merges     []merge
}

// merge is a merged area; rows count from 1, columns from 0.
type merge struct{ top, left, bottom, right int }

// mostMerged bounds the merged areas of a worksheet.
const mostMerged = 1 << 20

func (p *page) hiddenColumn(i int) bool { return i < len(p.hidden) && p.hidden[i] }

// columnsHidden counts the hidden columns that hold anything.
func (p *page) columnsHidden() int {
	n := 0
	for i := range min(p.width, len(p.hidden)) {
		if p.hidden[i] {
			n++
		}
	}
	return n
}

// page goes over a worksheet once, and calls do with each of its rows.
func (b *book) page(name string, do func(*page, *sheetRow) error) (*page, error) {
	p := &page{name: name}
	part, err := b.open(b.part(name))
	if err != nil {
		return nil, err
	}
	defer part.Close()
	return p, p.read(part, func(r *sheetRow) error { return do(p, r) })
}

// addColumns notes the columns of the element that began, if it hides them.
func (p *page) addColumns(x *markupReader) error {
	if !truth(x.attr("hidden")) {
		return nil
	}
	first, err1 := strconv.Atoi(string(x.attr("min")))
	last, err2 := strconv.Atoi(string(x.attr("max")))
	if err := errors.Join(err1, err2); err != nil {
		return err
	}
	if p.hidden == nil {
		p.hidden = make([]bool, mostColumns)
	}
	for i := max(first, 1); i <= min(last, mostColumns); i++ {
		p.hidden[i-1] = true
	}
	return nil
}

func (p *page) addMerge(ref string) error {
	a, z, two := strings.Cut(ref, ":")
	if !two {
		return nil
	}
	left, top, ok1 := cellPlace(a)
	right, bottom, ok2 := cellPlace(z)
	if !ok1 || !ok2 {
		return fmt.Errorf("cells %q are merged", ref)
	}
	if len(p.merges) == mostMerged {
		return &limitError{fmt.Sprintf("more than %d merged areas: split the sheet and import its parts", mostMerged)}
	}
	p.merges = append(p.merges, merge{top: top, left: left, bottom: bottom, right: right})
	return nil
}

// cellPlace reads the column, from 0, and the row, from 1, off the name of a cell
// such as AB12 or $AB$12.
func cellPlace(name string) (column, row int, ok bool) {
	name = strings.ReplaceAll(name, "$", "")
	if column, ok = cellColumn([]byte(name)); !ok {
		return 0, 0, false
	}
	row, err := strconv.Atoi(name[strings.IndexAny(name, "0123456789"):])
	return column, row, err == nil && row <= mostRows
}

// anyValue reports whether a worksheet holds anything.
func (b *book) anyValue(name string) (bool, error) {
	found := errors.New("found")
	_, err := b.page(name, func(_ *page, r *sheetRow) error {
		if slices.ContainsFunc(r.cells, func(c sheetCell) bool { return c.value }) {
			return found
		}
		return nil
	})
	if errors.Is(err, found) {
		return true, nil
	}
	return false, err
}

func truth(value []byte) bool { return string(value) == "1" || string(value) == "true" }
