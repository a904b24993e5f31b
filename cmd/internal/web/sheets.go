package web

import (
	"fmt"
	"io"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/cmd/internal/app"
)

// sheetsPage is what was read in, what waits for a decision, and the way to
// read in more.
type sheetsPage struct {
	frame
	Rooms   []doorway
	Waiting []app.SheetLine
	InUse   []sheetRow
	Kinds   []string
	Held    int
}

func (*sheetsPage) template() string { return "sheets" }

// sheetRow is one sheet in use.
type sheetRow struct {
	app.SheetLine
	Day string
}

func askSheets(s *site, r *http.Request) (reply, error) {
	list, err := s.shop.Sheets(r.Context())
	if err != nil {
		return reply{}, err
	}
	p := &sheetsPage{frame: frame{Title: "Sheets", Door: "office"}, Rooms: roomsAt("/office/sheets")}
	for _, k := range catalog.SheetKinds {
		p.Kinds = append(p.Kinds, string(k))
	}
	for _, l := range list {
		if len(l.Open) > 0 {
			p.Waiting = append(p.Waiting, l)
			continue
		}
		p.InUse = append(p.InUse, sheetRow{l, l.ImportedAt[:min(len(l.ImportedAt), len("2006-01-02"))]})
		p.Held += l.RowsHeld
	}
	slices.Reverse(p.InUse)
	return reply{list, p, ""}, nil
}

// importPage is what became of a sheet, or what has to be decided about it.
type importPage struct {
	frame
	Rooms    []doorway
	A        app.ImportAnswer
	Whose    string
	Says     string
	Verdict  string
	Open     []decision
	Columns  []app.MappedColumn
	Fields   []counted
	Prices   *app.PriceReport
	Moves    string
	Withdraw []string
	Held     []catalog.HeldRow
	HeldMore int
	Unread   string
}

func (*importPage) template() string { return "import" }

// counted is something with how often it occurs.
type counted struct {
	Name  string
	Count int
}

// largestSheet is how many bytes a sheet may have that is uploaded. Larger ones
// are imported at the machine itself.
const largestSheet = 256 << 20

func writeImport(s *site, r *http.Request) (reply, error) {
	file, header, err := r.FormFile("sheet")
	if err != nil {
		return reply{}, &app.UsageError{Problem: "no sheet was chosen", Hint: "choose a file and send it again"}
	}
	defer file.Close()
	raw, err := io.ReadAll(file)
	if err != nil {
		return reply{}, err
	}
	a, err := s.shop.Import(r.Context(), app.ImportQuestion{Name: header.Filename, Raw: raw, Supplier: strings.TrimSpace(r.FormValue("supplier")), As: r.FormValue("as")})
	if err != nil {
		return reply{}, noSheet(header.Filename, err)
	}
	return reply{a, importPageOf(a), ""}, nil
}

// noSheet makes what was found wrong with a file as a whole a question that was
// put wrongly: such errors begin with the name of the file, and say behind a
// colon what to do.
func noSheet(name string, err error) error {
	what, of := strings.CutPrefix(err.Error(), name+" ")
	if !of {
		return err
	}
	problem, hint, _ := strings.Cut(what, ": ")
	return &app.UsageError{Problem: fmt.Sprintf("%q %s", name, problem), Hint: hint}
}

func askWaiting(s *site, r *http.Request) (reply, error) {
	id, err := sheetID(r.PathValue("sheet"))
	if err != nil {
		return reply{}, err
	}
	a, err := s.shop.Waiting(r.Context(), id)
	if err != nil {
		return reply{}, err
	}
	return reply{a, importPageOf(a), ""}, nil
}

func sheetID(text string) (int64, error) {
	id, err := strconv.ParseInt(text, 10, 64)
	if err != nil || id < 1 {
		return 0, errNotHere
	}
	return id, nil
}

// What a page shows of long lists; the twin has them whole.
const (
	movesShown = 5
	heldShown  = 20
	goneShown  = 30
)

func importPageOf(a app.ImportAnswer) *importPage {
	p := &importPage{frame: frame{Title: a.Sheet, Door: "office"}, Rooms: roomsAt("/office/sheets"), A: a, Whose: nonEmpty(a.Supplier, "the garage"), Columns: a.Columns}
	p.Says = app.Plural(a.RowsRead, "row", "rows") + " read."
	if a.RowsTaken+a.RowsHeld > 0 {
		p.Says = fmt.Sprintf("%s: %d taken, %d held back, %d skipped (blank, repeated heading, total).", app.Plural(a.RowsRead, "row", "rows"), a.RowsTaken, a.RowsHeld, a.RowsSkipped)
	}
	switch a.Status {
	case app.Imported:
		p.Verdict = "It is in use."
	case app.Unchanged:
		p.Verdict = "It was in use already, unchanged: nothing to do."
	case app.Staged:
		p.Verdict = "Nothing was changed. It waits for a decision."
	}
	for _, o := range a.Open {
		p.Open = append(p.Open, decisionOf(o))
	}
	if rep := a.Report; rep != nil {
		for name, n := range rep.Fields {
			p.Fields = append(p.Fields, counted{name, n})
		}
		slices.SortFunc(p.Fields, func(x, y counted) int { return strings.Compare(x.Name, y.Name) })
		p.Withdraw = rep.Withdrawn[:min(len(rep.Withdrawn), goneShown)]
		if m := rep.Prices; m != nil {
			short := *m
			short.Up, short.Down = m.Up[:min(len(m.Up), movesShown)], m.Down[:min(len(m.Down), movesShown)]
			p.Prices, p.Moves = &short, fmt.Sprintf("%s; the middle one is %.2f times the last, half of them lie between %.2f and %.2f", app.Plural(m.Parts, "price moves", "prices move"), m.Median, m.Low, m.High)
		}
	}
	p.Held, p.HeldMore = a.Held[:min(len(a.Held), heldShown)], max(0, len(a.Held)-heldShown)
	if n := a.Unread; n != nil {
		p.Unread = fmt.Sprintf("%s not understood: %s, answered once each.", app.Plural(n.Rows, "note", "notes"), app.Plural(n.Texts, "text", "texts"))
	}
	return p
}

func writeUndo(s *site, r *http.Request) (reply, error) {
	id, err := sheetID(r.PostForm.Get("id"))
	if err != nil {
		return reply{}, err
	}
	_, err = s.shop.UndoSheet(r.Context(), id)
	return reply{see: "/office/sheets"}, err
}
