package importers

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

const upright = "Part no.;Description;Price EUR;Stock;Delivery;Barcode\n" +
	"KV-1;Thermostat 82 C;12,50;4;2 days;4006381333931\n" +
	"KV-2;Thermostat 88 C;13,50;5;3 days;\n" +
	"KV-3;Seal;1,50;44;next day;\n" +
	"KV-4;Seal 54 mm;2,50;40;next day;\n" +
	"KV-5;Hose;22,50;4;2 days;\n" +
	"KV-6;Hose 30;23,50;4;2 days;\n"

// heldCodes lists line and code of the rows whose shape holds them.
func heldCodes(s *Sheet) (held []string) {
	for _, r := range s.Records() {
		if r.Class == ClassData && r.Fault != NoFault {
			held = append(held, fmt.Sprint(r.Line, " ", r.Fault.Code()))
		}
	}
	return held
}

// Rows with the right number of cells whose values stand under the heading beside
// their own are held; rows that only lack a value or are unlike the others are
// not. The rows are our own.
func TestRowsWhoseCellsStandOneColumnOffAreHeld(t *testing.T) {
	for row, want := range map[string]bool{
		"KV-7;14,50;6;2 days;;":               true,  // the description is missing
		"KV-7;14,50;6;2 days;4006381333931;":  true,  // the same with a barcode
		"Hose 40;14,50;6;2 days;;":            true,  // the number is missing
		"KV-7;Hose 40;6;2 days;;":             true,  // the price is missing
		"KV-7;;Hose 40;14,50;6;2 days":        true,  // a cell too many, and no barcode to show for it
		"KV-7;\"14,50\";6;2 days;;":           true,  // in quotation marks
		"KV-7;Hose 40;14,50;;;":               false, // nothing in stock
		"KV-7;;14,50;6;2 days;":               false, // no description, and the rest in its place
		"KV-7;Hose 40;on request;;;":          false, // no price
		"KV-7;Hose 40;;on request;;":          false, // no price, and no stock either
		"KV-7;40;14,50;6;2 days;":             false, // one odd description
		"KV-7;Hose 40;14,50;in stock;2 days;": false, // one odd cell
		"KV-7;Hose 40;14,50;6;2 days;ask":     false,
	} {
		for _, text := range []string{upright + row + "\n", strings.Replace(upright, "KV-3", row+"\nKV-3", 1)} {
			s, err := Open(reference(t), "list.csv", []byte(text), nil)
			if err != nil {
				t.Fatal(err)
			}
			if got := slices.ContainsFunc(heldCodes(s), func(h string) bool { return strings.HasSuffix(h, "cells-shifted") }); got != want || len(heldCodes(s)) > 1 {
				t.Errorf("%s: held %v, want %v", row, heldCodes(s), want)
			}
		}
	}
}

func TestAHeldRowSaysWhichCellStandsOffAndMayBeTakenAsItIs(t *testing.T) {
	text := upright + "KV-7;14,50;6;2 days;;\n"
	s, err := Open(reference(t), "list.csv", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	last := s.records.n - 1
	for _, say := range []string{`"14,50" stands under "Description"`, `a value of "Price EUR"`, "--set rows=8"} {
		if p := s.structure(last); p == nil || !strings.Contains(p.why, say) {
			t.Errorf("%+v does not say %s", p, say)
		}
	}
	if s, err = Open(reference(t), "list.csv", []byte(text), Settings{"rows": "8"}); err != nil || len(heldCodes(s)) > 0 {
		t.Error("the row is held although a person said that it is right", heldCodes(s), err)
	}
}

// A list of several types of part has rows that fill other columns than most.
func TestRowsOfARareTypeStandWhereTheyBelong(t *testing.T) {
	var b strings.Builder
	b.WriteString("Part no.;Type;Opening;Bore mm;Clamp min mm;Clamp max mm;Note\n")
	for i := range 40 {
		fmt.Fprintf(&b, "KV-%d;hose;;%d;;;\n", i, 20+i)
	}
	b.WriteString("KV-90;clamp;;;12;20;\nKV-91;thermostat;82 C;;;;\nKV-92;clamp;;;32;50;for hoses\n")
	s, err := Open(reference(t), "list.csv", []byte(b.String()), nil)
	if err != nil || len(heldCodes(s)) > 0 {
		t.Error(heldCodes(s), err)
	}
}
