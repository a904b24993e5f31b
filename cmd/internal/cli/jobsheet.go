package cli

import (
	"bytes"
	_ "embed"
	"encoding/csv"
	"html/template"
	"path/filepath"
	"strings"

	"fitfill/cmd/internal/app"
)

//go:embed templates/job.html
var jobPage string

var jobTemplate = template.Must(template.New("job").Funcs(template.FuncMap{
	"amount": amount, "total": jobTotal, "mark": func(l app.JobLine) string { return outcomeMark[l.Outcome] },
	"phase": func(n int, a app.JobAnswer) string {
		if n > 0 && a.Notes[n-1].Phase == a.Notes[n].Phase {
			return ""
		}
		return phaseTitle[a.Notes[n].Phase]
	},
}).Parse(jobPage))

// jobSheets write a list for the shelf, by the ending of the file's name. None
// of them names a customer, a vehicle, a tax or any labour.
var jobSheets = map[string]func(app.JobAnswer) ([]byte, error){
	".html": func(a app.JobAnswer) ([]byte, error) {
		var b bytes.Buffer
		err := jobTemplate.Execute(&b, a)
		return b.Bytes(), err
	},
	".csv": jobTable,
}

func writeJobSheet(name string, a app.JobAnswer) error {
	text, err := jobSheets[strings.ToLower(filepath.Ext(name))](a)
	if err != nil {
		return err
	}
	return writeNew(name, text)
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
		row := []string{l.Role, l.Need, l.Supplier, l.Number, l.Description, amount(l), l.Packs, l.Sum, l.Outcome.String(), l.Why, instead}
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
