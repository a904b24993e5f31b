package importers

import (
	"io"
	"maps"
	"slices"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// The encodings that have a rule of their own.
const (
	utf8Name    = "utf-8"
	utf16LEName = "utf-16le"
	utf16BEName = "utf-16be"
	presetName  = "windows-1252"
	twiceName   = "utf-8-twice" // UTF-8 whose letters were read as Windows-1252 and encoded once more
)

// codePages are the encodings of one byte a letter that a person may choose.
var codePages = map[string]*charmap.Charmap{
	presetName: charmap.Windows1252, "windows-1250": charmap.Windows1250, "windows-1251": charmap.Windows1251,
	"windows-1253": charmap.Windows1253, "windows-1254": charmap.Windows1254, "windows-1257": charmap.Windows1257,
	"iso-8859-1": charmap.ISO8859_1, "iso-8859-2": charmap.ISO8859_2, "iso-8859-15": charmap.ISO8859_15,
	"dos-437": charmap.CodePage437, "dos-850": charmap.CodePage850, "dos-852": charmap.CodePage852,
	"macroman": charmap.Macintosh,
}

// suggestedPages are shown side by side where the encoding is a question. The
// first is the preset.
var suggestedPages = []string{presetName, "windows-1250", "iso-8859-2", "dos-850", "macroman"}

// encodingKey is the name of an encoding as it is compared: "UTF 8", "cp1250"
// and "Windows1250" are known too.
func encodingKey(name string) string {
	key := strings.ToLower(strings.NewReplacer("-", "", "_", "", " ", "").Replace(name))
	for _, known := range append(slices.Collect(maps.Keys(codePages)), utf8Name, twiceName, utf16LEName, utf16BEName) {
		plain := strings.ReplaceAll(known, "-", "")
		number := strings.TrimLeft(plain, "abcdefghijklmnopqrstuvwxyz")
		if key == plain || key == "cp"+number && !strings.HasPrefix(plain, "iso") && !strings.HasPrefix(plain, "utf") {
			return known
		}
	}
	return ""
}

func encodingNames() []string {
	return append([]string{utf8Name, twiceName, utf16LEName, utf16BEName}, slices.Sorted(maps.Keys(codePages))...)
}

// letters is what each byte means in a code page. A byte without a letter is
// the control character of its number, which no sheet contains.
func letters(page string) (table [256]rune) {
	for i := range table {
		r := codePages[page].DecodeByte(byte(i))
		if r == utf8.RuneError {
			r = rune(i)
		}
		table[i] = r
	}
	return table
}

// decodePage reads bytes in a code page as UTF-8, one letter for each byte.
func decodePage(raw []byte, page string) []byte {
	table := letters(page)
	text := make([]byte, 0, len(raw)+len(raw)/16+8)
	for _, b := range raw {
		if b < utf8.RuneSelf {
			text = append(text, b)
			continue
		}
		text = utf8.AppendRune(text, table[b])
	}
	return text
}

// decodeUTF16 writes UTF-16 as UTF-8. Half a pair and an odd byte at the end
// become U+FFFD.
func decodeUTF16(w io.Writer, t *text, bigEndian bool) {
	var rest []byte
	t.pass(0, func(piece []byte) bool {
		rest = append(rest, piece...)
		n := len(rest) &^ 1
		if n > 0 && utf16Unit(rest[n-2:], bigEndian)>>10 == 0xD800>>10 {
			n -= 2 // the other half of the pair is still to come
		}
		_, err := w.Write(utf8Of(rest[:n], bigEndian))
		rest = append(rest[:0], rest[n:]...)
		return err == nil
	})
	_, _ = w.Write(utf8Of(rest, bigEndian)) // the writer keeps its error
}

func utf16Unit(b []byte, bigEndian bool) rune {
	if bigEndian {
		return rune(b[0])<<8 | rune(b[1])
	}
	return rune(b[1])<<8 | rune(b[0])
}

func utf8Of(raw []byte, bigEndian bool) []byte {
	text := make([]byte, 0, len(raw)/2+len(raw)/8+8)
	unit := func(i int) rune { return utf16Unit(raw[i:], bigEndian) }
	i := 0
	for ; i+1 < len(raw); i += 2 {
		r := unit(i)
		if utf16.IsSurrogate(r) {
			pair := rune(utf8.RuneError)
			if i+3 < len(raw) {
				pair = utf16.DecodeRune(r, unit(i+2))
			}
			if r = pair; r != utf8.RuneError {
				i += 2
			}
		}
		text = utf8.AppendRune(text, r)
	}
	if i < len(raw) {
		text = utf8.AppendRune(text, utf8.RuneError)
	}
	return text
}

// sourceLength returns how many bytes of the file a stretch of decoded text
// takes.
func sourceLength(text []byte, encoding string) int64 {
	switch encoding {
	case utf8Name:
		return int64(len(text))
	case utf16LEName, utf16BEName:
		n := 0
		for i := 0; i < len(text); {
			_, size := utf8.DecodeRune(text[i:])
			if n += 2; size == 4 {
				n += 2
			}
			i += size
		}
		return int64(n)
	}
	return int64(utf8.RuneCount(text))
}
