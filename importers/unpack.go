package importers

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"

	"fitfill/catalog/pattern"
)

// SheetChoice is the error of a zip archive with several sheets of which none
// was chosen.
type SheetChoice struct {
	Name   string
	Sheets []string
}

// Error names the sheets and the setting that chooses one.
func (e *SheetChoice) Error() string {
	return fmt.Sprintf("%s holds %d sheets (%s): choose one with --set sheet=NAME", e.Name, len(e.Sheets), strings.Join(e.Sheets, ", "))
}

// IsPacked reports whether a file is packed: an archive or a workbook.
func IsPacked(f File) bool {
	head := make([]byte, len(zipMagic))
	n, _ := f.ReadAt(head, 0)
	return bytes.HasPrefix(head[:n], []byte(zipMagic)) || bytes.HasPrefix(head[:n], []byte(gzipMagic))
}

// unpack returns the bytes of the sheet itself and what they were packed in,
// empty for a file that is not packed.
func (s *Sheet) unpack(name string, raw *text, settings Settings) (sheet *text, packed string, err error) {
	switch head := raw.head(headBytes); {
	case bytes.HasPrefix(head, []byte(gzipMagic)):
		packed = "gzip"
		sheet, err = s.gunzip(name, raw)
	case bytes.HasPrefix(head, []byte(zipMagic)), bytes.HasPrefix(head, []byte(emptyZip)):
		sheet, packed, err = s.unzip(name, raw, settings["sheet"])
	default:
		return raw, "", nil
	}
	if err != nil {
		return nil, "", err
	}
	for _, magic := range []string{gzipMagic, zipMagic} {
		if bytes.HasPrefix(sheet.head(headBytes), []byte(magic)) && !isWorkbook(sheet) {
			return nil, "", fmt.Errorf("%s holds another archive or a workbook: unpack it and import the sheet inside, saved as CSV", name)
		}
	}
	return sheet, packed, nil
}

func (s *Sheet) gunzip(name string, raw *text) (*text, error) {
	r, err := gzip.NewReader(io.NewSectionReader(raw, 0, raw.Size()))
	if err != nil {
		return nil, fmt.Errorf("%s is a damaged gzip archive (%v): ask for it again", name, err)
	}
	return s.pour(name, r, raw.Size())
}

// pour reads all that an archive of that size gives, up to the limits. One byte
// more than allowed is read, so that a cut is never taken for the end.
func (s *Sheet) pour(name string, r io.Reader, size int64) (*text, error) {
	l := s.sizes
	most := min(l.unpacked, max(size*l.ratio, 1<<20))
	w := s.newText()
	n, err := io.Copy(w, io.LimitReader(r, most+1))
	switch {
	case w.err != nil:
		return w.text()
	case n > most && most == l.unpacked:
		return nil, fmt.Errorf("%s unpacks to more than %s: unpack it, split the sheet and import its parts, or raise --set limit-unpacked", name, sizeText(l.unpacked))
	case n > most:
		return nil, fmt.Errorf("%s unpacks to more than %d times its size, as only an archive made to do harm does: ask for the sheet unpacked, or raise --set limit-ratio", name, l.ratio)
	case errors.Is(err, io.ErrUnexpectedEOF):
		return nil, fmt.Errorf("%s is cut off: %d bytes of the sheet came out and the rest is missing; nothing was imported: ask for it again", name, n)
	case err != nil:
		return nil, fmt.Errorf("%s is damaged behind byte %d of the sheet (%v); nothing was imported: ask for it again", name, n, err)
	}
	return w.text()
}

