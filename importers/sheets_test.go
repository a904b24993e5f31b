package importers

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/data"

	"github.com/google/go-cmp/cmp"
)

func reference(t testing.TB) catalog.Reference {
	t.Helper()
	ref, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	return ref
}

func sheetFile(t testing.TB, name string) []byte {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("..", "testdata", "sheets", name))
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

// say prints a row of the catalogue short enough to compare by eye.
func say(r catalog.SheetRow) string {
	var b strings.Builder
	facts := func(list []catalog.Fact) {
		for _, f := range list {
			fmt.Fprintf(&b, " %s=%s", f.Field, strings.TrimSpace(fmt.Sprintf("%s %s", number(f), f.Word)))
		}
	}
	switch {
	case r.Part != nil:
		fmt.Fprintf(&b, "part %s:", r.Part.Number)
		facts(r.Part.Facts)
		for _, f := range r.Part.Fitments {
			fmt.Fprintf(&b, " fits[%s|%s|%s|%s]", f.Make, f.Model, f.Engine, f.Years)
		}
		for _, x := range r.Part.CrossRefs {
			fmt.Fprintf(&b, " %s[%s]", x.Relation, x.OtherNumber)
		}
	case r.Engine != nil:
		fmt.Fprintf(&b, "engine %s/%s:", r.Engine.Family, r.Engine.Circuit)
		facts(r.Engine.Facts)
	case r.Vehicle != nil:
		fmt.Fprintf(&b, "vehicle %s %s %s %s", r.Vehicle.Mark, r.Vehicle.VIN, r.Vehicle.Engine, r.Vehicle.FirstFill)
	case r.Purchase != nil:
		p := r.Purchase
		fmt.Fprintf(&b, "bought %s %s %s %s %g at %g %s %s %s", p.Date, p.Supplier, p.Number, p.Type, p.Quantity.Float(),
			p.UnitPrice.Value.Units(), p.UnitPrice.Value.Currency(), p.Document, p.Vehicle)
	case r.Return != nil:
		p := r.Return
		fmt.Fprintf(&b, "back %s %s %s %g %s bought %s", p.Date, p.Supplier, p.Number, p.Quantity.Float(), p.Reason, p.PurchaseDate.Value)
	case r.Fill != nil:
		f := r.Fill
		fmt.Fprintf(&b, "fill %s %s %s %s %s %g%% %gL out %gL", f.Date, f.Vehicle, f.Circuit, f.Chemistry, f.Colour,
			f.Strength.Value.Percents(), f.Volume.Value.Litres(), f.Drained.Value.Litres())
	case r.Fitted != nil:
		f := r.Fitted
		fmt.Fprintf(&b, "fitted %s %s %s %s %s", f.Date, f.Vehicle, f.Number, f.Supplier, f.Measured)
	}
	return strings.TrimSpace(b.String())
}

func number(f catalog.Fact) string {
	if f.Word != "" && f.Int == 0 {
		return ""
	}
	return fmt.Sprint(f.Int)
}

