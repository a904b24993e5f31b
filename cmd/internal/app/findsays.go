package app

import (
	"fmt"
	"strings"

	"fitfill/catalog/words"
)

// HowRead says how each stretch of the words was read, and what was not, for
// every output.
func (a FindAnswer) HowRead() string {
	as := strings.ReplaceAll(a.ReadAs, "-", " ")
	if a.ReadAs == string(words.AsVIN) {
		as = "a VIN"
	}
	text := "Read as " + as
	var reads []string
	for _, s := range a.Reads {
		if strings.EqualFold(s.Text, s.Means) || strings.EqualFold(as, s.Means) || strings.EqualFold(as, "a "+s.Means) {
			reads = append(reads, s.Text)
			continue
		}
		reads = append(reads, fmt.Sprintf("%s (%s)", s.Text, s.Means))
	}
	if len(reads) > 0 {
		text += ": " + strings.Join(reads, ", ")
	}
	for _, c := range a.Corrected {
		text += fmt.Sprintf("; %q taken for %q", c.From, c.To)
	}
	if len(a.LeftOut) > 0 {
		text += "; left out, since no such part has it: " + strings.Join(a.LeftOut, ", ")
	}
	return text
}
