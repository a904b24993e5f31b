package importers

import (
	"archive/zip"
	"encoding/xml"
	"errors"
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
	return xml.NewDecoder(r).Decode(into)
}

// worksheetParts returns the part that holds each worksheet.
func worksheetParts(z *zip.Reader) (map[string]string, error) {
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
	var rels struct {
		List []struct {
			ID     string `xml:"Id,attr"`
			Type   string `xml:"Type,attr"`
			Target string `xml:"Target,attr"`
		} `xml:"Relationship"`
	}
	if err := decodePart(z, "xl/_rels/workbook.xml.rels", &rels); err != nil {
		return nil, err
	}
	target := map[string]string{}
	for _, r := range rels.List {
		if !strings.HasSuffix(r.Type, "/worksheet") {
			continue
		}
		if strings.HasPrefix(r.Target, "/") {
			target[r.ID] = r.Target[1:]
		} else {
			target[r.ID] = path.Join("xl", r.Target)
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

// sharedTexts counts the shared texts of a workbook, one that has none has 0.
func sharedTexts(z *zip.Reader) (int64, error) {
	f := findPart(z, "xl/sharedStrings.xml")
	if f == nil {
		return 0, nil
	}
	r, err := f.Open()
	if err != nil {
		return 0, err
	}
	defer r.Close()
	var n int64
	d := xml.NewDecoder(r)
	for {
		token, err := d.RawToken()
		if errors.Is(err, io.EOF) {
			return n, nil
		}
		if err != nil {
			return n, err
		}
		if e, ok := token.(xml.StartElement); ok && e.Name.Local == "si" {
			n++
		}
	}
}
