package web

import (
	"bytes"
	"net/http"
	"strconv"

	"fitfill/cmd/internal/app"
)

// auditPage is what lists say against each other and against the sizes.
type auditPage struct {
	frame
	Empty     bool // no list has been read in yet
	Rooms     []doorway
	Supplier  string
	Suppliers []choice
	Says      string
	Findings  []auditView
	More      int
	CSV       string
}

func (*auditPage) template() string { return "audit" }

// auditView is one thing that a list says wrong.
type auditView struct {
	Supplier, Number, Engine, Says, Grade string
	Bought, Engines                       int
	Places, Against                       []place
	Own                                   []ownView
}

// ownView is what the garage itself saw of the part.
type ownView struct {
	Says   string
	Places []place
}

// auditShown is how many findings a page shows; the sheet has them all.
const auditShown = 60

func askAudit(s *site, r *http.Request) (reply, error) {
	q := r.URL.Query()
	a, err := s.shop.Audit(r.Context(), q.Get("supplier"), nil)
	if err != nil {
		return reply{}, err
	}
	p := &auditPage{frame: frame{Title: "What lists say wrong", Door: "office"}, Rooms: roomsAt("/office/audit"), Supplier: a.Supplier, More: max(0, len(a.Findings)-auditShown)}
	p.Says = app.Plural(len(a.Findings), "thing", "things") + " to look at, " + a.Rule + "."
	if p.Empty, err = s.shop.NothingReadIn(r.Context()); err != nil {
		return reply{}, err
	}
	count := map[string]int{}
	for i, f := range a.Findings {
		if f.Supplier != "" {
			count[f.Supplier]++
		}
		if i >= auditShown {
			continue
		}
		v := auditView{Supplier: nonEmpty(f.Supplier, "our own sheet"), Number: f.Number, Engine: f.Engine, Says: inPageWords(f.Says), Grade: string(f.Grade), Bought: f.Cost.Bought, Engines: f.Cost.Engines}
		v.Places, _ = placesOf(f.Lines)
		v.Against, _ = placesOf(f.Against)
		for _, o := range f.Own {
			seen, _ := placesOf(o.Origin)
			v.Own = append(v.Own, ownView{inPageWords(o.Says), seen})
		}
		p.Findings = append(p.Findings, v)
	}
	if a.Supplier == "" {
		for _, name := range sortedNames(count) {
			p.Suppliers = append(p.Suppliers, choice{Text: name, Count: count[name], Href: address("/office/audit", with(nil, "supplier", name))})
		}
	} else {
		p.CSV = address("/office/audit.csv", with(nil, "supplier", a.Supplier))
	}
	return reply{a, p, ""}, nil
}

// download is a sheet that is sent as a file.
type download struct {
	name string
	body []byte
}

func auditCSV(s *site, r *http.Request) (download, error) {
	a, err := s.shop.Audit(r.Context(), r.URL.Query().Get("supplier"), nil)
	if err != nil {
		return download{}, err
	}
	var b bytes.Buffer
	_, err = a.Write(&b)
	return download{"to-look-at.csv", b.Bytes()}, err
}

func heldCSV(s *site, r *http.Request) (download, error) {
	id, err := strconv.ParseInt(nonEmpty(r.URL.Query().Get("sheet"), "0"), 10, 64)
	if err != nil {
		return download{}, errNotHere
	}
	var b bytes.Buffer
	_, err = s.shop.WriteHeld(r.Context(), &b, id, false)
	return download{"held-rows.csv", b.Bytes()}, err
}

func suppliersCSV(s *site, r *http.Request) (download, error) {
	q := r.URL.Query()
	a, err := s.shop.Suppliers(r.Context(), app.SuppliersQuestion{Type: q.Get("type"), AsOf: q.Get("as_of"), Since: q.Get("since"), WithoutRows: true})
	if err != nil {
		return download{}, err
	}
	body, err := a.CSV()
	return download{"suppliers.csv", body}, err
}