func (s *Sheet) unzip(name string, raw *text, chosen string) (sheet *text, packed string, err error) {
	z, err := zip.NewReader(raw, raw.Size())
	if err != nil {
		return nil, "", fmt.Errorf("%s is a damaged or cut zip archive (%v); nothing was imported: ask for it again", name, err)
	}
	if int64(len(z.File)) > s.sizes.entries {
		return nil, "", fmt.Errorf("%s holds more than %d files: unpack it and import the sheet inside, or raise --set limit-entries", name, s.sizes.entries)
	}
	files, names, others := sheetsIn(z)
	if looks := workbook(z); looks != "" {
		return nil, "", looksLike(name, looks, "save the sheet as CSV in UTF-8 and import that file")
	}
	k := slices.Index(names, chosen)
	if k < 0 && slices.Contains(others, chosen) {
		files, names, k = z.File, fileNames(z), slices.Index(fileNames(z), chosen)
	}
	switch {
	case len(files) == 0:
		return nil, "", fmt.Errorf("%s looks like an empty zip archive: ask the sender for the sheet as CSV", name)
	case chosen == "" && len(files) == 1:
		k = 0
	case chosen == "":
		return nil, "", &SheetChoice{Name: name, Sheets: names}
	case k < 0:
		return nil, "", fmt.Errorf("%s holds no sheet %q: it holds %s", name, chosen, strings.Join(names, ", "))
	}
	if files[k].Flags&1 != 0 {
		return nil, "", fmt.Errorf("%s is locked with a password: unpack it and import the sheet inside", name)
	}
	r, err := files[k].Open()
	if err != nil {
		return nil, "", fmt.Errorf("%s: %q cannot be unpacked here (%v): unpack it and import the sheet inside", name, names[k], err)
	}
	defer r.Close()
	sheet, err = s.pour(name, r, max(int64(files[k].CompressedSize64), 1))
	if len(others) > 0 && chosen == "" {
		packed = besidesSheet + strings.Join(others, ", ")
	}
	return sheet, "zip: " + names[k] + packed, err
}

// besidesSheet stands between the name of the sheet and what else is in its archive.
const besidesSheet = "; besides: "

// sheetsIn lists the files of an archive that may be sheets, without folders, the
// hidden files that operating systems add, and, where something else is left,
// without what its name or its first bytes show to be no sheet.
func sheetsIn(z *zip.Reader) (files []*zip.File, names, others []string) {
	var odd []*zip.File
	for _, f := range z.File {
		base := path.Base(f.Name)
		switch {
		case strings.HasSuffix(f.Name, "/") || strings.HasPrefix(base, ".") || strings.HasPrefix(f.Name, "__MACOSX/"):
		case isNoSheet(f):
			odd, others = append(odd, f), append(others, f.Name)
		default:
			files, names = append(files, f), append(names, f.Name)
		}
	}
	if len(files) == 0 {
		return odd, others, nil
	}
	return files, names, others
}

// noSheets are endings of names, and names, of what is sent along with a sheet.
var noSheets = pattern.New(`(?i)(^|/)(readme|read me|licen[cs]e|liesmich|lisezmoi|terms|changelog)[^/]*$|\.(md|pdf|docx?|rtf|odt|html?|css|js|jpe?g|png|gif|svg|webp|exe|dll|sig|asc|sha256|md5|xml|json)$`)

func isNoSheet(f *zip.File) bool {
	if noSheets.MatchString(f.Name) {
		return true
	}
	r, err := f.Open()
	if err != nil {
		return false
	}
	defer r.Close()
	head, err := io.ReadAll(io.LimitReader(r, headBytes))
	return err == nil && len(head) > 0 && (refuseOther(f.Name, head) != nil || zeroParity(head) == "" && isBinary(head))
}

func fileNames(z *zip.Reader) []string {
	names := make([]string, len(z.File))
	for i, f := range z.File {
		names[i] = f.Name
	}
	return names
}

// workbook names a spreadsheet by the files that its archive always holds.
func workbook(z *zip.Reader) string {
	for _, f := range z.File {
		switch f.Name {
		case "xl/workbook.bin":
			return "a binary workbook (xlsb)"
		case "[Content_Types].xml":
			return "an office document that is no workbook"
		case "mimetype":
			return "a spreadsheet workbook (ods) or another office document"
		}
	}
	return ""
}
