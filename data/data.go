// Package data embeds the reference tables and the demo garage.
//
// No limit, size or temperature of the trade is a number in the code: it is a
// row of a CSV file here, and every row names its source in sources.csv.
package data

import (
	"embed"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"

	"fitfill/catalog"
)

//go:embed *.csv
var tables embed.FS

const sourcesFile = "sources.csv"

// Reference loads every table once. It is an error if a row has no source key,
// or one that sources.csv does not list.
var Reference = sync.OnceValues(func() (catalog.Reference, error) { return Load(tables) })

// Shipped returns the same tables, each read when it is first asked for: one
// question needs few of them, and reading all takes longer than many an answer.
func Shipped() catalog.Tables { return shipped }

var shipped = &onDemand{fsys: tables, read: map[string][]catalog.RefRow{}}

type onDemand struct {
	fsys    fs.FS
	mu      sync.Mutex
	sources map[string]catalog.Source
	read    map[string][]catalog.RefRow
}

// Table returns the rows of a table. An error is not kept: asked again, the
// table is read again.
func (d *onDemand) Table(name string) ([]catalog.RefRow, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if rows, ok := d.read[name]; ok {
		return rows, nil
	}
	if name+".csv" == sourcesFile || name+".csv" == shapesFile {
		return catalog.Reference{}.Table(name) // they describe tables, and are none
	}
	var err error
	if d.sources == nil {
		if d.sources, err = loadSources(d.fsys); err != nil {
			return nil, err
		}
	}
	rows, err := loadTable(d.fsys, name+".csv", d.sources)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	if rows, err = (catalog.Reference{name: rows}).Table(name); err == nil {
		d.read[name] = rows
	}
	return rows, err
}

// Load reads all *.csv files at the top of fsys as reference tables. The
// table's name is the file's name without its ending. Errors name the file and
// the line.
func Load(fsys fs.FS) (catalog.Reference, error) {
	sources, err := loadSources(fsys)
	if err != nil {
		return nil, err
	}
	names, err := fs.Glob(fsys, "*.csv")
	if err != nil {
		return nil, err
	}
	names = slices.DeleteFunc(names, func(name string) bool { return name == sourcesFile || name == shapesFile })
	rows, errs := make([][]catalog.RefRow, len(names)), make([]error, len(names))
	next := make(chan int, len(names))
	for i := range names {
		next <- i
	}
	close(next)
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) { // every command waits for the tables
		wait.Go(func() {
			for i := range next {
				rows[i], errs[i] = loadTable(fsys, names[i], sources)
			}
		})
	}
	wait.Wait()
	ref := catalog.Reference{}
	for i, name := range names {
		if errs[i] != nil {
			return nil, errs[i]
		}
		ref[strings.TrimSuffix(name, path.Ext(name))] = rows[i]
	}
	return ref, nil
}

func loadSources(fsys fs.FS) (map[string]catalog.Source, error) {
	sources := map[string]catalog.Source{}
	marks := []catalog.Mark{catalog.Read, catalog.FromMemory, catalog.CommonPractice}
	err := eachRow(fsys, sourcesFile, func(line int, cells map[string]string) error {
		s := catalog.Source{
			Key: cells["key"], Title: cells["title"], Edition: cells["edition"], Mark: catalog.Mark(cells["mark"]),
		}
		switch {
		case s.Key == "" || s.Title == "":
			return fmt.Errorf("%s, line %d: a source needs a key and a title", sourcesFile, line)
		case sources[s.Key].Key != "":
			return fmt.Errorf("%s, line %d: the key %q stands there twice", sourcesFile, line, s.Key)
		case !slices.Contains(marks, s.Mark):
			return fmt.Errorf("%s, line %d: mark %q is none of %v", sourcesFile, line, s.Mark, marks)
		}
		sources[s.Key] = s
		return nil
	})
	return sources, err
}

func loadTable(fsys fs.FS, name string, sources map[string]catalog.Source) ([]catalog.RefRow, error) {
	table := strings.TrimSuffix(name, path.Ext(name))
	var rows []catalog.RefRow
	err := eachRow(fsys, name, func(line int, cells map[string]string) error {
		source, ok := sources[cells["source"]]
		if !ok {
			return fmt.Errorf("%s, line %d: source %q is not a key of %s", name, line, cells["source"], sourcesFile)
		}
		rows = append(rows, catalog.RefRow{Table: table, Line: line, Cells: cells, Source: source})
		return nil
	})
	return rows, err
}

func eachRow(fsys fs.FS, name string, do func(line int, cells map[string]string) error) error {
	f, err := fsys.Open(name)
	if err != nil {
		return fmt.Errorf("open reference table: %w", err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	header, err := r.Read()
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		cells := make(map[string]string, len(header))
		for i, h := range header {
			cells[h] = record[i]
		}
		line, _ := r.FieldPos(0)
		if err := do(line, cells); err != nil {
			return err
		}
	}
}
