package sqlite

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"reflect"
)

// record is a row of a query, of whatever handle it was asked.
type record interface{ Scan(to ...any) error }

// rows are the rows of a query, one of which is at hand.
type rows interface {
	record
	Next() bool
	Err() error
	Close() error
}

// cursor walks through the rows of a query on a connection of the driver's own.
// The pool's rows lock, watch and convert for each of them, which takes longer
// than most rows take to read.
type cursor struct {
	ctx  context.Context // that of whoever waits for the rows
	rows driver.Rows
	at   []driver.Value
	err  error
}

// ask asks for the rows of a statement. asking is the context that the database
// looks at while it looks for the first row.
func ask(ctx, asking context.Context, st driver.Stmt, args []any) (*cursor, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	values, err := named(args)
	if err != nil {
		return nil, err
	}
	rows, err := st.(driver.StmtQueryContext).QueryContext(asking, values)
	if err != nil {
		return nil, err
	}
	return &cursor{ctx: ctx, rows: rows, at: make([]driver.Value, len(rows.Columns()))}, nil
}

// named are the arguments of a statement as the driver takes them.
func named(args []any) ([]driver.NamedValue, error) {
	values := make([]driver.NamedValue, len(args))
	for i, arg := range args {
		v, err := driver.DefaultParameterConverter.ConvertValue(arg)
		if err != nil {
			return nil, fmt.Errorf("argument %d of a query: %w", i+1, err)
		}
		values[i] = driver.NamedValue{Ordinal: i + 1, Value: v}
	}
	return values, nil
}

// Next goes to the next row; false where there is none, or where Err says why not.
func (c *cursor) Next() bool {
	if c.err == nil {
		if c.err = c.ctx.Err(); c.err == nil {
			c.err = c.rows.Next(c.at)
		}
	}
	return c.err == nil
}

// Err returns what ended the rows before their end.
func (c *cursor) Err() error {
	if errors.Is(c.err, io.EOF) {
		return nil
	}
	return c.err
}

// Close ends reading; it may be asked for again.
func (c *cursor) Close() error {
	if c.rows == nil {
		return nil
	}
	err := c.rows.Close()
	c.rows, c.err = nil, io.EOF
	return err
}

// number returns column i, 0 where it is null or no number.
func (c *cursor) number(i int) int64 {
	n, _ := c.at[i].(int64)
	return n
}

// text returns column i, empty where it is null or no text.
func (c *cursor) text(i int) string {
	text, _ := c.at[i].(string)
	return text
}

// Scan puts the columns into the places that to points to. A null goes only
// where one can be told from other values.
func (c *cursor) Scan(to ...any) error {
	if len(to) != len(c.at) {
		return fmt.Errorf("%d places for the %d columns of a row", len(to), len(c.at))
	}
	for i, place := range to {
		if !put(place, c.at[i]) {
			return fmt.Errorf("column %d of a row, a %T, does not go into a %T", i+1, c.at[i], place)
		}
	}
	return nil
}

// put puts a value into a place, and reports whether it goes there.
func put(place any, v driver.Value) bool {
	n, number := v.(int64)
	text, isText := v.(string)
	switch place := place.(type) {
	case *int64:
		if number {
			*place = n
		}
		return number
	case *int:
		*place = int(n)
		return number && int64(int(n)) == n
	case *string:
		if isText {
			*place = text
		}
		return isText
	case *[]byte:
		data, ok := v.([]byte)
		*place = data
		return ok || v == nil
	case *any:
		*place = v
		return true
	case *sql.NullInt64:
		*place = sql.NullInt64{Int64: n, Valid: number}
		return number || v == nil
	}
	to := reflect.ValueOf(place).Elem() // of a type with a name of its own, or narrower
	switch {
	case isText && to.Kind() == reflect.String:
		to.SetString(text)
	case number && to.Kind() == reflect.Bool:
		to.SetBool(n != 0)
	case number && to.CanInt() && !to.OverflowInt(n):
		to.SetInt(n)
	default:
		return false
	}
	return true
}
