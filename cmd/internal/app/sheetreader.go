package app

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"

	"fitfill/cmd/internal/heap"
	"fitfill/importers"
)

// largeSheet is the size from which a sheet is read from where it lies.
const largeSheet = 4 << 20

// sheetReader opens the sheet of one import, as often as it takes to know how it is
// to be read, and takes away in the end what that needed.
type sheetReader struct {
	shop    *Shop
	name    string
	file    importers.File
	ctx     context.Context // the import's, which ends the unpacking too
	report  func(done, all int)
	closers []io.Closer
}

// readerOf returns the reader for the sheet of an import.
func (s *Shop) readerOf(ctx context.Context, q ImportQuestion) (*sheetReader, error) {
	r := &sheetReader{shop: s, name: q.Name, file: q.content(), ctx: ctx, report: q.Unpacking}
	if q.File == nil || q.File.Size() <= largeSheet {
		return r, nil
	}
	if err := importers.CheckSize(q.Name, q.File.Size(), q.Settings); err != nil {
		return nil, err
	}
	copied, closer, err := s.ownCopy(q.File)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be copied to the data folder: make room on the disk: %w", q.Name, err)
	}
	r.file, r.closers = copied, append(r.closers, closer)
	return r, nil
}

// hugeSheet is the size from which what is known of the records of a sheet takes as
// much memory as the rest, and the collector is to add less on top. It costs a fifth
// of the processor time, which smaller sheets are spared.
const hugeSheet = 128 << 20

// whileReading is the collector's pace while the sheet is read, until the function
// that it returns is called.
func whileReading(f importers.File) (usual func()) {
	if f.Size() <= hugeSheet {
		return func() {}
	}
	return heap.Reading()
}

// longStage is the size from which a sheet leaves so much behind while it is staged and
// its index is built that the collector is to add less on top.
const longStage = 32 << 20

// whileStaging is the collector's pace from the first row on, until the function that it
// returns is called. What stays is tables of numbers, which are quickly gone through.
func whileStaging(f importers.File) (usual func()) {
	if f.Size() <= longStage {
		return func() {}
	}
	return heap.Reading()
}

func (r *sheetReader) open(settings map[string]string) (sheet *importers.Sheet, err error) {
	err = watched(r.ctx, r.file, r.report, func(f importers.File) error {
		sheet, err = importers.OpenFile(r.shop.whole(), r.name, f, r.shop.scratch, settings)
		return err
	})
	if err == nil {
		r.closers = append(r.closers, sheet)
	}
	return sheet, err
}

// sha256 is the digest of the file as it was sent, whatever it is packed in.
func (r *sheetReader) sha256() (string, error) {
	h := sha256.New()
	if _, err := io.Copy(h, io.NewSectionReader(r.file, 0, r.file.Size())); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

func (r *sheetReader) Close() error {
	var errs []error
	for _, c := range r.closers {
		errs = append(errs, c.Close())
	}
	return errors.Join(errs...)
}

// content is the sheet as it was sent.
func (q ImportQuestion) content() importers.File {
	if q.File != nil {
		return q.File
	}
	return bytes.NewReader(q.Raw)
}
