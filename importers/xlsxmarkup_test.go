package importers

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
	"testing"
	"testing/iotest"
)

// traceOf writes down what a document holds, element by element, as read here.
func traceOf(r io.Reader) (string, error) {
	x := newMarkup(r)
	var out strings.Builder
	for {
		taking := x.depth
		if taking == 0 {
			taking = -1
		}
		if x.text = x.text[:0]; !x.step(taking) {
			return out.String(), x.err
		}
		fmt.Fprintf(&out, "%q", x.text)
		if !x.opened {
			out.WriteString(">")
			continue
		}
		fmt.Fprintf(&out, "<%s", x.name)
		for _, a := range x.attrs {
			if name := string(x.tag[a.name:a.nameEnd]); !strings.Contains(name, ":") {
				fmt.Fprintf(&out, " %s=%q", name, x.attr(name))
			}
		}
	}
}

var errUnread = errors.New("no part of a workbook is written like that")

// standardTraceOf does the same with the standard library's decoder. What is left
// to it alone (document types, more than one outermost element, characters that
// are none) is errUnread.
func standardTraceOf(raw []byte) (string, error) {
	d := xml.NewDecoder(bytes.NewReader(raw))
	var out, text strings.Builder
	depth, outermost := 0, 0
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) && outermost == 0 {
			return "", errUnread
		}
		if errors.Is(err, io.EOF) {
			return out.String(), nil
		}
		if err != nil {
			return out.String(), err
		}
		switch e := token.(type) {
		case xml.StartElement:
			fmt.Fprintf(&out, "%q<%s", text.String(), e.Name.Local)
			text.Reset()
			seen := map[string]bool{}
			for _, a := range e.Attr {
				if strings.Contains(a.Value, "\uFFFD") {
					return "", errUnread
				}
				if a.Name.Space != "" || strings.Contains(a.Name.Local, ":") || seen[a.Name.Local] {
					if seen[a.Name.Local] {
						return "", errUnread
					}
					continue
				}
				seen[a.Name.Local] = true
				fmt.Fprintf(&out, " %s=%q", a.Name.Local, a.Value)
			}
			if depth++; depth == 1 {
				outermost++
			}
			if depth > deepestMarkup || outermost > 1 {
				return "", errUnread
			}
		case xml.EndElement:
			fmt.Fprintf(&out, "%q>", text.String())
			text.Reset()
			depth--
		case xml.CharData:
			if depth > 0 {
				text.Write(e)
			}
			if bytes.Contains(e, []byte("\uFFFD")) {
				return "", errUnread
			}
		case xml.Directive:
			return "", errUnread
		case xml.ProcInst:
			if spacedLetters.Match(e.Inst) {
				return "", errUnread
			}
		}
	}
}

// spacedLetters is a declaration whose letters the library overlooks.
var spacedLetters = regexp.MustCompile(`encoding([ \t\r\n]+=|=[ \t\r\n]+)`)

// sameAsStandard checks that what the standard library reads is read the same
// here, whatever the size of the pieces in which it arrives.
func sameAsStandard(t *testing.T, raw []byte) {
	t.Helper()
	want, err := standardTraceOf(raw)
	for name, r := range map[string]io.Reader{"whole": bytes.NewReader(raw), "byte by byte": iotest.OneByteReader(bytes.NewReader(raw))} {
		got, ours := traceOf(r)
		if err == nil && (ours != nil || got != want) {
			t.Errorf("%s, %q:\n%s, %v\nwant\n%s", name, raw, got, ours, want)
		}
	}
}

var markups = []string{
	`<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\r\n" + `<worksheet xmlns="http://x" xmlns:r='y'><cols><col min="1" max="2" hidden="1"/></cols></worksheet>`,
	`<x:a x:r="1" r = "2"  s='a"b>c'><x:b>one &lt;two&gt; &amp;&#38;&#x26; three</x:b ></x:a>`,
	"<a>line\r\nend\rand\n<![CDATA[ <raw> & \r\n]]]]><!-- <b> -- > -->tail<?go on?>end</a>",
	`<a><b/><b /><c d=""/>&quot;&apos;</a>` + "\n",
	"\ufeff<a>Größe ½ 𝄞</a>",
	`<a>&nbsp;</a>`, `<a><b></a></b>`, `<a`, `<a>`, `<a b=c/>`, `<a b="<"/>`, "<a>\x00</a>", "<a>\xff</a>", `<a>&#0;</a>`, `<a>&#xD800;</a>`,
	`<?xml version="1.0" encoding="iso-8859-1"?><a/>`, `<!DOCTYPE a><a/>`, `<a/><b/>`, `</a>`, ``, `<>`, `<:a/>`, `<a:/>`,
	`<?xml ="1.0" encodingo-8859-1"?><a/>`, `<?xml version='1.0' encoding='utf-8'?><a/>`, `<?xml encoding=encoding="x"?><a/>`,
	`<a>` + strings.Repeat("x", 3*markupWindow) + `<b c="` + strings.Repeat("y", 2*markupWindow) + `"/></a>`,
}

func TestMarkupIsReadAsTheStandardLibraryReadsIt(t *testing.T) {
	for _, text := range markups {
		sameAsStandard(t, []byte(text))
	}
}

// What is not well formed, or cut off anywhere, is never taken for whole.
func TestMarkupThatIsDamagedIsRefused(t *testing.T) {
	whole := `<a b="1">x<c/><![CDATA[y]]><!-- z --><d>&amp;</d></a>`
	for i := range whole {
		if got, err := traceOf(strings.NewReader(whole[:i])); err == nil {
			t.Errorf("%q is read as %s", whole[:i], got)
		}
	}
	for _, text := range []string{
		`<a>&nbsp;</a>`, `<a><b></a></b>`, `<a b=c/>`, `<a b="<"/>`, "<a>\x00</a>", "<a>\xff</a>", `<a>&#0;</a>`, `<a>&#xD800;</a>`, `<a>&#x110000;</a>`,
		`<?xml version="1.0" encoding="iso-8859-1"?><a/>`, `<?xml version = "1.0" encoding = 'latin1' ?><a/>`, `<?xml encoding="UTF-16"?><a/>`,
		`<!DOCTYPE a><a/>`, `<a/><b/>`, `</a>`, ``, `<>`, `<a/ >`, `<a b/>`, `<a>& </a>`,
		strings.Repeat("<a>", deepestMarkup+1) + strings.Repeat("</a>", deepestMarkup+1),
	} {
		if got, err := traceOf(strings.NewReader(text)); err == nil {
			t.Errorf("%q is read as %s", text, got)
		}
	}
	long := io.MultiReader(strings.NewReader("<a>"), strings.NewReader(strings.Repeat("x", 2*longestMarkup)), strings.NewReader("</a>"))
	if _, err := traceOf(long); err == nil || !strings.Contains(err.Error(), "16 MiB") {
		t.Errorf("%v", err)
	}
	if _, err := traceOf(io.MultiReader(strings.NewReader(whole), iotest.ErrReader(io.ErrUnexpectedEOF))); !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("an archive that is damaged behind the last element: %v", err)
	}
}

func FuzzMarkup(f *testing.F) {
	for _, text := range markups {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, raw []byte) { sameAsStandard(t, raw) })
}
