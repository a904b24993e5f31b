package importers

// ReadingSetting is a setting with what it takes and what it decides.
type ReadingSetting struct{ Name, Takes, Says string }

// readingSettings are the settings that are no limits, those about the file first.
var readingSettings = []ReadingSetting{
	{"sheet", "NAME", "which sheet of an archive or a workbook"},
	{"hidden", "take|leave", "hidden rows and columns of a workbook"},
	{"merged", "once|repeat", "whether a merged value stands in each cell of its area"},
	{"encoding", "NAME", "such as windows-1252 or dos-850; UTF-8 and UTF-16 are known by themselves"},
	{"separator", "NAME", "comma, semicolon, tab, pipe or comma-space"},
	{"quote", "double|single|none", "what opens and closes a cell"},
	{"escape", "doubled|backslash", "a quotation mark inside a cell"},
	{"header", "LINE", "where the headings stand: 4, 3-4 for two rows of them, or none"},
	{"rows", "LINES", "lines that are rows although they look like a total or a section: 12,15-18"},
	{"sections", "FIELD", "what lines such as Thermostats between the rows say of those below: type"},
	{"types", "description", "read from the descriptions what the parts are"},
	{"tail", "trimmed|hold", "rows that end before the last heading"},
	{"decimal", "comma|point", "the decimal mark"},
	{"dates", "dmy|mdy|ymd", "what comes first in 03/04/2026"},
	{"unit", "UNITS", "of bare numbers, several with commas: mm,°C"},
	{"currency", "CODE", "of bare amounts: EUR"},
	{"per", "each|N|litre|pack", "what a price is for"},
	{"percent", "hundred|fraction", "whether 0.5 is half of one per cent or half of all"},
	{"arrows", "timeline|compare", "whether >92 is up to 1992 or from 1992 on"},
	{"pairs", "month|years", "whether 03/04 is March 2004 or 2003 to 2004"},
	{"engines", "list|one", "whether KV20/KV22 is two engines or the name of one"},
	{"fractions", "measure|hold", "1,5 pieces: goods sold by measure, or a mistake"},
	{"minus", "back|undo|hold", "-1 pieces in returns: came back, take a return back, or are a mistake"},
	{"point-zero", "strip|keep", "whether part number 4711.0 is 4711"},
	{"pad", "LENGTH", "fill part numbers of digits up with zeros"},
}

// ReadingSettings lists the settings that say how a sheet is read.
func ReadingSettings() []ReadingSetting { return readingSettings }
