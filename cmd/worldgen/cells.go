package main

import (
	"bufio"
	"bytes"
	"io"
)

// cells writes a table of separated values and counts its lines.
type cells struct {
	out    *bufio.Writer
	sep    byte
	quoted bool
	line   int // lines written
	row    []byte
	some   bool // the row has a cell
}

func newCells(w io.Writer, sep byte, quoted bool) *cells {
	return &cells{out: bufio.NewWriterSize(w, 1<<16), sep: sep, quoted: quoted}
}

// text adds a cell.
func (c *cells) text(s string) { c.row = c.quote(c.next(), []byte(s)) }

// bytes adds a cell.
func (c *cells) bytes(b []byte) { c.row = c.quote(c.next(), b) }

// raw adds cells that are written already.
func (c *cells) raw(b []byte) { c.row = append(c.next(), b...) }

func (c *cells) next() []byte {
	if c.some {
		c.row = append(c.row, c.sep)
	}
	c.some = true
	return c.row
}

func (c *cells) quote(row, b []byte) []byte {
	if !c.quoted && bytes.IndexByte(b, c.sep) < 0 && bytes.IndexByte(b, '"') < 0 {
		return append(row, b...)
	}
	row = append(row, '"')
	for _, x := range b {
		if x == '"' {
			row = append(row, '"')
		}
		row = append(row, x)
	}
	return append(row, '"')
}

// end ends the line.
func (c *cells) end() error {
	c.row = append(c.row, '\n')
	_, err := c.out.Write(c.row)
	c.row, c.some = c.row[:0], false
	c.line++
	return err
}

// all writes a whole line.
func (c *cells) all(texts ...string) error {
	for _, t := range texts {
		c.text(t)
	}
	return c.end()
}
