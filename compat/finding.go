package compat

import "fitfill/catalog"

// Grade says how strong a finding is.
type Grade string

// The grades, roughly from strong to weak.
const (
	Standard       Grade = "standard"        // published
	Measured       Grade = "measured"        // computed from dimensions
	Listed         Grade = "listed"          // a supplier says so
	Label          Grade = "label"           // the product's own claim
	CommonPractice Grade = "common practice" // the trade's habit
	Inferred       Grade = "inferred"        // concluded from what was fitted and stayed
	Presumed       Grade = "presumed"        // nobody saw otherwise
	FromMemory     Grade = "from memory"     // the source exists, the figure was not read again
)

// Evidence is one place a finding rests on: a line of a sheet, or a source.
type Evidence struct {
	Sheet    string `json:"sheet,omitempty"`
	SHA256   string `json:"sha256,omitempty"`
	Supplier string `json:"supplier,omitempty"`
	Line     int    `json:"line,omitempty"`
	Text     string `json:"text,omitempty"`
	Source   string `json:"source,omitempty"` // key into the table of sources
	Title    string `json:"title,omitempty"`
	Mark     string `json:"mark,omitempty"`
}

// From turns a sheet's origin into evidence.
func From(o catalog.Origin) Evidence {
	return Evidence{Sheet: o.Sheet, SHA256: o.SHA256, Supplier: o.Supplier, Line: o.Line, Text: o.Text}
}

// Cite turns a reference row into evidence; a row that a garage's own sheet
// overrides cites that sheet.
func Cite(r catalog.RefRow) Evidence {
	if r.Own.Known() {
		return From(r.Own)
	}
	return Evidence{Source: r.Source.Key, Title: r.Source.Title, Mark: string(r.Source.Mark)}
}

// Finding is one thing a judgement looked at: what was found, how strong that
// is and where it comes from.
type Finding struct {
	Check   string     `json:"check"`
	Outcome Outcome    `json:"outcome"`
	Grade   Grade      `json:"grade"`
	Says    string     `json:"says"`
	Origin  []Evidence `json:"origin"`

	// NotChecked marks a check that lacked a fact. It moves no answer; Missing
	// names the fact in the user's words.
	NotChecked bool   `json:"not_checked,omitempty"`
	Missing    string `json:"missing,omitempty"`

	// Steps is the computation line by line, for those who ask to see it.
	Steps []string `json:"steps,omitempty"`
}

// NotChecked builds the finding of a check that lacks a fact.
func NotChecked(check, missing, says string) Finding {
	return Finding{Check: check, NotChecked: true, Missing: missing, Says: says}
}
