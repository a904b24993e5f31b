package main

import "strconv"

// shape is how a supplier writes its sheet.
type shape struct {
	ext              string
	sep              byte
	comma            bool // decimal comma
	inch, fahrenheit bool
	quoted           bool // every cell in quotes
	pressure         string
	twoYears         bool // first and last year in columns of their own
	yes, no          string
	headings         []string
	kinds            [kinds]string
}

var shapes = []shape{
	{
		ext: "csv", sep: ',', pressure: "kPa", yes: "yes", no: "no", kinds: kindNames,
		headings: []string{
			"Part No.", "Type", "Description", "Price EUR", "Opens (°C)", "Flange diameter (mm)", "Seal included", "Air bleed",
			"Seal form", "Inner diameter (mm)", "Section (mm)", "Material", "Hose bore (mm)", "Cap pressure (kPa)", "Cap form", "Chemistry", "Form",
			"Make", "Model", "Years", "Engine", "Other supplier", "Other number",
		},
	},
	{
		ext: "csv", sep: ';', comma: true, pressure: "bar", yes: "ja", no: "nein",
		kinds: [kinds]string{"Thermostat", "Dichtung", "Schlauch", "Kühlerdeckel", "Kühlmittel"},
		headings: []string{
			"Artikelnummer", "Warengruppe", "Bezeichnung", "Preis EUR", "Öffnungstemperatur (°C)", "Flanschdurchmesser (mm)", "Mit Dichtung", "Entlüftung",
			"Dichtungsform", "Innendurchmesser (mm)", "Schnurstärke (mm)", "Werkstoff", "Schlauch innen (mm)", "Öffnungsdruck (bar)", "Deckelform", "Chemie", "Lieferform",
			"Fahrzeugmarke", "Modell", "Baujahre", "Motor", "Fremdhersteller", "Vergleichsnummer",
		},
	},
	{
		ext: "tsv", sep: '\t', inch: true, fahrenheit: true, pressure: "psi", yes: "y", no: "n", kinds: kindNames,
		headings: []string{
			"Item", "Category", "Description", "List price EUR", "Opening temp (°F)", "Flange (in)", "With seal", "Jiggle pin",
			"Seal type", "ID (in)", "Section (in)", "Rubber", "Hose ID (in)", "Cap rating (psi)", "Cap type", "Technology", "State",
			"Car make", "Car model", "Model years", "Engine code", "Interchange brand", "Interchange",
		},
	},
	{
		ext: "csv", sep: ',', quoted: true, twoYears: true, pressure: "kPa", yes: "1", no: "0", kinds: kindNames,
		headings: []string{
			"SKU", "Product group", "Name", "Net price EUR", "Start to open °C", "Flange OD mm", "Gasket included", "Bleed hole",
			"Form of seal", "Inside diameter mm", "Cross section mm", "Elastomer", "Hose inside diameter mm", "Opening pressure kPa", "Cap style", "Coolant type", "Ready to use",
			"Vehicle make", "Vehicle model", "From year", "To year", "Fits engine", "Competitor", "Equivalent",
		},
	},
}

// hundredths appends a number given in hundredths, with the sheet's mark.
func (s *shape) hundredths(b []byte, v int) []byte {
	b = strconv.AppendInt(b, int64(v/100), 10)
	mark := byte('.')
	if s.comma {
		mark = ','
	}
	return append(b, mark, byte('0'+v/10%10), byte('0'+v%10))
}

// length appends a length given in hundredths of a millimetre.
func (s *shape) length(b []byte, v int) []byte {
	if !s.inch {
		return s.hundredths(b, v)
	}
	mils := (v*1000 + 1270) / 2540
	b = strconv.AppendInt(b, int64(mils/1000), 10)
	return append(b, '.', byte('0'+mils/100%10), byte('0'+mils/10%10), byte('0'+mils%10))
}

// temperature appends a temperature given in °C.
func (s *shape) temperature(b []byte, c int) []byte {
	if s.fahrenheit {
		c = (c*18 + 325) / 10
	}
	return strconv.AppendInt(b, int64(c), 10)
}

// gauge appends a pressure given in kPa.
func (s *shape) gauge(b []byte, kPa int) []byte {
	switch s.pressure {
	case "bar":
		return s.hundredths(b, kPa)
	case "psi":
		return s.hundredths(b, (kPa*14504+500)/1000)
	}
	return strconv.AppendInt(b, int64(kPa), 10)
}
