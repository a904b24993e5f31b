package importers

import (
	"archive/zip"
	"encoding/xml"
	"fmt"
	"io"
	"path"
	"strings"
)

// findPart returns a part of a workbook by its name, whatever its capitals.
func findPart(z *zip.Reader, name string) *zip.File {
	for _, f := range z.File {
		if strings.EqualFold(strings.TrimPrefix(strings.ReplaceAll(f.Name, `\`, "/"), "/"), name) {
			return f
		}
	}
	return nil
}

// mostFrame bounds a part that says what the workbook is made of or how it shows
// its numbers.
const mostFrame = 64 << 20

// decodePart reads a small part whole, to its end, where its check sum stands.
func decodePart(z *zip.Reader, name string, into any) error {
	f := findPart(z, name)
	if f == nil {
		return fmt.Errorf("the part %s is missing", name)
	}
	if f.UncompressedSize64 > mostFrame {
		return fmt.Errorf("the part %s is larger than %s", name, sizeText(mostFrame))
	}
	r, err := f.Open()
	if err != nil {
		return err
	}
	defer r.Close()
	if err := xml.NewDecoder(r).Decode(into); err != nil {
		return err
	}
	_, err = io.Copy(io.Discard, r)
	return err
}

// relationList says which other parts the workbook is made of.
type relationList []struct {
	ID     string `xml:"Id,attr"`
	Type   string `xml:"Type,attr"`
	Target string `xml:"Target,attr"`
}

const relationsPart = "xl/_rels/workbook.xml.rels"

func relations(z *zip.Reader) (relationList, error) {
	var rels struct {
		List relationList `xml:"Relationship"`
	}
	err := decodePart(z, relationsPart, &rels)
	for i, r := range rels.List {
		if strings.HasPrefix(r.Target, "/") {
			rels.List[i].Target = r.Target[1:]
		} else {
			rels.List[i].Target = path.Join("xl", r.Target)
		}
	}
	return rels.List, err
}

// target returns the first part of a kind, empty if there is none. Kinds are told
// by the end of their names, which is the same in both forms of the standard.
func (l relationList) target(kind string) string {
	for _, r := range l {
		if strings.HasSuffix(r.Type, kind) {
			return r.Target
		}
	}
	return ""
}

// bookSheet is what a workbook says of one of its sheets.
type bookSheet struct {
	name   string
	part   string // that holds it; empty where it is no worksheet but a page of charts
	hidden bool
}

// outline is the main part of a workbook (ISO/IEC 29500-1, 18.2.27 workbook).
type outline struct {
	XMLName    xml.Name
	Properties struct {
		From1904 bool `xml:"date1904,attr"`
	} `xml:"workbookPr"`
	Sheets []struct {
		Name  string `xml:"name,attr"`
		State string `xml:"state,attr"`
		ID    string `xml:"http://schemas.openxmlformats.org/officeDocument/2006/relationships id,attr"`
		Old   string `xml:"http://purl.oclc.org/ooxml/officeDocument/relationships id,attr"` // the strict form
	} `xml:"sheets>sheet"`
}

func readOutline(z *zip.Reader) (*outline, error) {
	var o outline
	if err := decodePart(z, workbookPart, &o); err != nil {
		return nil, err
	}
	switch o.XMLName {
	case xml.Name{Space: "http://schemas.openxmlformats.org/spreadsheetml/2006/main", Local: "workbook"},
		xml.Name{Space: "http://purl.oclc.org/ooxml/spreadsheetml/main", Local: "workbook"}: // the strict form
		return &o, nil
	}
	return nil, fmt.Errorf("the part %s begins with <%s>, which is no workbook's name", workbookPart, o.XMLName.Local)
}

// sheets returns the sheets in the workbook's order.
func (o *outline) sheets(rels relationList) []bookSheet {
	target := map[string]string{}
	for _, r := range rels {
		if strings.HasSuffix(r.Type, "/worksheet") {
			target[r.ID] = r.Target
		}
	}
	var list []bookSheet
	for _, s := range o.Sheets {
		id := s.ID
		if id == "" {
			id = s.Old
		}
		list = append(list, bookSheet{name: s.Name, part: target[id], hidden: s.State != "" && s.State != "visible"})
	}
	return list
}
