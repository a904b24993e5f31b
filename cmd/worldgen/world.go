package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// truth is what is true of a world besides the tables truth.csv, classes.csv
// and errors.csv.
type truth struct {
	Seed      uint64          `json:"seed"`
	Families  int             `json:"families"`
	Parts     int             `json:"parts"`
	Fitments  int             `json:"fitments"`
	Vehicles  int             `json:"vehicles"`
	Purchases int             `json:"purchases"`
	Errors    int             `json:"planted_errors"`
	Suppliers []supplierTruth `json:"suppliers"`
	Rule      string          `json:"rule"`
}

type supplierTruth struct {
	Name     string  `json:"supplier"`
	File     string  `json:"sheet"`
	Parts    int     `json:"parts"`
	Rows     int     `json:"rows"`
	Relative float64 `json:"relative_failure_rate"`
}

const rule = "a part fits a family if and only if both stand in classes.csv with the same type and class; " +
	"truth.csv spells out the pairs of the sheets' rows, right, wrong and held alike"

func runWorld(args []string, log io.Writer) error {
	o, err := worldOptions(args, log)
	if err != nil {
		return err
	}
	s, err := readSizes()
	if err != nil {
		return err
	}
	if err := os.MkdirAll(o.out, 0o777); err != nil {
		return fmt.Errorf("make the folder: %w", err)
	}
	w := newWorld(s, o.seed, o.families)
	t := truth{Seed: o.seed, Families: o.families, Parts: o.parts, Fitments: o.fitments, Vehicles: o.vehicles, Purchases: o.bought, Rule: rule}
	for _, write := range []func() error{
		func() error { return w.writeEngines(o) },
		func() error { return w.writeClasses(o) },
		func() error { return w.writeSheets(o, &t) },
		func() error { return w.writeVehicles(o) },
		func() error { return w.writeTrade(o, &t) },
	} {
		if err := write(); err != nil {
			return err
		}
	}
	text, err := json.MarshalIndent(t, "", "  ")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(o.out, "truth.json"), append(text, '\n'), 0o666)
}

// table opens a file of the world for writing and hands it to fill; the first
// line is the heading.
func (o *options) table(name string, headings []string, fill func(c *cells) error) (err error) {
	f, err := os.Create(filepath.Join(o.out, name))
	if err != nil {
		return fmt.Errorf("write the world: %w", err)
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	c := newCells(f, ',', false)
	if err := c.all(headings...); err != nil {
		return err
	}
	if err := fill(c); err != nil {
		return err
	}
	return c.out.Flush()
}

// writeSheets writes every supplier's sheet, truth.csv and errors.csv.
func (w *world) writeSheets(o *options, t *truth) error {
	rates := w.relative(o)
	return o.table("truth.csv", []string{"supplier", "number", "family", "fits", "why"}, func(truth *cells) error {
		return o.table("errors.csv", []string{"sheet", "line", "kind", "supplier", "number", "family", "detail"}, func(wrong *cells) error {
			for i := range o.suppliers {
				s := &supplierSheet{world: w, o: o, supplier: i, shape: &shapes[i%len(shapes)], r: newPCG(o.seed, sheetStream+uint64(i)), truth: truth, errors: wrong}
				s.file = fmt.Sprintf("supplier-%02d.%s", i+1, s.shape.ext)
				if err := s.create(); err != nil {
					return err
				}
				t.Errors += s.planted
				t.Suppliers = append(t.Suppliers, supplierTruth{supplierName(i), s.file, o.partsOf(i), s.out.line - 1, rates[i]})
			}
			return nil
		})
	})
}

func (s *supplierSheet) create() (err error) {
	f, err := os.Create(filepath.Join(s.o.out, s.file))
	if err != nil {
		return fmt.Errorf("write the sheet: %w", err)
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	s.out = newCells(f, s.shape.sep, s.shape.quoted)
	return s.write()
}
