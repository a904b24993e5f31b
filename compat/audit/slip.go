package audit

import (
	"fmt"
	"slices"

	"fitfill/compat"
)

var _ = register(func() any { return &slips{} })

// slips finds names that are written with a slip of the pen that suppliers share:
// one of the lists is a copy of the other, and they count as one.
type slips struct{ seen []Slip }

func (c *slips) engine(_ *settings, e *Engine) []Finding {
	for _, s := range e.Slips {
		i := slices.IndexFunc(c.seen, func(o Slip) bool { return o.Written == s.Written && slices.Equal(o.Suppliers, s.Suppliers) })
		if i < 0 {
			c.seen = append(c.seen, s)
			continue
		}
		c.seen[i].Lines = append(c.seen[i].Lines, s.Lines...)
	}
	return nil
}

func (c *slips) end(*settings) []Finding {
	var out []Finding
	for _, s := range c.seen {
		for _, name := range s.Suppliers {
			f := Finding{
				Check: "slip", Supplier: name, Grade: compat.Presumed, Cost: Cost{Engines: 1}, Against: []compat.Evidence{},
				Says: fmt.Sprintf("Writes %q where others write %q, as another list does: one is a copy of the other, and they count as one.", s.Written, s.Meant),
			}
			for _, o := range s.Lines {
				if o.Supplier == name {
					f.Lines = append(f.Lines, compat.From(o))
				} else {
					f.Against = append(f.Against, compat.From(o))
				}
			}
			f.Lines, f.Against = once(f.Lines), once(f.Against)
			out = append(out, f)
		}
	}
	return out
}