func TestSampleSheetsAreReadRowByRow(t *testing.T) {
	ref := reference(t)
	for _, tc := range []struct {
		file, delimiter string
		kind            catalog.SheetKind
		headerLine      int
		settings        Settings
		rows, held      []string
		skipped         int
	}{
		{
			file: "supplier-semicolon.csv", delimiter: ";", kind: catalog.SupplierSheet, headerLine: 4, skipped: 3,
			rows: []string{
				"5 part 0004711: description=Thermostat mit Dichtung type=thermostat price=125000 EUR opening_temp=82000 flange_diameter=54000000 seal_included=1 replaces=0004710 fits[||KR6|1998-2003] fits[||KR6T|1998-2003] replaces[0004710]",
				"6 part AB-12 C: description=O-Ring 50x3,5; schwarz type=seal price=12345000 EUR thickness=3500000 fits[||KR6|]",
				"7 part 00123: description=Kühlerdeckel type=cap",
				"18 part VM-91: description=Thermostat type=thermostat price=110000 EUR opening_temp=88000 flange_diameter=53800000 seal_included=0 fits[||VM4|]",
				"19 part VM-91:",
			},
			held: []string{
				"8 part-exponent Art.-Nr.: 1,23E+11", "9 part-date Art.-Nr.: 3. Okt", "10 quote-open", "11 number-marks Preis EUR: 11.00",
				"12 extra-cell", "13 temperature Öffnungstemperatur °C: heiß", "14 missing-cell",
				"16 conflict Preis EUR: 11,00", "17 conflict Preis EUR: 13,00",
			},
		},
		{
			file: "supplier-inches.csv", delimiter: ",", kind: catalog.SupplierSheet, headerLine: 1,
			rows: []string{
				`2 part T-195: description=Thermostat, 195 type=thermostat price=12045000 USD opening_temp=90556 flange_diameter=53975000 notes=fits with 1/8" bolt fits[Larkmoor|Dell|L34|1997-2003] same[R-88] same[R-89]`,
				"3 part T-180: description=Thermostat 180 type=thermostat price=97500 USD opening_temp=82000 flange_diameter=53975000 full_open_temp=95000 fits[Larkmoor|Dell|L34|from 1997]",
				"5 part C-1: description=Radiator cap type=cap",
				"6 part C-2: description=Wheel bearing type=Wheel bearing price=140000 EUR",
			},
			held: []string{"4 years Year From: 2003 - 1997"},
		},
		{
			file: "supplier-coolants.tsv", delimiter: "\t", kind: catalog.SupplierSheet, headerLine: 1,
			rows: []string{
				"2 part LR-1: description=Liquide rose chemistry=p-hoat glycol=ethylene form=concentrate colour=pink pack_volume=5000000000 price=249000 EUR price_per=pack approvals=ASTM D3306",
				"3 part LR-2: description=Liquide rouge chemistry=oat glycol=ethylene form=premix colour=red pack_volume=20000000000 price=610000 EUR price_per=each approvals=ASTM D3306; ASTM D4985",
				"6 part LR-5: description=Liquide sans mention glycol=propylene form=premix colour=bleu-vert pack_volume=500000000 price=40000 EUR price_per=litre",
			},
			held: []string{"4 word-unclear Type de liquide: hybride", "5 word-unknown Type de liquide: super rouge"},
		},
		{
			file: "engines.csv", delimiter: ",", kind: catalog.EnginesSheet, headerLine: 1,
			rows: []string{
				"2 engine KR6/engine: displacement=3400000000 cylinders=6000 housing_bore=54150000 seat_depth=3200000 cap_pressure=103421359 opening_temp=88000 coolant_chemistry=oat coolant_capacity=10883058879 wet_liner=0 thermostat_side=inlet bolt_torque=18-22 N·m",
				"3 engine KR6/inverter: coolant_chemistry=low-conductivity coolant_capacity=1892705892",
			},
			held: []string{"4 word-unclear Coolant chemistry: hoat", "5 conflict Housing bore (mm): 44.0", "6 conflict Housing bore (mm): 45.0"},
		},
		{
			file: "vehicles.csv", delimiter: ";", kind: catalog.VehiclesSheet, headerLine: 1,
			rows: []string{"2 vehicle red van 1XX00000000000001 KR6 factory", "3 vehicle shop truck 1XX00000000000002 VM4 green"},
			held: []string{"4 conflict VIN: ", "5 conflict VIN: 1XX00000000000009", "6 conflict VIN: 1XX00000000000010"},
		},
		{
			file: "purchases.csv", delimiter: ";", kind: catalog.PurchasesSheet, headerLine: 1, settings: Settings{"fractions": "measure"},
			rows: []string{
				"2 bought 2026-04-03 Ostrel 0004711 thermostat 2 at 12.5 EUR R-1 red van",
				"3 bought 2026-04-13 Ostrel 0004711 thermostat -1 at 12.5 EUR G-1",
				"7 bought 2026-04-15 Ostrel AB-12 C seal 1.5 at 1.2 EUR R-5",
			},
			held: []string{"4 quantity-zero Menge: 0", "5 date-impossible Datum: 31.04.2026", "6 date Datum: 45933", "8 required Datum: "},
		},
		{
			file: "returns.csv", delimiter: ",", kind: catalog.ReturnsSheet, headerLine: 1, settings: Settings{"dates": "mdy", "minus": "hold"},
			rows: []string{
				"2 back 2026-04-15 Ostrel 0004711 1 stuck open bought 2026-03-02",
				"5 back 2026-04-18 Ostrel AB-12 C 2 leaks bought 2026-03-17",
			},
			held: []string{"3 date-order Bought on: 05/02/2026", "4 quantity-negative Pieces: -1"},
		},
		{
			file: "fills.csv", delimiter: ",", kind: catalog.FillsSheet, headerLine: 1,
			rows: []string{
				"2 fill 2026-03-04 red van engine oat orange 50% 4.4L out 4.1L",
				"4 fill 2026-03-06 shop truck engine factory  0% 0.5L out 0L",
			},
			held: []string{"3 word-unclear Coolant type: green"},
		},
		{
			file: "fitted.csv", delimiter: ",", kind: catalog.FittedSheet, headerLine: 1,
			rows: []string{"2 fitted 2026-03-04 red van 0004711 Ostrel flange 53.9"},
			held: []string{"3 required Part number: "},
		},
	} {
		t.Run(tc.file, func(t *testing.T) {
			s, err := Open(ref, tc.file, sheetFile(t, tc.file), tc.settings)
			if err != nil {
				t.Fatal(err)
			}
			kind, guessed := GuessKind(ref, s.Header)
			if string(s.Delimiter) != tc.delimiter || s.HeaderLine != tc.headerLine || kind != tc.kind || guessed != (kind != catalog.SupplierSheet) {
				t.Fatalf("separator %q, heading on line %d, kind %s", s.Delimiter, s.HeaderLine, kind)
			}
			m, questions := Propose(ref, kind, s, Options{Settings: tc.settings})
			if len(questions) > 0 {
				t.Fatalf("questions: %+v", questions)
			}
			var rows []string
			report, err := Read(ref, s, m, func(r catalog.SheetRow) error {
				rows = append(rows, fmt.Sprintf("%d %s", r.Line, say(r)))
				return nil
			})
			if err != nil {
				t.Fatal(err)
			}
			var held []string
			for _, h := range report.Held {
				line := fmt.Sprintf("%d %s", h.Line, h.Code)
				if h.Column != "" {
					line += " " + h.Column + ": " + h.Text
				}
				held = append(held, line)
				if h.Reason == "" || h.Raw == "" || !strings.Contains(string(s.raw.bytes()), h.Raw) {
					t.Errorf("held row without reason or text of the file: %+v", h)
				}
			}
			if d := cmp.Diff(tc.rows, rows); d != "" {
				t.Errorf("rows (-want +got):\n%s", d)
			}
			if d := cmp.Diff(tc.held, held); d != "" {
				t.Errorf("held (-want +got):\n%s", d)
			}
			if report.RowsSkipped != tc.skipped || report.RowsRead != len(rows)+len(held)+tc.skipped {
				t.Errorf("read %d, taken %d, held %d, skipped %d", report.RowsRead, report.RowsTaken, report.RowsHeld, report.RowsSkipped)
			}
		})
	}
}

