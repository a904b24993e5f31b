package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
)

// options are the sizes of a world.
type options struct {
	out                         string
	seed                        uint64
	families, parts, fitments   int
	suppliers, vehicles, bought int
	errors                      float64 // per cent of the rows
}

// worldOptions reads the flags of the command.
func worldOptions(args []string, log io.Writer) (*options, error) {
	var o options
	f := flag.NewFlagSet("world", flag.ContinueOnError)
	f.SetOutput(log)
	f.StringVar(&o.out, "out", "", "folder to write; made where it is missing")
	f.Uint64Var(&o.seed, "seed", 1, "seed: the same seed and sizes give the same bytes")
	f.IntVar(&o.families, "families", 200, "engine families")
	f.IntVar(&o.parts, "parts", 5000, "suppliers' parts in all")
	f.IntVar(&o.fitments, "fitments", 60000, "rows of all suppliers' sheets: one application each")
	f.IntVar(&o.suppliers, "suppliers", 8, "suppliers")
	f.IntVar(&o.vehicles, "vehicles", 500, "vehicles")
	f.IntVar(&o.bought, "purchases", 10000, "lines of purchases")
	f.Float64Var(&o.errors, "errors", 1, "per cent of the rows with a planted error")
	if err := f.Parse(args); err != nil {
		return nil, err
	}
	switch {
	case o.out == "":
		return nil, errors.New("say where to write: --out DIR")
	case f.NArg() > 0:
		return nil, fmt.Errorf("%q is no flag: see worldgen world --help", f.Arg(0))
	case o.families < 1 || o.suppliers < 1:
		return nil, errors.New("a world needs at least one family and one supplier")
	case o.parts < o.suppliers || o.fitments < o.parts:
		return nil, errors.New("every supplier needs a part, and every part an application: parts may not be fewer than suppliers, nor fitments fewer than parts")
	case o.vehicles < 0 || o.bought < 0 || o.errors < 0 || o.errors > 100:
		return nil, errors.New("vehicles and purchases may not be negative; errors is a share from 0 to 100")
	}
	return &o, nil
}

// partsOf returns how many parts a supplier has; the first suppliers take what
// does not divide.
func (o *options) partsOf(supplier int) int {
	n := o.parts / o.suppliers
	if supplier < o.parts%o.suppliers {
		n++
	}
	return n
}

// part returns the place of a supplier's design i among all parts.
func (o *options) part(supplier, i int) int { return i*o.suppliers + supplier }

// fitmentsOf returns how many applications a part has; the first parts take
// what does not divide.
func (o *options) fitmentsOf(part int) int {
	n := o.fitments / o.parts
	if part < o.fitments%o.parts {
		n++
	}
	return n
}
