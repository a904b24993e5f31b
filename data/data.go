// Package data embeds the reference tables and the demo garage.
//
// No limit, size or temperature of the trade is a number in the code: it is a
// row of a CSV file here, and every row names its source in sources.csv.
package data

import (
	"bufio"
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
	buffer  *bufio.Reader // of the tables, one after another
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
		d.buffer = bufio.NewReader(nil)
		if d.sources, err = loadSources(d.fsys, d.buffer); err != nil {
			return nil, err
		}
	}
	rows, err := loadTable(d.fsys, name+".csv", d.buffer, d.sources, catalog.NewRefRow)
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
	sources, err := loadSources(fsys, bufio.NewReader(nil))
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
			buffer := bufio.NewReader(nil)
			for i := range next {
				rows[i], errs[i] = loadTable(fsys, names[i], buffer, sources, rowOfMap)
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

// rowOfMap makes a row whose cells can be changed one by one.
func rowOfMap(table string, line int, source catalog.Source, columns, values []string) catalog.RefRow {
	r := catalog.NewRefRow(table, line, source, columns, values)
	return catalog.RefRow{Table: table, Line: line, Cells: r.Map(), Source: source}
}

func loadSources(fsys fs.FS, buffer *bufio.Reader) (map[string]catalog.Source, error) {
	sources := map[string]catalog.Source{}
	marks := []catalog.Mark{catalog.Read, catalog.FromMemory, catalog.CommonPractice}
	err := eachRow(fsys, sourcesFile, buffer, func(line int, columns, values []string) error {
		r := catalog.NewRefRow("", line, catalog.Source{}, columns, values)
		s := catalog.Source{
			Key: r.Cell("key"), Title: r.Cell("title"), Edition: r.Cell("edition"), Mark: catalog.Mark(r.Cell("mark")),
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

func loadTable(fsys fs.FS, name string, buffer *bufio.Reader, sources map[string]catalog.Source,
	row func(table string, line int, source catalog.Source, columns, values []string) catalog.RefRow) ([]catalog.RefRow, error) {
	type record struct {
		line   int
		values []string
	}
	var records []record
	var names []string
	var at int // of the source
	err := eachRow(fsys, name, buffer, func(line int, columns, values []string) error {
		key := ""
		if at = slices.Index(columns, "source"); at >= 0 {
			key = values[at]
		}
		if _, ok := sources[key]; !ok {
			return fmt.Errorf("%s, line %d: source %q is not a key of %s", name, line, key, sourcesFile)
		}
		names, records = columns, append(records, record{line, values})
		return nil
	})
	if err != nil || len(records) == 0 {
		return nil, err
	}
	// A row is large: a list of rows that grows would leave as much again behind.
	rows := make([]catalog.RefRow, len(records))
	table := strings.TrimSuffix(name, path.Ext(name))
	for i, r := range records {
		rows[i] = row(table, r.line, sources[r.values[at]], names, r.values)
	}
	return rows, nil
}

// eachRow calls do with each row of a table, whose columns all rows share; the values
// are the row's own. The buffer is taken as the reader of csv takes one, so that many
// small tables need no more than one.
func eachRow(fsys fs.FS, name string, buffer *bufio.Reader, do func(line int, columns, values []string) error) error {
	f, err := fsys.Open(name)
	if err != nil {
		return fmt.Errorf("open reference table: %w", err)
	}
	defer f.Close()
	buffer.Reset(f)
	r := csv.NewReader(buffer)
	r.Comment = '#'
	columns, err := r.Read()
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	for {
		values, err := r.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		line, _ := r.FieldPos(0)
		if err := do(line, columns, values); err != nil {
			return err
		}
	}
}
