package web

import (
	"net/http"
	"strconv"
	"strings"

	"fitfill/cmd/internal/app"
)

// linePage is a line of a sheet as it was read.
type linePage struct {
	frame
	app.SheetLineAnswer
	Whose  string
	Filled []app.SheetCell
	Empty  int // cells without a text
}

func (*linePage) template() string { return "line" }

func askLine(s *site, r *http.Request) (reply, error) {
	n, err := strconv.Atoi(r.PathValue("line"))
	if err != nil || n < 1 {
		return reply{}, errNotHere
	}
	a, err := s.shop.SheetLine(r.Context(), app.SheetLineQuestion{Sheet: r.PathValue("sheet"), Line: n})
	if err != nil {
		return reply{}, err
	}
	p := &linePage{frame: frame{Title: a.Sheet + " line " + strconv.Itoa(n), Door: "office"}, SheetLineAnswer: a, Whose: nonEmpty(a.Supplier, "the garage")}
	for _, c := range a.Cells {
		if strings.TrimSpace(c.Text) == "" {
			p.Empty++
			continue
		}
		p.Filled = append(p.Filled, c)
	}
	return reply{a, p, ""}, nil
}
