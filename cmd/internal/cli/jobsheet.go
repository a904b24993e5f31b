package cli

import (
	"bytes"
	"encoding/csv"
	"path/filepath"
	"strings"

	"fitfill/cmd/internal/app"
	"fitfill/cmd/internal/shelf"
)

// jobSheets write a list for the shelf, by the ending of the file's name. None
// of them names a customer, a vehicle, a tax or any labour.
var jobSheets = map[string]func(app.JobAnswer) ([]byte, error){
	".html": shelf.Page,
	".csv":  jobTable,
	".xlsx": jobTable,
}

func writeJobSheet(name string, a app.JobAnswer) error {
	text, err := jobSheets[strings.ToLower(filepath.Ext(name))](a)
	if err != nil {
		return err
	}
	return writeTable(name, text)
}

func jobTable(a app.JobAnswer) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	rows := [][]string{{"role", "needed", "supplier", "number", "description", "quantity", "packs", "price", "verdict", "why", "instead"}}
	for _, l := range a.Lines {
		instead := ""
		if l.RunnerUp != nil {
			instead = l.RunnerUp.Number + " of " + l.RunnerUp.Supplier
		}
		row := []string{l.Role, l.Need, l.Supplier, l.Number, l.Description, shelf.Amount(l), l.Packs, l.Sum, l.Outcome.String(), l.Why, instead}
		for i := range row {
			row[i] = app.Guard(row[i])
		}
		rows = append(rows, row)
	}
	if err := w.WriteAll(rows); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
