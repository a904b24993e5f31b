package importers

import (
	"errors"
	"io"
)

// textWriter takes a text in: into memory while it is short, from then on into a
// scratch file. It must be closed when the text is no longer needed.
type textWriter struct {
	storage
	buf     []byte
	file    ScratchFile
	written int // bytes in the file
	err     error
}

// flushBytes is how much is written to a scratch file at once.
const flushBytes = 256 << 10

func newTextWriter(st storage) *textWriter { return &textWriter{storage: st} }

// Write adds to the text.
func (w *textWriter) Write(b []byte) (int, error) {
	if w.err != nil {
		return 0, w.err
	}
	w.buf = append(w.buf, b...)
	most := w.keep
	if w.file != nil {
		most = flushBytes
	}
	if w.scratch != nil && len(w.buf) > most {
		w.flush()
	}
	return len(b), w.err
}

func (w *textWriter) flush() {
	if w.file == nil {
		if w.file, w.err = w.scratch(); w.err != nil {
			return
		}
	}
	var n int
	n, w.err = w.file.Write(w.buf)
	w.written += n
	if w.buf = w.buf[:0]; cap(w.buf) > 2*flushBytes {
		w.buf = nil
	}
}

// text returns what was written. Nothing may be written afterwards.
func (w *textWriter) text() (*text, error) {
	if w.err == nil && w.file != nil && len(w.buf) > 0 {
		w.flush()
	}
	switch {
	case w.err != nil:
		return nil, errors.Join(errors.New("the text of the sheet cannot be kept: make room on the disk"), w.err)
	case w.file == nil:
		return textOf(w.buf), nil
	}
	return &text{file: w.file, size: w.written, storage: w.storage}, nil
}

// Close takes the scratch file away, if there is one.
func (w *textWriter) Close() error {
	if w.file == nil {
		return nil
	}
	return w.file.Close()
}

var _ io.WriteCloser = (*textWriter)(nil)
