package web

import (
	"net/http"
	"net/url"
	"slices"
	"strings"

	"fitfill/cmd/internal/app"
)

// The parts of an address that say what is on the bench: the engine, and what
// is known of the vehicle. A size stands as m.NAME.
const (
	nameEngine  = "engine"
	nameVehicle = "vehicle"
	namePart    = "part"
	nameList    = "list"
	sizePrefix  = "m."
)

var benchNames = []string{nameEngine, nameVehicle, "year", "vin8", "built", "displacement", "with", "without"}

// benchOf reads what is on the bench. A vehicle on file tells its engine where
// none is named, and what is answered for it is kept on its record.
func benchOf(q url.Values) app.FitQuestion {
	b := app.FitQuestion{
		Engine: strings.TrimSpace(q.Get(nameEngine)), Vehicle: strings.TrimSpace(q.Get(nameVehicle)), Year: q.Get("year"), VIN8: q.Get("vin8"), Built: q.Get("built"),
		Displacement: q.Get("displacement"), With: filled(q["with"]), Without: filled(q["without"]),
	}
	for name, values := range q {
		if size, ok := strings.CutPrefix(name, sizePrefix); ok {
			for _, v := range filled(values) {
				b.Measured = append(b.Measured, size+" "+v)
			}
		}
	}
	slices.Sort(b.Measured)
	return b
}

func filled(values []string) []string {
	return slices.DeleteFunc(slices.Clone(values), func(v string) bool { return strings.TrimSpace(v) == "" })
}

// onBench keeps of an address what is on the bench, and the list.
func onBench(q url.Values) url.Values {
	out := url.Values{}
	for name, values := range q {
		if slices.Contains(benchNames, name) || name == nameList || strings.HasPrefix(name, sizePrefix) {
			out[name] = values
		}
	}
	return out
}

// bench is what the page says of the engine on the bench.
type bench struct {
	Engine string
	Known  []known
	Off    string // address without it
}

// wholePage is the path of the page that a request is for, or for a part of.
func wholePage(r *http.Request) string {
	return strings.TrimSuffix(strings.TrimSuffix(r.URL.Path, "/hits"), "/typing")
}

// known is one thing that is known of the vehicle, and the address where it is
// not.
type known struct{ Text, Off string }

func benchView(r *http.Request, engine string) *bench {
	q, path := r.URL.Query(), wholePage(r)
	if engine == "" {
		return nil
	}
	off := url.Values{}
	for name, values := range q {
		if !slices.Contains(benchNames, name) && !strings.HasPrefix(name, sizePrefix) {
			off[name] = values
		}
	}
	b := &bench{Engine: engine, Off: address(path, off)}
	say := map[string]string{nameVehicle: "vehicle ", "year": "model year ", "vin8": "8th of the VIN ", "built": "built ", "displacement": "", "with": "with ", "without": "without "}
	for _, name := range benchNames[1:] {
		for _, v := range filled(q[name]) {
			less := with(q)
			less[name] = slices.DeleteFunc(slices.Clone(q[name]), func(x string) bool { return x == v })
			b.Known = append(b.Known, known{say[name] + v, address(path, less)})
		}
	}
	for name, values := range q {
		if size, ok := strings.CutPrefix(name, sizePrefix); ok && values[0] != "" {
			b.Known = append(b.Known, known{size + " " + values[0], address(path, with(q, name, ""))})
		}
	}
	slices.SortFunc(b.Known, func(x, y known) int { return strings.Compare(x.Text, y.Text) })
	return b
}

// field is a part of the address that a form carries along unseen.
type field struct{ Name, Value string }

// carried lists what a form has to carry along: the whole address but the names
// that the form asks for itself.
func carried(q url.Values, but ...string) []field {
	var out []field
	for name, values := range q {
		if slices.Contains(but, name) {
			continue
		}
		for _, v := range filled(values) {
			out = append(out, field{name, v})
		}
	}
	slices.SortFunc(out, func(a, b field) int {
		return strings.Compare(a.Name+"="+a.Value, b.Name+"="+b.Value)
	})
	return out
}

// asking is a question back: answered in a field, by yes or no, or by looking.
type asking struct {
	Text    string
	Settles string
	Action  string
	Carried []field
	Name    string // of the field that takes the answer; empty: none
	Sample  string
	Yes, No string // addresses
}

var samples = map[string]string{"year": "2004", "vin8": "T", "built": "2004-03", "displacement": "3.8 L"}

// askingOf makes a question of the page from one that names a flag.
func askingOf(r *http.Request, text, flag, settles string) asking {
	q := r.URL.Query()
	a := asking{Text: text, Settles: settles, Action: wholePage(r)}
	name, rest, _ := strings.Cut(strings.TrimPrefix(flag, "--"), " ")
	rest = strings.Trim(rest, `"`)
	switch {
	case flag == "":
		return a
	case name == "with":
		yes, no := with(q), with(q)
		yes["with"] = append(slices.Clone(q["with"]), rest)
		no["without"] = append(slices.Clone(q["without"]), rest)
		a.Yes, a.No = address(a.Action, yes), address(a.Action, no)
		return a
	case name == "measured":
		size, _ := strings.CutSuffix(rest, " SIZE")
		a.Name, a.Sample = sizePrefix+size, "53.9 mm"
		if size == "stamp" {
			a.Sample = "82 °C"
		}
	default:
		a.Name, a.Sample = name, samples[name]
	}
	a.Carried = carried(q, a.Name)
	return a
}
