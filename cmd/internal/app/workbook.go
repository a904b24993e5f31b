package app

import (
	"bytes"
	"encoding/csv"

	"fitfill/cmd/internal/workbook"
)

// Workbook turns a table of comma-separated text into a workbook of one
// worksheet. Every cell is a text, so that no program makes a date or a rounded
// number of it; the heading stays in view.
func Workbook(table []byte) ([]byte, error) {
	rows, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	if err := workbook.Write(&out, rows); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}
