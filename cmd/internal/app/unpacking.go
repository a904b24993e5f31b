package app

import (
	"context"
	"sync/atomic"

	"fitfill/importers"
)

// unpacking is a packed file that is being read: it says how far the reading has
// come, and ends it when nobody waits for it any more.
type unpacking struct {
	importers.File
	ctx        context.Context
	report     func(done, all int)
	read, said atomic.Int64
}

// reportEvery is how many bytes lie between two reports.
const reportEvery = 64 << 10

// watched opens a file through one that watches it, where it is a packed one: of
// others little is read before their rows are counted. The report, which may be
// nil, gets the kilobytes that were unpacked, and all of them in the end.
func watched(ctx context.Context, f importers.File, report func(done, all int), open func(importers.File) error) error {
	if !importers.IsPacked(f) {
		return open(f)
	}
	u := &unpacking{File: f, ctx: ctx, report: report}
	err := open(u)
	if report != nil {
		report(u.kilobytes(), u.kilobytes())
	}
	if err != nil && ctx.Err() != nil {
		return context.Cause(ctx) // not what the reader made of it
	}
	return err
}

func (u *unpacking) kilobytes() int { return int((u.Size() + 999) / 1000) }

// ReadAt reads on, unless the context is done.
func (u *unpacking) ReadAt(b []byte, off int64) (int, error) {
	if u.ctx.Err() != nil {
		return 0, context.Cause(u.ctx)
	}
	n, err := u.File.ReadAt(b, off)
	read := u.read.Add(int64(n))
	if said := u.said.Load(); u.report != nil && read-said >= reportEvery && u.said.CompareAndSwap(said, read) {
		u.report(min(int(read/1000), u.kilobytes()-1), u.kilobytes())
	}
	return n, err
}
