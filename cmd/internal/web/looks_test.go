package web

import (
	"context"
	"html"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"time"
)

func contextForDemo() (context.Context, context.CancelFunc) {
	return context.WithTimeout(context.Background(), time.Minute)
}

// everyPage has one of each page of the program.
var everyPage = []func() page{
	func() page { return &counterPage{} }, func() page { return &fitPage{} }, func() page { return &jobPage{} },
	func() page { return &linePage{} }, func() page { return &bayPage{} }, func() page { return &flushPage{} }, func() page { return &vehiclePage{} },
	func() page { return &officePage{} }, func() page { return &sheetsPage{} }, func() page { return &importPage{} }, func() page { return &heldPage{} },
	func() page { return &notesPage{} }, func() page { return &auditPage{} }, func() page { return &failPage{} }, func() page { return &entryPage{} },
}

// Every template is executed with nothing and with everything that its struct
// can hold, so that a field that is gone or misspelt is found here.
func TestTemplatesMatchTheirStructs(t *testing.T) {
	l, err := loadLooks()
	if err != nil {
		t.Fatal(err)
	}
	covered := map[string]bool{}
	for _, newPage := range everyPage {
		empty, full := newPage(), newPage()
		fillUp(reflect.ValueOf(full).Elem(), 0)
		covered[empty.template()] = true
		for _, p := range []page{empty, full} {
			p.base().Only = ""
			body, err := l.render(p)
			if err != nil {
				t.Errorf("%s: %v", p.template(), err)
			}
			if strings.Contains(string(body), "ZgotmplZ") {
				t.Errorf("%s: a value was refused as unsafe", p.template())
			}
		}
	}
	for name := range l.pages {
		if !covered[name] {
			t.Errorf("no page shows the template %s.html", name)
		}
	}
}

// deepest keeps fillUp from following structs that hold themselves.
const deepest = 8

// fillUp puts a value into every field.
func fillUp(v reflect.Value, depth int) {
	if depth > deepest || !v.CanSet() {
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString("text")
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		v.SetInt(2)
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		v.SetUint(1)
	case reflect.Float32, reflect.Float64:
		v.SetFloat(2.5)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fillUp(v.Elem(), depth+1)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range v.Len() {
			fillUp(v.Index(i), depth+1)
		}
	case reflect.Array:
		for i := range v.Len() {
			fillUp(v.Index(i), depth+1)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			fillUp(v.Field(i), depth+1)
		}
	}
}

var tags = regexp.MustCompile(`(?s)<title>.*?</title>|<[^>]*>`)

// text is what a reader sees of a page.
func text(body string) string {
	return strings.Join(strings.Fields(unescape(tags.ReplaceAllString(body, " "))), " ")
}

func unescape(body string) string { return html.UnescapeString(body) }

// What the command line is told is no help to somebody at a page.
func TestPagesNameNoFlagsAndNoCommands(t *testing.T) {
	server := serveDemo(t)
	flag := regexp.MustCompile(`(^|[ ("])--[a-z]`)
	for _, path := range []string{
		"/", "/counter?q=thermostat&engine=TKV38", "/counter?q=zzzz", "/counter?q=QM-1062", "/counter?engine=TKV30", "/fit?engine=TKV30&type=thermostat",
		"/fit?engine=TKV30&type=clamp", "/fit?engine=ODL16&type=seal", "/fit?engine=TKV38&year=95", "/counter?q=seal&engine=TKV83", "/fit?engine=TKV38&part=ZZ-9",
		"/bay?fill=green", "/bay?fill=green&add=PR-SI50-20&engine=VSR18", "/bay?fill=factory&add=PR-SI50-20&vehicle=D+04", "/bay?fill=unknown&add=water", "/bay?fill=iat&add=oat&amount=x",
		"/bay/flush?fill=green&to=PR-SIC-5", "/bay/flush?fill=green&to=PR-SIC-5&engine=VSR18", "/bay/vehicle?vehicle=D+99", "/bay?fill=blurple&add=oat",
		"/job?engine=TKV38&job=thermostat", "/job?engine=TKV38", "/job?engine=PLN13&job=thermostat", "/job?engine=JVD42&job=coolant", "/job?engine=TKV38&job=heater", "/counter?q=it+has+a+P0128", "/counter?q=thermostat+for+a+Sandrel", "/counter?q=Z0XSD38T411000202", "/counter?q=QM-10389", "/counter?q=D+02",
		"/counter?q=seal&supplier=Ostrl", "/fit?engine=TKV38&built=May",
	} {
		shown := text(get(t, server, path).body)
		at := flag.FindStringIndex(shown)
		if i := strings.Index(shown, command); i >= 0 {
			at = []int{i, i}
		}
		if at != nil {
			t.Errorf("%s names a flag or a command: ... %s", path, shown[max(0, at[0]-60):min(len(shown), at[0]+60)])
		}
	}
}
