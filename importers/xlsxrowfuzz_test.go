package importers

import (
	"encoding/xml"
	"fmt"
	"strings"
	"testing"
)

// standardWorksheet is a worksheet as the standard library's decoder reads it.
type standardWorksheet struct {
	Data []struct {
		Rows []struct {
			Hidden string         `xml:"hidden,attr"`
			Cells  []standardCell `xml:"c"`
		} `xml:"row"`
	} `xml:"sheetData"`
}

type standardCell struct {
	Place   string   `xml:"r,attr"`
	Kind    string   `xml:"t,attr"`
	Value   []string `xml:"v"`
	Formula []string `xml:"f"`
	Inline  []struct {
		Text []string `xml:"t"`
		Runs []struct {
			Text []string `xml:"t"`
		} `xml:"r"`
	} `xml:"is"`
}

// says returns what a cell states; not ok where it says so twice, of which no
// workbook says what counts.
func (c standardCell) says() (text string, ok bool) {
	kind, _ := cellKind([]byte(c.Kind))
	value, formula := strings.Join(c.Value, ""), strings.Join(c.Formula, "")
	stated := len(c.Value) > 0
	for _, in := range c.Inline {
		if len(in.Text) > 0 && len(in.Runs) > 0 {
			return "", false
		}
		stated = stated || len(in.Text) > 0
		value += strings.Join(in.Text, "")
		for _, r := range in.Runs {
			stated = stated || len(r.Text) > 0
			value += strings.Join(r.Text, "")
		}
	}
	return fmt.Sprintf(" %d %v %q %v %q", kind, stated, value, len(c.Formula) > 0, formula), len(c.Value)+len(c.Inline) < 2 && len(c.Formula) < 2
}

// sameWorksheet checks that the rows of a worksheet are those that the standard
// library reads: each with its cells' values, formulas and kinds.
func sameWorksheet(t *testing.T, text string) {
	t.Helper()
	if _, err := standardTraceOf([]byte(text)); err != nil || strings.Contains(text, ":") {
		return // names with prefixes are matched by their whole name there
	}
	var got strings.Builder
	var p page
	err := p.read(strings.NewReader(text), func(r *sheetRow) error {
		fmt.Fprintf(&got, "%v", r.hidden)
		for i := range r.cells {
			c := &r.cells[i]
			fmt.Fprintf(&got, " %d %v %q %v %q", c.kind, c.value, r.stated(c), c.formula, r.written(c))
		}
		got.WriteByte('\n')
		return nil
	})
	if err != nil {
		return // its places contradict each other, or its kinds are unknown
	}
	var want standardWorksheet
	if err := xml.Unmarshal([]byte(text), &want); err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	var is strings.Builder
	for _, d := range want.Data {
		for _, r := range d.Rows {
			fmt.Fprintf(&is, "%v", truth([]byte(r.Hidden)))
			column := -1
			for _, c := range r.Cells {
				before := column
				if column++; c.Place != "" {
					column, _ = cellColumn([]byte(c.Place))
				}
				says, ok := c.says()
				if !ok || column <= before { // cells out of order are put into it
					return
				}
				is.WriteString(says)
			}
			is.WriteByte('\n')
		}
	}
	if got.String() != is.String() {
		t.Errorf("%q:\n%s\nwant\n%s", text, got.String(), is.String())
	}
}

var worksheets = []string{
	`<worksheet><sheetData><row r="1" hidden="1"><c r="A1" t="s"><v>0</v></c><c r="B1" s="4"><v>1.5</v></c></row></sheetData></worksheet>`,
	`<worksheet><sheetData><row><c t="inlineStr"><is><t>a &amp; b</t></is></c><c t="inlineStr"><is><t xml-space="x">c</t></is></c></row></sheetData></worksheet>`,
	`<worksheet><sheetData><row><c t="inlineStr"><is><r><t>a</t></r><r><b/><t> b</t></r></is></c><c><f>A1</f><v>2</v></c><c t="b"/></row><row r="7"/></sheetData></worksheet>`,
	`<worksheet><sheetData><row><c><v>1<!-- x -->2<![CDATA[3]]></v></c><c><v></v></c><c><v/></c><c><f/></c></row></sheetData><mergeCells><mergeCell ref="A1:B2"/></mergeCells></worksheet>`,
}

func TestWorksheetIsReadAsTheStandardLibraryReadsIt(t *testing.T) {
	for _, text := range worksheets {
		sameWorksheet(t, text)
	}
}

func FuzzWorksheet(f *testing.F) {
	for _, text := range worksheets {
		f.Add(text)
	}
	f.Fuzz(sameWorksheet)
}
