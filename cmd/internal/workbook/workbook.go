// Package workbook writes a table as a workbook (ECMA-376, ISO/IEC 29500) that any
// program for tables opens.
//
// A workbook is a zip archive of parts written in XML, which name each other. What
// is written here is the least that the standard asks for: one worksheet whose
// cells are texts that stand in their cells, so that nothing has to be kept until
// the last row.
package workbook

import (
	"archive/zip"
	"bufio"
	"fmt"
	"io"
	"strconv"
	"unicode/utf16"
)

// How much a worksheet holds: rows, columns, and UTF-16 units of one cell.
const (
	MostRows    = 1 << 20
	MostColumns = 1 << 14
	MostText    = 1<<15 - 1
)

// Worksheet is the name of the one worksheet.
const Worksheet = "Sheet1"

// Write writes the rows as a workbook of one worksheet. Every cell is a text and is
// shown as one, so that no program makes a formula, a date or a rounded number of
// it; the first row stays in view. It is an error when the rows do not fit into a
// worksheet: a program that opened it would leave some out, or refuse it whole.
func Write(w io.Writer, rows [][]string) error {
	z := zip.NewWriter(w)
	for _, p := range frame {
		if err := part(z, p.name, func(b *bufio.Writer) error { _, err := b.WriteString(p.text); return err }); err != nil {
			return err
		}
	}
	if err := part(z, worksheetPart, func(b *bufio.Writer) error { return worksheet(b, rows) }); err != nil {
		return err
	}
	return z.Close()
}

func part(z *zip.Writer, name string, write func(*bufio.Writer) error) error {
	w, err := z.Create(name)
	if err != nil {
		return err
	}
	b := bufio.NewWriterSize(w, 32<<10)
	b.WriteString(declaration)
	if err := write(b); err != nil {
		return err
	}
	return b.Flush()
}

// worksheet writes the rows (ISO/IEC 29500-1, 18.3.1.99 worksheet). What writing
// itself cannot do, the flush behind it reports.
func worksheet(b *bufio.Writer, rows [][]string) error {
	b.WriteString(worksheetHead)
	for i, row := range rows {
		number := strconv.Itoa(i + 1)
		if i == MostRows {
			return fmt.Errorf("a worksheet holds %d rows, and these are %d: write them as text with commas", MostRows, len(rows))
		}
		if len(row) > MostColumns {
			return fmt.Errorf("a worksheet holds %d columns, and row %s has %d: write them as text with commas", MostColumns, number, len(row))
		}
		b.WriteString(`<row r="` + number + `">`)
		for k, text := range row {
			if n := units(text); n > MostText {
				return fmt.Errorf("a worksheet's cell holds %d characters, and one of row %s has %d: write the rows as text with commas", MostText, number, n)
			}
			b.WriteString(`<c r="` + column(k) + number + `" s="1" t="inlineStr"><is><t xml:space="preserve">`)
			escape(b, text)
			b.WriteString(`</t></is></c>`)
		}
		b.WriteString(`</row>`)
	}
	b.WriteString(worksheetTail)
	return nil
}

// units counts the UTF-16 units of a text.
func units(text string) (n int) {
	if len(text) <= MostText {
		return len(text) // at least as many
	}
	for _, r := range text {
		n += max(utf16.RuneLen(r), 1)
	}
	return n
}

// column returns the name of a column, counted from 0: A, B, ... Z, AA, AB ...
func column(i int) string {
	var name []byte
	for i++; i > 0; i = (i - 1) / 26 {
		name = append([]byte{'A' + byte((i-1)%26)}, name...)
	}
	return string(name)
}
