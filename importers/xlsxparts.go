package importers

import (
	"archive/zip"
	"bytes"
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

// decodePart reads a small part whole.
func decodePart(z *zip.Reader, name string, into any) error {
	f := findPart(z, name)
	if f == nil {
		return fmt.Errorf("the part %s is missing", name)
	}
	r, err := f.Open()
	if err != nil {
		return err
	}
	defer r.Close()
	return xml.NewDecoder(io.LimitReader(r, mostFrame)).Decode(into)
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

// worksheetParts returns the part that holds each worksheet.
func worksheetParts(z *zip.Reader, rels relationList) (map[string]string, error) {
	var book struct {
		Sheets []struct {
			Name string `xml:"name,attr"`
			ID   string `xml:"http://schemas.openxmlformats.org/officeDocument/2006/relationships id,attr"`
			Old  string `xml:"http://purl.oclc.org/ooxml/officeDocument/relationships id,attr"` // the strict form
		} `xml:"sheets>sheet"`
	}
	if err := decodePart(z, workbookPart, &book); err != nil {
		return nil, err
	}
	target := map[string]string{}
	for _, r := range rels {
		if strings.HasSuffix(r.Type, "/worksheet") {
			target[r.ID] = r.Target
		}
	}
	parts := map[string]string{}
	for _, s := range book.Sheets {
		id := s.ID
		if id == "" {
			id = s.Old
		}
		if target[id] != "" {
			parts[s.Name] = target[id]
		}
	}
	return parts, nil
}

// mostFrame bounds what a workbook says of itself.
const mostFrame = 64 << 20

// frameOf returns the workbook without its worksheets, shared texts and pictures:
// what is needed to know its structure and its formats.
func frameOf(z *zip.Reader, rels relationList) ([]byte, error) {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, name := range []string{"[Content_Types].xml", "_rels/.rels", workbookPart, relationsPart, rels.target("/styles"), rels.target("/theme")} {
		f := findPart(z, name)
		if f == nil {
			continue
		}
		if err := w.Copy(f); err != nil {
			return nil, err
		}
	}
	err := w.Close()
	return out.Bytes(), err
}