func TestEveryFactKnowsItsSheetSupplierAndLine(t *testing.T) {
	ref := reference(t)
	s, err := Open(ref, "list.csv", sheetFile(t, "supplier-semicolon.csv"), nil)
	if err != nil {
		t.Fatal(err)
	}
	s.Supplier = "Nordlicht"
	m, _ := Propose(ref, catalog.SupplierSheet, s, Options{})
	_, err = Read(ref, s, m, func(r catalog.SheetRow) error {
		want := catalog.Origin{Sheet: "list.csv", SHA256: s.SHA256, Supplier: "Nordlicht", Line: r.Line}
		for _, f := range r.Part.Facts {
			if f.Origin != want || f.Text == "" {
				t.Errorf("fact %+v", f)
			}
		}
		for _, f := range r.Part.Fitments {
			if f.Origin != want {
				t.Errorf("fitment %+v", f)
			}
		}
		part := catalog.Part{}
		for _, f := range r.Part.Facts {
			if err := part.Apply(f); err != nil {
				t.Errorf("line %d: %v", r.Line, err)
			}
		}
		return nil
	})
	if err != nil || len(s.SHA256) != 64 {
		t.Fatal(err, s.SHA256)
	}
}

func TestTheKindOfASheetIsGuessedFromItsHeadings(t *testing.T) {
	ref := reference(t)
	for header, want := range map[string]catalog.SheetKind{
		"family,housing_bore":                             catalog.EnginesSheet,
		"Motor,Hubraum,Zylinder":                          catalog.EnginesSheet,
		"date,supplier,number,quantity,reason":            catalog.ReturnsSheet,
		"Datum,Lieferant,Artikelnummer,Grund":             catalog.ReturnsSheet,
		"date,supplier,number,type,quantity,unit_price":   catalog.PurchasesSheet,
		"date,vehicle,chemistry,volume":                   catalog.FillsSheet,
		"date,vehicle,number,supplier,measured":           catalog.FittedSheet,
		"vehicle,vin,engine,first_fill":                   catalog.VehiclesSheet,
		"number,price,description,opening_temp":           catalog.SupplierSheet,
		"number,make,model,years,engine,flange_diameter":  catalog.SupplierSheet,
		"Part No,Engine,Opening temp,Price,Stock as of":   catalog.SupplierSheet,
		"product number,coolant type,colour,pack volume,": catalog.SupplierSheet,
	} {
		if got, _ := GuessKind(ref, strings.Split(header, ",")); got != want {
			t.Errorf("%s: %s, want %s", header, got, want)
		}
	}
	if !slices.Contains(Fields(catalog.SupplierSheet), "opening_temp") || len(Fields(catalog.EnginesSheet)) < 40 {
		t.Error("fields of the kinds are not listed")
	}
}
