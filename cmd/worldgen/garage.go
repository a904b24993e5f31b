package main

import (
	"fmt"
	"strconv"
)

// fixed writes a number given in hundredths.
func fixed(v int) string { return string(shapes[0].hundredths(nil, v)) }

// writeEngines writes the garage's own facts; of some families it has not
// measured the housing.
func (w *world) writeEngines(o *options) error {
	headings := []string{
		"family", "make", "model", "years", "coolant_chemistry", "coolant_capacity (L)", "drain_volume (L)", "cap_pressure (kPa)", "cap_form",
		"opening_temp (°C)", "warm_up_monitor", "housing_bore (mm)", "groove_depth (mm)", "groove_width (mm)", "groove_outer_diameter (mm)",
		"seal_form", "seal_inner_diameter (mm)", "seal_section (mm)", "seal_material",
	}
	return o.table("engines.csv", headings, func(c *cells) error {
		for i := range w.families {
			f := &w.families[i]
			row := []string{
				f.name, f.make, f.models[0] + "; " + f.models[1] + "; " + f.models[2], fmt.Sprintf("%d-%d", f.from, f.to),
				w.chemistries[f.chemistry], fixed(f.capacity), fixed(f.drain), strconv.Itoa(w.caps[f.cap]), fittingName(f.bayonet),
				strconv.Itoa(w.ratings[f.rating]), "yes",
			}
			if f.measured {
				ring := w.rings[f.ring]
				row = append(row, fixed(w.flanges[f.flange]+w.clearance), fixed(w.grooveDepth), fixed(w.grooveWidth),
					fixed(ring+2*w.section+w.ringGap), "o-ring", fixed(ring), fixed(w.section), "EPDM")
			} else {
				row = append(row, "", "", "", "", "", "", "", "")
			}
			if err := c.all(row...); err != nil {
				return err
			}
		}
		return nil
	})
}

// writeClasses writes the class of every family by part type, and of every
// part: who has the same class fits.
func (w *world) writeClasses(o *options) error {
	return o.table("classes.csv", []string{"of", "supplier", "name", "type", "class"}, func(c *cells) error {
		for i := range w.families {
			for k, class := range w.families[i].class {
				if err := c.all("family", "", w.families[i].name, kindNames[k], strconv.Itoa(class)); err != nil {
					return err
				}
			}
		}
		for s := range o.suppliers {
			for i := range o.partsOf(s) {
				p := newDesign(w, o.seed, i)
				if err := c.all("part", supplierName(s), number(s, i), kindNames[p.kind], strconv.Itoa(p.class)); err != nil {
					return err
				}
			}
		}
		return nil
	})
}

// writeVehicles writes the garage's vehicles, by their marks.
func (w *world) writeVehicles(o *options) error {
	r := newPCG(o.seed, vehicleStream)
	return o.table("vehicles.csv", []string{"vehicle", "engine", "first_fill"}, func(c *cells) error {
		for i := range o.vehicles {
			fill := ""
			if r.chance(30) {
				fill = "factory"
			}
			if err := c.all(mark(i), w.families[r.below(len(w.families))].name, fill); err != nil {
				return err
			}
		}
		return nil
	})
}

func mark(i int) string { return fmt.Sprintf("W %06d", i+1) }
