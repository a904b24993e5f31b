package app

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"fitfill/catalog/sqlite"
	"fitfill/importers"
)

// keptCopy takes in a file that the catalogue keeps: a small one into memory, a large
// one into a scratch file, out of which it is read by pages like one that is imported.
// It must be closed.
type keptCopy struct {
	shop *Shop
	mem  bytes.Buffer
	file importers.ScratchFile // nil while the file is small
	size int64
}

// Write adds to the copy.
func (c *keptCopy) Write(b []byte) (int, error) {
	c.size += int64(len(b))
	if c.file != nil {
		return c.file.Write(b)
	}
	n, err := c.mem.Write(b)
	if err != nil || c.size <= largeSheet {
		return n, err
	}
	if c.file, err = c.shop.scratch(); err != nil {
		return 0, roomError(err)
	}
	if _, err := c.mem.WriteTo(c.file); err != nil {
		return 0, roomError(err)
	}
	c.mem = bytes.Buffer{}
	return n, nil
}

func roomError(err error) error {
	return fmt.Errorf("the kept copy of the sheet cannot be unpacked: make room on the disk: %w", err)
}

// content is what was written. Nothing may be written afterwards.
func (c *keptCopy) content() importers.File {
	if c.file != nil {
		return io.NewSectionReader(c.file, 0, c.size)
	}
	return bytes.NewReader(c.mem.Bytes())
}

// Close takes the scratch file away, if there is one.
func (c *keptCopy) Close() error {
	if c.file == nil {
		return nil
	}
	return c.file.Close()
}

// keptSheet is a sheet of the catalogue that was opened again. It must be closed.
type keptSheet struct {
	*importers.Sheet
	mapping importers.Mapping
	copied  *keptCopy
}

// Close takes away what reading the sheet needed.
func (k *keptSheet) Close() error {
	if k.Sheet == nil {
		return k.copied.Close()
	}
	return errors.Join(k.Sheet.Close(), k.copied.Close())
}

// open reads a sheet out of a copy, the way it was read when it was imported. The copy
// is closed with the sheet, or when it cannot be read.
func (c *keptCopy) open(of sqlite.SheetRecord) (*keptSheet, error) {
	k := &keptSheet{copied: c}
	if err := json.Unmarshal([]byte(of.Mapping), &k.mapping); err != nil {
		return nil, errors.Join(fmt.Errorf("its column mapping cannot be read: %w", err), c.Close())
	}
	sheet, err := importers.OpenFile(c.shop.whole(), of.Name, c.content(), c.shop.scratch, k.mapping.Settings)
	if err != nil {
		return nil, errors.Join(fmt.Errorf("the kept copy cannot be read: %w", err), c.Close())
	}
	k.Sheet = sheet
	return k, nil
}

// reopen reads a sheet in use once more.
func (s *Shop) reopen(ctx context.Context, of sqlite.SheetRecord) (*keptSheet, error) {
	c := &keptCopy{shop: s}
	err := s.store.View(ctx, func(v *sqlite.View) error { return v.RawSheet(ctx, of.ID, c) })
	if err != nil {
		return nil, errors.Join(err, c.Close())
	}
	k, err := c.open(of)
	if err != nil {
		return nil, fmt.Errorf("sheet %d (%s): %w", of.ID, of.Name, err)
	}
	k.Supplier, k.SHA256 = of.Supplier, of.SHA256
	return k, nil
}
