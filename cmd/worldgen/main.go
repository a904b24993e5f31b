// Command worldgen makes invented trades: the demo garage's history, or a world
// of any size with a file that says what is true in it. The same seed and sizes
// give the same bytes.
//
//	worldgen history --seed 7 --out data/demo
//	worldgen world --seed 7 --families 200 --parts 5000 --fitments 60000 --suppliers 8 --out DIR
package main

import (
	"bufio"
	"encoding/csv"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"fitfill/data/demo"
)

func main() {
	if err := run(os.Args[1:], os.Stderr); err != nil && !errors.Is(err, flag.ErrHelp) {
		fmt.Fprintln(os.Stderr, "worldgen:", err)
		os.Exit(1)
	}
}

// run does one command; messages about flags go to log.
func run(args []string, log io.Writer) error {
	if len(args) > 0 {
		switch args[0] {
		case "history":
			return runHistory(args[1:], log)
		case "world":
			return runWorld(args[1:], log)
		}
	}
	return errors.New("say what to make: worldgen history --seed N --out DIR, or worldgen world --seed N --out DIR")
}

func runHistory(args []string, log io.Writer) error {
	flags := flag.NewFlagSet("history", flag.ContinueOnError)
	flags.SetOutput(log)
	seed := flags.Uint64("seed", 1, "seed of the draw")
	out := flags.String("out", "", "folder for purchases.csv and returns.csv")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if *out == "" {
		return errors.New("say where to write: --out DIR")
	}
	h, err := demoHistory(demo.FS, *seed)
	if err != nil {
		return err
	}
	if err := writeEvents(filepath.Join(*out, "purchases.csv"), purchaseHeadings, h.purchases); err != nil {
		return err
	}
	return writeEvents(filepath.Join(*out, "returns.csv"), returnHeadings, h.returns)
}

// writeEvents writes a table of events.
func writeEvents(path string, headings []string, events []event) (err error) {
	f, err := os.Create(path)
	if err != nil {
		return fmt.Errorf("write the history: %w", err)
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	buffer := bufio.NewWriter(f)
	w := csv.NewWriter(buffer)
	if err := w.Write(headings); err != nil {
		return err
	}
	for _, e := range events {
		if err := w.Write(e.cells); err != nil {
			return err
		}
	}
	w.Flush()
	return errors.Join(w.Error(), buffer.Flush())
}
