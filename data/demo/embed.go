// Package demo is the invented garage: the sheets of its suppliers, its own
// measurements, and three years of purchases and returns. All makes, models,
// engines, suppliers and vehicles are made up. README.md says what is planted
// where and what the answer must be.
package demo

import "embed"

// FS holds every sheet of the demo garage.
//
//go:embed *.csv later/*.csv
var FS embed.FS

// Sheet says how one file of FS is imported.
type Sheet struct {
	File     string
	As       string   // kind of sheet: supplier, engines, vehicles ...
	Supplier string   // name of the supplier; empty where no or several suppliers are in the sheet
	Maps     []string // field=Their heading
	Ignore   []string // headings set aside
	Set      []string // setting=value
}

// Args returns the words of the import command for the sheet, the file as path.
func (s Sheet) Args(path string) []string {
	args := []string{"import", path, "--as", s.As}
	if s.Supplier != "" {
		args = append(args, "--supplier", s.Supplier)
	}
	for _, list := range []struct {
		flag   string
		values []string
	}{{"--map", s.Maps}, {"--ignore", s.Ignore}, {"--set", s.Set}} {
		for _, v := range list.values {
			args = append(args, list.flag, v)
		}
	}
	return args
}

// Alias is a supplier's other name.
type Alias struct{ Supplier, Also string }
