package importers

import (
	"fmt"
	"slices"
	"strings"
)

// askZeros asks about a column of part numbers of which many are on file with zeros
// in front, as a spreadsheet takes them off. Where they all have one length on file,
// they can be filled up to it.
func (p *proposal) askZeros(c *candidate) {
	if p.opt.Known == nil || c.Pad > 0 || p.accepted("lost-zeros") {
		return
	}
	lost, digits := 0, 0
	var lengths []int
	example, full := "", ""
	m := numberModel{limits: p.voc.limits, known: p.opt.Known}
	for _, t := range c.shape.texts {
		if strings.Trim(t, "0123456789") != "" || len(t) > maxZeros {
			continue
		}
		digits++
		if n := m.lostZeros(t); n != "" {
			if lost++; example == "" {
				example, full = t, n
			}
			if !slices.Contains(lengths, len(n)) {
				lengths = append(lengths, len(n))
			}
		}
	}
	if s := share(lost, digits); lost < 2 || s < p.voc.limits.get("lost_zeros_share") {
		return
	}
	p.zeros = true
	choices, command := []string{"hold"}, "--accept lost-zeros"
	if len(lengths) == 1 {
		choices, command = []string{fmt.Sprint(lengths[0]), "hold"}, fmt.Sprintf("--set pad=%d or --accept lost-zeros", lengths[0])
	}
	p.ask("lost-zeros", command, choices,
		"In column %q %s with zeros in front, such as %s as %s. Fill them up to that length, or hold those rows?",
		c.Heading, percentOf(share(lost, digits), "of the numbers are on file"), example, full)
}
