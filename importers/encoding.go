package importers

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"sync"
	"unicode/utf8"
)

var (
	markUTF8    = []byte("\xEF\xBB\xBF")
	markUTF32LE = []byte("\xFF\xFE\x00\x00")
	markUTF32BE = []byte("\x00\x00\xFE\xFF")
	markUTF16LE = []byte("\xFF\xFE")
	markUTF16BE = []byte("\xFE\xFF")
)

const saveAsUTF8 = "save or export the sheet as CSV in UTF-8 and import it again"

// readText decides the encoding and sets the sheet's text: a byte order mark
// decides; then zero bytes beside letters mean UTF-16; then a file that is
// valid UTF-8 as a whole is UTF-8; then the setting decides; and at last it is
// Windows-1252 with a question, or UTF-8 with damaged lines where most lines
// with such letters are UTF-8.
func (s *Sheet) readText(settings Settings) error {
	var group sync.WaitGroup
	group.Go(func() { s.SHA256 = s.raw.sha256() })
	s.tail = s.raw.endMarks()
	s.seen = s.raw.survey(s.tail)
	group.Wait()
	head, asked := s.raw.head(headBytes), encodingKey(settings["encoding"])
	switch {
	case bytes.HasPrefix(head, markUTF32LE), bytes.HasPrefix(head, markUTF32BE):
		return fmt.Errorf("%s looks like text in UTF-32: %s", s.Name, saveAsUTF8)
	case asked == twiceName && s.seen.valid:
		s.encoded(twiceName, len(head)-len(bytes.TrimPrefix(head, markUTF8)), "it was chosen")
	case bytes.HasPrefix(head, markUTF8):
		s.encoded(utf8Name, len(markUTF8), "a byte order mark stands in front")
	case bytes.HasPrefix(head, markUTF16LE):
		s.encoded(utf16LEName, len(markUTF16LE), "a byte order mark stands in front")
	case bytes.HasPrefix(head, markUTF16BE):
		s.encoded(utf16BEName, len(markUTF16BE), "a byte order mark stands in front")
	case zeroParity(head) != "":
		s.encoded(zeroParity(head), 0, "every other byte is zero, as in UTF-16 without a mark")
	case s.seen.valid:
		s.encoded(utf8Name, 0, "the whole file is valid UTF-8")
	case asked != "" && asked != twiceName:
		s.encoded(asked, 0, "it was chosen")
	default:
		s.guessEncoding()
	}
	if err := s.decode(); err != nil {
		return err
	}
	s.damaged = s.Encoding == utf8Name && !s.seen.valid || s.seen.replacement || s.Encoding != utf8Name && s.seen.controlLetter
	s.findTwiceEncoded(asked == "")
	return nil
}

// sha256 returns the hex digest of the text.
func (t *text) sha256() string {
	digest := sha256.New()
	t.pass(0, func(piece []byte) bool {
		digest.Write(piece)
		return true
	})
	return hex.EncodeToString(digest.Sum(nil))
}

func (s *Sheet) encoded(name string, mark int, why string) {
	s.Encoding, s.mark = name, mark
	s.prove("encoding", name, why)
}

// decode writes the text in UTF-8, where it is not that already, and looks at it
// once more.
func (s *Sheet) decode() (err error) {
	body := s.raw.from(s.mark)
	if s.text = body; s.Encoding == utf8Name {
		return nil
	}
	w := s.newText()
	switch s.Encoding {
	case twiceName:
		encodedOnce(w, body)
	case utf16LEName, utf16BEName:
		decodeUTF16(w, body, s.Encoding == utf16BEName)
	default:
		body.pass(0, func(piece []byte) bool {
			_, err := w.Write(decodePage(piece, s.Encoding))
			return err == nil
		})
	}
	if s.text, err = w.text(); err != nil {
		return err
	}
	s.tail = s.text.endMarks()
	s.seen = s.text.survey(s.tail)
	return nil
}

// replacement is U+FFFD, which stands where somebody could not read a letter.
var replacement = []byte("\uFFFD")

// hasControlLetter finds U+0080 to U+009F, what a byte without a letter gives.
func hasControlLetter(text []byte) bool {
	for off := 0; ; {
		i := bytes.IndexByte(text[off:], 0xC2)
		if i < 0 {
			return false
		}
		if off += i + 1; off < len(text) && text[off] < 0xA0 {
			return true
		}
	}
}

// badLetters reports whether text of the sheet holds bytes that are no letter
// in the encoding of the file.
func (s *Sheet) badLetters(text []byte) bool {
	return s.damaged && (!utf8.Valid(text) || bytes.Contains(text, replacement) ||
		s.Encoding != utf8Name && hasControlLetter(text))
}

var presetLetters = sync.OnceValue(func() [256]rune { return letters(presetName) })

// readable returns text in which every byte that is not UTF-8 is read as
// Windows-1252.
func readable(text []byte) []byte {
	if utf8.Valid(text) {
		return text
	}
	table := presetLetters()
	out := make([]byte, 0, len(text)+16)
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRune(text[i:])
		if r == utf8.RuneError && n == 1 {
			r = table[text[i]]
		}
		out = utf8.AppendRune(out, r)
		i += n
	}
	return out
}

// zeroParity recognises UTF-16 without a mark: plain letters of it are valid
// UTF-8 with a zero byte beside each letter.
func zeroParity(raw []byte) string {
	sample := raw[:min(len(raw), 4096)]
	var even, odd int
	for i, b := range sample {
		if b == 0 && i%2 == 0 {
			even++
		} else if b == 0 {
			odd++
		}
	}
	switch {
	case max(even, odd)*4 <= len(sample) || min(even, odd)*8 >= max(even, odd):
		return ""
	case odd > even:
		return utf16LEName
	}
	return utf16BEName
}
