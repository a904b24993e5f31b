package app

import (
	"bytes"
	"encoding/csv"

	"github.com/xuri/excelize/v2"
)

// Workbook turns a table of comma-separated text into a workbook of one
// worksheet. Every cell is a text, so that no program makes a date or a rounded
// number of it; the heading stays in view.
func Workbook(table []byte) (workbook []byte, err error) {
	rows, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
	if err != nil {
		return nil, err
	}
	f := excelize.NewFile()
	defer f.Close()
	const name = "Sheet1"
	text, err := f.NewStyle(&excelize.Style{NumFmt: 49}) // @, text
	if err != nil {
		return nil, err
	}
	w, err := f.NewStreamWriter(name)
	if err != nil {
		return nil, err
	}
	if err := w.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return nil, err
	}
	for i, row := range rows {
		at, err := excelize.CoordinatesToCellName(1, i+1)
		if err != nil {
			return nil, err
		}
		cells := make([]any, len(row))
		for k, c := range row {
			cells[k] = excelize.Cell{StyleID: text, Value: c}
		}
		if err := w.SetRow(at, cells); err != nil {
			return nil, err
		}
	}
	if err := w.Flush(); err != nil {
		return nil, err
	}
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}
