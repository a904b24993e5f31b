package fit

import (
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"fitfill/catalog"
)

// calculate works out a sum as it is typed into a pocket calculator.
func calculate(t *testing.T, text string) (float64, bool) {
	t.Helper()
	text = strings.NewReplacer(" x ", " * ", "·", "*").Replace(text)
	e, err := parser.ParseExpr(text)
	if err != nil {
		return 0, false
	}
	ok := true
	var work func(e ast.Expr) float64
	work = func(e ast.Expr) float64 {
		switch e := e.(type) {
		case *ast.BasicLit:
			v, err := strconv.ParseFloat(e.Value, 64)
			ok = ok && err == nil
			return v
		case *ast.ParenExpr:
			return work(e.X)
		case *ast.UnaryExpr:
			return -work(e.X)
		case *ast.BinaryExpr:
			a, b := work(e.X), work(e.Y)
			switch e.Op {
			case token.ADD:
				return a + b
			case token.SUB:
				return a - b
			case token.MUL:
				return a * b
			case token.QUO:
				return a / b
			}
		}
		ok = false
		return 0
	}
	return work(e), ok
}

var (
	sumText    = regexp.MustCompile(`([-(]*\d[\d.]*(?:[-+x/() ]|\d|\.)*) = (-?[\d.]+)( %)?`)
	unitsInSum = strings.NewReplacer(" mm²", "", " mm", "", " kN", "", " N·m", "", " kPa", "", " °C", "")
)

// checkSums works out every sum of a computation and returns how many there
// were. What is printed is rounded: half of its last digit is allowed, and half
// a thousandth of what went in.
func checkSums(t *testing.T, steps []string) (sums int) {
	t.Helper()
	for _, s := range steps {
		for _, m := range sumText.FindAllStringSubmatch(unitsInSum.Replace(s), -1) {
			got, ok := calculate(t, strings.TrimSpace(m[1]))
			if !ok || !strings.ContainsAny(m[1], "+x/") && !strings.Contains(m[1], " - ") {
				continue
			}
			want, err := strconv.ParseFloat(m[2], 64)
			if err != nil {
				t.Fatal(err)
			}
			if m[3] != "" && !strings.HasPrefix(strings.TrimSpace(m[1]), "100 x") && math.Abs(got) < 2 {
				got *= 100
			}
			sums++
			allowed := 0.51*math.Pow10(-decimals(m[2])) + 0.002*math.Abs(want)
			if math.Abs(got-want) > allowed {
				t.Errorf("%q: works out at %.4f, printed %s", s, got, m[2])
			}
		}
	}
	return sums
}

// Every computation that is shown can be followed with a pocket calculator.
func TestComputationsCanBeWorkedOut(t *testing.T) {
	o := of("Varn", 10)
	e := engine()
	e.GrooveDepth, e.GrooveWidth, e.GrooveOuterDiameter = length("2.70 ±0.05", 2.7, own("2.70 ±0.05")), length("4.80", 4.8, own("4.80")), length("44.8", 44.8, own("44.8"))
	e.SealInnerDiameter, e.SealSection, e.SeatDepth = length("37.7", 37.7, own("37.7")), length("3.5", 3.5, own("3.5")), length("4.1", 4.1, own("4.1"))
	ring := catalog.Part{Supplier: "Varn", Number: "R-222", ORingSize: catalog.Say("AS568-222", "AS568-222", o), Material: catalog.Say("EPDM", "EPDM", o)}
	edge := catalog.Part{Supplier: "Varn", Number: "R-9", SealForm: catalog.Say("moulded", "moulded", o), Thickness: length("5.2", 5.2, o)}
	thermostat := stat("Varn", "TX-1")
	thermostat.FlangeThickness = length("1.6", 1.6, o)
	for name, c := range map[string]struct {
		kind  string
		part  catalog.Part
		least int
	}{"an O-ring in its groove": {Seal, ring, 11}, "an edge ring": {Seal, edge, 5}, "a thermostat": {Thermostat, thermostat, 4}} {
		v := judgeOne(t, Question{Engine: e, Type: c.kind}, Candidate{Part: new(c.part), Listings: []catalog.Fitment{listing("Varn", 3)}})
		sums := 0
		for _, f := range v.Findings {
			sums += checkSums(t, f.Steps)
		}
		if sums < c.least {
			t.Errorf("%s: only %d sums were shown\n%s", name, sums, told(v))
		}
	}
	b := tables(t).JudgeTorque(Bolt{Thread: word("M8x1.25"), Class: word("8.8"), Into: word("cast aluminium"), Torque: word("20-25 N·m")})
	sums := 0
	for _, f := range b.Findings {
		sums += checkSums(t, f.Steps)
	}
	if sums < 5 {
		t.Errorf("a bolt: only %d sums in %+v", sums, b.Findings)
	}
}
