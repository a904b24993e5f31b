package cli

import (
	"fmt"
	"io"
	"os"
	"strings"
	"unicode/utf8"

	"golang.org/x/term"
)

// textWidth is the width of a page of text. Answers are read on terminals,
// printed and pasted into messages; 80 columns suit all three.
const textWidth = 80

// style marks words for the eye. It carries no meaning of its own: without a
// terminal, or with NO_COLOR set, the text is the same without the marks.
type style struct{ on bool }

func styleFor(w io.Writer) style {
	f, ok := w.(*os.File)
	return style{ok && term.IsTerminal(int(f.Fd())) && os.Getenv("NO_COLOR") == ""}
}

func (s style) strong(text string) string { return s.mark("1", text) }
func (s style) faint(text string) string  { return s.mark("2", text) }

func (s style) mark(code, text string) string {
	if !s.on || text == "" {
		return text
	}
	return "\x1b[" + code + "m" + text + "\x1b[0m"
}

// wrap breaks text into lines that are indented and no wider than textWidth.
// The first line begins with lead in place of the indent.
func wrap(lead string, indent int, text string) string {
	pad := strings.Repeat(" ", indent)
	var b strings.Builder
	line := lead
	for _, word := range strings.Fields(text) {
		switch {
		case strings.TrimSpace(line) == "" || line == lead:
			line += word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > textWidth:
			b.WriteString(line + "\n")
			line = pad + word
		default:
			line += " " + word
		}
	}
	return b.String() + line + "\n"
}

// columns prints rows as columns wide enough for their cells. Columns whose
// heading begins with > are set to the right.
func columns(w io.Writer, s style, head []string, rows [][]string) {
	width := make([]int, len(head))
	right := make([]bool, len(head))
	for i, h := range head {
		if strings.HasPrefix(h, ">") {
			head[i], right[i] = h[1:], true
		}
		width[i] = utf8.RuneCountInString(head[i])
	}
	for _, row := range rows {
		for i, cell := range row {
			width[i] = max(width[i], utf8.RuneCountInString(cell))
		}
	}
	print := func(row []string, mark func(string) string) {
		var b strings.Builder
		for i, cell := range row {
			gap := strings.Repeat(" ", width[i]-utf8.RuneCountInString(cell))
			if right[i] {
				cell = gap + cell
			} else if i < len(row)-1 {
				cell += gap
			}
			if i > 0 {
				b.WriteString("  ")
			}
			b.WriteString(cell)
		}
		fmt.Fprintln(w, mark(strings.TrimRight(b.String(), " ")))
	}
	print(head, s.faint)
	for _, row := range rows {
		print(row, func(text string) string { return text })
	}
}
