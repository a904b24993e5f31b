package main

// partCells writes a part's own cells as the supplier writes them, without the
// number. They stand on every row of the part.
func (w *world) partCells(c *cells, s *shape, p *design) {
	var b [32]byte
	buf := b[:0]
	var opens, flange, seal, bleed, form, inner, section, material, bore, pressure, fitting, chemistry, state string
	flag := func(yes bool) string {
		if yes {
			return s.yes
		}
		return s.no
	}
	switch p.kind {
	case thermostat:
		opens = string(s.temperature(buf, w.ratings[p.rating]))
		flange = string(s.length(buf, w.flanges[p.flange]))
		seal, bleed = flag(p.seal), flag(p.pin)
	case sealRing:
		form, material = "o-ring", "EPDM"
		inner = string(s.length(buf, w.rings[p.ring]))
		section = string(s.length(buf, w.section))
	case hose:
		bore = string(s.length(buf, w.hoses[p.hose]))
	case radiatorCap:
		pressure = string(s.gauge(buf, w.caps[p.cap]))
		fitting = fittingName(p.bayonet)
	case coolant:
		chemistry, state = w.chemistries[p.chemistry], "premix"
		if p.concentrate {
			state = "concentrate"
		}
	}
	kind := s.kinds[p.kind]
	c.text(kind)
	c.text(kind + " " + opens + pressure + chemistry)
	c.bytes(s.hundredths(buf, p.cents))
	for _, t := range [...]string{opens, flange, seal, bleed, form, inner, section, material, bore, pressure, fitting, chemistry, state} {
		c.text(t)
	}
}

func fittingName(bayonet bool) string {
	if bayonet {
		return "bayonet"
	}
	return "thread"
}
