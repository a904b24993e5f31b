package workbook

// The parts that are the same in every workbook. Their names and places are those
// that programs expect; the standard would allow others (ISO/IEC 29500-1, 12;
// ISO/IEC 29500-2 for the package).

const declaration = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"

const (
	worksheetPart = "xl/worksheets/sheet1.xml"
	spreadsheet   = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	relations     = "http://schemas.openxmlformats.org/package/2006/relationships"
	related       = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	contentTypes  = "application/vnd.openxmlformats-officedocument.spreadsheetml."
)

// frame is what stands around the worksheet. The order is that of a package read
// from its beginning.
var frame = []struct{ name, text string }{
	{"[Content_Types].xml", `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
		`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
		`<Default Extension="xml" ContentType="application/xml"/>` +
		`<Override PartName="/xl/workbook.xml" ContentType="` + contentTypes + `sheet.main+xml"/>` +
		`<Override PartName="/` + worksheetPart + `" ContentType="` + contentTypes + `worksheet+xml"/>` +
		`<Override PartName="/xl/styles.xml" ContentType="` + contentTypes + `styles+xml"/>` +
		`</Types>`},
	{"_rels/.rels", `<Relationships xmlns="` + relations + `">` +
		`<Relationship Id="rId1" Type="` + related + `/officeDocument" Target="xl/workbook.xml"/>` +
		`</Relationships>`},
	{"xl/workbook.xml", `<workbook xmlns="` + spreadsheet + `" xmlns:r="` + related + `">` +
		`<bookViews><workbookView/></bookViews>` +
		`<sheets><sheet name="` + Worksheet + `" sheetId="1" r:id="rId1"/></sheets></workbook>`},
	{"xl/_rels/workbook.xml.rels", `<Relationships xmlns="` + relations + `">` +
		`<Relationship Id="rId1" Type="` + related + `/worksheet" Target="worksheets/sheet1.xml"/>` +
		`<Relationship Id="rId2" Type="` + related + `/styles" Target="styles.xml"/>` +
		`</Relationships>`},
	{"xl/styles.xml", styles},
}

// styles are two: how a cell looks of which nothing is said, and that of every cell
// that is written here, a text (ISO/IEC 29500-1, 18.8.30 numFmt, id 49: @). The
// first two fills are those that the standard sets aside.
const styles = `<styleSheet xmlns="` + spreadsheet + `">` +
	`<fonts count="1"><font><sz val="11"/></font></fonts>` +
	`<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>` +
	`<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>` +
	`<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>` +
	`<cellXfs count="2"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>` +
	`<xf numFmtId="49" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/></cellXfs>` +
	`<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles>` +
	`</styleSheet>`

// The first row stays in view (ISO/IEC 29500-1, 18.3.1.66 pane).
const (
	worksheetHead = `<worksheet xmlns="` + spreadsheet + `"><sheetViews><sheetView workbookViewId="0">` +
		`<pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews><sheetData>`
	worksheetTail = `</sheetData></worksheet>`
)
