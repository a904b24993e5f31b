package importers

import "unsafe"

// view is a text of the sheet without a copy of its bytes, which nobody changes
// after Open. A copy of every cell would double the time of reading.
func view(text []byte) string { return unsafe.String(unsafe.SliceData(text), len(text)) }
