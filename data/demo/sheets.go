package demo

// Sheets lists the sheets in the order in which they are imported.
var Sheets = []Sheet{
	{File: "engines.csv", As: "engines"},
	{File: "quillmar.csv", As: "supplier", Supplier: "Quillmar", Maps: quillmarMaps},
	{File: "ostrel.csv", As: "supplier", Supplier: "Ostrel", Maps: ostrelMaps},
	{File: "grauvelt.csv", As: "supplier", Supplier: "Grauvelt", Maps: grauveltMaps},
	{File: "tessimor.csv", As: "supplier", Supplier: "Tessimor", Maps: tessimorMaps, Set: []string{"unit=mm,°C,bar", "currency=EUR"}},
	{File: "pindle-rook.csv", As: "supplier", Supplier: "Pindle & Rook", Maps: pindleRookMaps},
	{File: "ferrowick.csv", As: "supplier", Supplier: "Ferrowick", Maps: []string{"number=Part number", "opening_temp=Opening temp °C"}},
	{File: "vehicles.csv", As: "vehicles"},
	{File: "fills.csv", As: "fills"},
	{File: "fitted.csv", As: "fitted"},
	{File: "purchases.csv", As: "purchases", Set: []string{"currency=EUR"}},
	{File: "returns.csv", As: "returns"},
}

// Later is the next list of a supplier: its price column is ten times too high,
// few rows changed, and some must be held.
var Later = Sheet{File: "later/quillmar-2026-2.csv", As: "supplier", Supplier: "Quillmar", Maps: quillmarMaps}

// Aliases are the other names under which suppliers occur in the sheets.
var Aliases = []Alias{{Supplier: "Grauvelt", Also: "GVT Handel"}}

// Unmapped headings of the sheets name our fields already.
var (
	quillmarMaps = []string{"number=Part No.", "opening_temp=Opens (°C)", "vin8=VIN 8"}

	ostrelMaps = []string{
		"number=Item", "type=Cat", "description=Desc", "price=List EUR", "opening_temp=Temp F",
		"flange_diameter=Flange in", "flange_thickness=Flange thk in", "oring_size=O-ring",
		"inner_diameter=ID in", "section=Sect in", "thickness=Thk in", "hose_bore=Bore in", "hose_outside=Hose OD in",
		"clamp_min=Clamp from in", "clamp_max=Clamp to in", "cap_pressure=Cap psi", "strength=Mix %", "pack_volume=Pack",
		"years=Yrs", "vin8=8th VIN", "other_supplier=Interchange maker", "other_number=Interchange no", "condition=Notes",
	}

	grauveltMaps = []string{
		"number=Artikelnummer", "description=Bezeichnung", "type=Warengruppe", "price=Preis EUR", "stock=Bestand", "delivery=Lieferzeit",
		"opening_temp=Öffnungstemperatur °C", "flange_diameter=Flanschdurchmesser mm", "flange_thickness=Flanschdicke mm",
		"seal_included=Dichtung dabei", "seal_form=Dichtungsform", "inner_diameter=Innendurchmesser mm", "section=Schnurstärke mm",
		"thickness=Dicke mm", "material=Werkstoff", "hose_bore=Schlauch innen mm", "hose_outside=Schlauch außen mm",
		"clamp_min=Spannbereich von mm", "clamp_max=Spannbereich bis mm", "cap_pressure=Öffnungsdruck bar", "cap_form=Verschluss",
		"make=Marke", "model=Modell", "years=Baujahre", "engine=Motor", "other_supplier=Vergleich Lieferant", "other_number=Vergleichsnummer",
	}

	// The column "temp" holds full-open temperatures, some 12 K above the stamp.
	tessimorMaps = []string{
		"number=ref", "description=product", "type=kind", "price=net", "full_open_temp=temp", "flange_diameter=dia", "flange_thickness=thick",
		"seal_form=ring form", "inner_diameter=ring id", "section=ring sect", "thickness=ring height", "material=rubber", "hose_bore=bore",
		"hose_outside=outside", "cap_pressure=cap", "cap_form=cap fitting", "make=maker", "model=car", "years=yrs", "engine=motor",
		"vin8=eighth", "where_fitted=where", "notes=remark", "other_supplier=same as house", "other_number=same as no",
	}

	pindleRookMaps = []string{
		"number=Code", "description=Product", "type=Group", "price=Price EUR", "deposit=Deposit EUR", "pack_volume=Pack size",
		"chemistry=Technology", "glycol=Base glycol", "form=Form", "strength=Glycol %", "mixing_claim=Mixing statement", "shelf=Shelf life",
		"filter_charge=Charge", "make=For make", "engine=For engine", "where_fitted=Where used", "condition=Use", "notes=Remarks",
	}
)
