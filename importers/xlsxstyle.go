package importers

import (
	"archive/zip"
	"encoding/xml"
	"errors"
	"io"
)

// styleSheet is what the styles of a workbook say of numbers (ISO/IEC 29500-1,
// 18.8.39 styleSheet): cells name their style by its place among the cells'
// formats, and that names a number format.
type styleSheet struct {
	XMLName xml.Name
	Formats []struct {
		ID   int    `xml:"numFmtId,attr"`
		Code string `xml:"formatCode,attr"`
	} `xml:"numFmts>numFmt"`
	Cells []struct {
		Format int `xml:"numFmtId,attr"`
	} `xml:"cellXfs>xf"`
}

// readStyles reads the styles out of the part; a workbook without it shows all
// numbers as they are.
func readStyles(z *zip.Reader, part string) (*styleSheet, error) {
	var s styleSheet
	if part == "" || findPart(z, part) == nil {
		return &s, nil
	}
	if err := decodePart(z, part, &s); err != nil && !errors.Is(err, io.EOF) { // an empty part says nothing
		return nil, err
	}
	return &s, nil
}

// shape returns how a style shows numbers. The codes that every workbook knows
// without saying so count whatever it says.
func (s *styleSheet) shape(style int) shape {
	if style >= len(s.Cells) {
		return shape{}
	}
	id := s.Cells[style].Format
	if !builtIn(id) {
		for i := len(s.Formats) - 1; i >= 0; i-- {
			if s.Formats[i].ID == id {
				return readShape(s.Formats[i].Code)
			}
		}
	}
	if builtInDate(id) {
		return shape{date: true}
	}
	return builtInShapes[id]
}

// builtIn reports whether every workbook knows the number format without saying
// so (ISO/IEC 29500-1, 18.8.30 numFmt): those of all languages, and those of the
// languages of East Asia.
func builtIn(id int) bool {
	return id >= 0 && id <= 4 || id >= 9 && id <= 22 || id >= 27 && id <= 62 || id >= 67 && id <= 81
}

// builtInDate reports whether a number format that every workbook knows without
// saying so shows a day.
func builtInDate(id int) bool {
	return id >= 14 && id <= 17 || id == 22 || id >= 27 && id <= 31 || id == 36 || id >= 50 && id <= 54 || id == 57 || id == 58
}

var builtInShapes = map[int]shape{
	1: {zeros: 1}, 2: {zeros: 1, decimals: 2}, 3: {zeros: 1}, 4: {zeros: 1, decimals: 2},
	9: {percent: true}, 10: {percent: true, decimals: 2}, 12: {fraction: true}, 13: {fraction: true},
}

// shapeOf returns how a style shows numbers.
func (b *book) shapeOf(style int) *shape {
	const most = 1 << 16 // styles of a workbook
	if style < 0 || style >= most {
		return &shape{}
	}
	s := b.shapes[style]
	if s == nil {
		read := b.styles.shape(style)
		s = &read
		b.shapes[style] = s
	}
	return s
}
