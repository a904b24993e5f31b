package importers

import (
	"bytes"
)

// sampleRows is how many records decide about separator and heading row.
const sampleRows = 1000

// delimiters are tried in this order; on a tie the earlier one wins.
var delimiters = []byte{',', ';', '\t', '|'}

// chooseDelimiter returns the separator, the usual number of cells of a row,
// and whether the first line is the hint "sep=;" that some spreadsheets write.
//
// Each candidate's score is the share of sampled rows that have its most common
// width W, times (W−1)/W, so that one bad row never decides and a comma inside
// every price does not beat the real separator; known headings in one row add
// to it.
func chooseDelimiter(voc *vocabulary, text []byte, settings Settings) (delim byte, width int, hint bool) {
	first, _, _ := bytes.Cut(text, []byte("\n"))
	first = bytes.ToLower(bytes.Trim(first, "\r\" "))
	if rest, ok := bytes.CutPrefix(first, []byte("sep=")); ok && len(rest) == 1 {
		hint = true
	}
	if d, ok := separators[settings["separator"]]; ok {
		_, width = delimiterScore(voc, text, d)
		return d, width, hint
	}
	if hint {
		d := first[len(first)-1]
		_, width = delimiterScore(voc, text, d)
		return d, width, true
	}
	best := -1.0
	for _, d := range delimiters {
		score, w := delimiterScore(voc, text, d)
		if score > best {
			best, delim, width = score, d, w
		}
	}
	return delim, width, false
}

func delimiterScore(voc *vocabulary, text []byte, delim byte) (score float64, width int) {
	sp := &splitter{raw: text, delim: delim, nextLF: -1}
	widths := map[int]int{}
	rows, known := 0, 0
	var cells []string
	for off := 0; off < len(text) && rows < sampleRows; {
		r := sp.next(off, 1)
		line := bytes.TrimRight(text[off:off+int(r.Length)], "\r\n")
		off += int(r.Length)
		if len(bytes.TrimSpace(bytes.ReplaceAll(line, []byte{delim}, nil))) == 0 {
			continue
		}
		rows++
		widths[int(r.Width)]++
		if rows <= headingRows {
			cells = splitCells(string(line), delim, r.Fault != NoFault, cells[:0])
			known = max(known, voc.knownHeadings(cells))
		}
	}
	width = 1
	for w, n := range widths {
		if n > widths[width] || n == widths[width] && w > width {
			width = w
		}
	}
	if rows == 0 {
		return 0, 1
	}
	share := float64(widths[width]) / float64(rows)
	score = share * float64(width-1) / float64(width)
	if known > 1 {
		score += float64(known) / float64(known+1)
	}
	return score, width
}
