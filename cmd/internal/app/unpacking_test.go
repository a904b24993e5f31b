package app

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"
)

// bigWorkbook is a workbook of some megabytes: its texts cannot be packed well.
func bigWorkbook(t *testing.T) []byte {
	t.Helper()
	var table bytes.Buffer
	table.WriteString("Number,Type,Description\n")
	random := rand.New(rand.NewPCG(1, 1))
	for i := range 120_000 {
		fmt.Fprintf(&table, "TX-%06d,thermostat,%x%x%x%x\n", i, random.Uint64(), random.Uint64(), random.Uint64(), random.Uint64())
	}
	raw, err := Workbook(table.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if len(raw) < largeSheet {
		t.Fatalf("only %d bytes", len(raw))
	}
	return raw
}

// What is said of a workbook that is unpacked goes up and ends with all of it; an
// interruption ends it and is not taken for damage.
func TestUnpackingIsReportedAndCanBeInterrupted(t *testing.T) {
	raw := bigWorkbook(t)
	var said []int
	all := 0
	in, err := Inspect(context.Background(), "list.xlsx", bytes.NewReader(raw), nil, func(done, of int) { said, all = append(said, done), of })
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	if in.Counts.Imported != 120_000 || all != (len(raw)+999)/1000 || said[len(said)-1] != all || len(said) < 10 {
		t.Errorf("%d rows, said %v of %d", in.Counts.Imported, said, all)
	}
	for i := 1; i < len(said); i++ {
		if said[i] < said[i-1] || said[i-1] >= all {
			t.Fatalf("said %v", said)
		}
	}

	ctx, cancel := context.WithCancel(context.Background())
	calls := 0
	_, err = Inspect(ctx, "list.xlsx", bytes.NewReader(raw), nil, func(int, int) {
		if calls++; calls == 3 {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) || err.Error() != context.Canceled.Error() {
		t.Errorf("interrupted: %v", err)
	}

	calls = 0
	text, err := Inspect(context.Background(), "list.csv", bytes.NewReader([]byte("Number,Type\nTX-1,seal\n")), nil, func(int, int) { calls++ })
	if err != nil || calls > 0 {
		t.Errorf("a text that is not packed: %d reports, %v", calls, err)
	}
	if err := text.Close(); err != nil {
		t.Error(err)
	}
}
