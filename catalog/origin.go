package catalog

// Origin says where a fact was read: the sheet, the SHA-256 of the file's
// bytes, the physical line (1 is the first line of the file) and the text of
// that line as it stands in the file. The zero Origin is "nowhere".
type Origin struct {
	Sheet    string // file name as given at import
	SHA256   string // hex digest of the whole file
	Supplier string // whose sheet it is; the garage's own sheets have none
	Line     int
	Text     string
}

// Known reports whether the origin names a place.
func (o Origin) Known() bool { return o.Sheet != "" && o.Line > 0 }

// Stated is a value that a sheet may or may not have stated. The zero value
// is "not stated", which is never the same as zero.
type Stated[T any] struct {
	Value  T
	Text   string // the cell as it was written
	Origin Origin
	Known  bool
}

// Say builds a stated value.
func Say[T any](v T, text string, o Origin) Stated[T] {
	return Stated[T]{Value: v, Text: text, Origin: o, Known: true}
}

// Or returns the value, or other where nothing was stated.
func (s Stated[T]) Or(other T) T {
	if s.Known {
		return s.Value
	}
	return other
}
