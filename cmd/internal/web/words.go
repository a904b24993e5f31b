package web

import (
	"cmp"
	"html/template"
	"maps"
	"slices"
	"strings"

	"fitfill/catalog/pattern"
	"fitfill/cmd/internal/app"
	"fitfill/compat"
)

// sayings are the words of the page for the flags that an answer names.
var sayings = map[string]string{
	"engine": "the engine", "type": "the type of part", "part": "a part number", "supplier": "the supplier", "limit": "the number of parts to show",
	"year": "the model year", "vin8": "the 8th character of the VIN", "built": "the month of build", "displacement": "the displacement",
	"with": "what it has", "without": "what it has not", "measured": "a size", "bolt": "the bolt's thread", "torque": "the torque",
	"fill": "what is in it", "add": "what goes in", "vehicle": "the vehicle", "circuit": "the circuit",
	"fill-strength": "the strength of what is in it", "add-strength": "the strength of what goes in",
	"fill-volume": "how much is in it", "add-volume": "how much goes in", "fill-glycol": "the base of what is in it", "add-glycol": "the base of what goes in",
	"cap": "the cap's rating", "altitude": "the height above sea level", "coldest": "the coldest temperature", "look": "how it looks",
	"ph": "the pH", "nitrite": "the nitrite strip", "phosphate": "the phosphate strip", "silicate": "the silicate drops", "molybdate": "the molybdate strip",
	"reserve-alkalinity": "the alkalinity kit", "freeze-reads": "what the refractometer reads", "scale": "the refractometer's scale", "age": "the age of the fill",
	"hardness": "the hardness of the water", "chloride": "the chloride of the water",
	"from": "what is in it", "to": "what goes in", "volume": "what the system holds", "drain": "what comes out in one drain", "drained": "what came out",
	"residue": "how much of the old coolant may stay", "strength": "the strength to end at", "from-strength": "the strength of what is in it", "to-strength": "the strength of what goes in",
	"drain-with": "the way to drain", "rinse": "the rinse", "cleaner": "the cleaner", "coolant-rounds": "the number of rounds with coolant",
	"number": "what went in", "chemistry": "the chemistry", "water": "how much water", "date": "the day", "note": "the note",
	"take": "the part to take", "since": "the day to look back to", "as-of": "the day to count up to", "days": "the number of days", "labour-rate": "the labour rate",
	"compare": "the two suppliers", "reason": "the reason", "map": "the heading of a field", "ignore": "a heading to set aside", "set": "a setting", "accept": "what is accepted",
	"stamp": "the stamp", "as": "the kind of sheet",
}

var (
	flagExample = pattern.New(`(like|such as|or) --([a-z0-9-]+) ("[^"]*"|[^\s,;]+)`)
	flagName    = pattern.New(`(the )?--([a-z0-9-]+)( "[^"]*SIZE"| [A-Z]{2,}\b)?`)
	hintsSplit  = pattern.New(`;\s+`)
)

// leadIns are words that only lead to a command.
var leadIns = []string{"see", "try", "in", "is", "vehicle", "there", "command", "with", "by", "all"}

// command begins every command of the program.
const command = "fitfill "

// inPageWords puts what was said for the command line into the words of the
// page: flags become the names of what is asked for, and clauses that only name
// a command are left out.
func inPageWords(text string) string {
	var kept []string
	for _, clause := range hintsSplit.Split(text, -1) {
		if at := strings.Index(clause, command); at >= 0 {
			before := strings.TrimRight(clause[:at], " :(")
			words := strings.Fields(before)
			switch cut := strings.LastIndex(before, ","); {
			case len(words) == 0 || slices.Contains(leadIns, words[len(words)-1]) && cut <= 0:
				continue
			case slices.Contains(leadIns, words[len(words)-1]):
				before = before[:cut]
			}
			clause = before
		}
		kept = append(kept, clause)
	}
	text = strings.Join(kept, "; ")
	text = flagExample.ReplaceAllStringFunc(text, func(m string) string {
		p := flagExample.FindStringSubmatch(m)
		return p[1] + " " + strings.Trim(p[3], `"`)
	})
	return flagName.ReplaceAllStringFunc(text, func(m string) string {
		p := flagName.FindStringSubmatch(m)
		if said, ok := sayings[p[2]]; ok {
			return said
		}
		return strings.ReplaceAll(p[2], "-", " ")
	})
}

// sentence writes a text with a capital in front and a stop behind.
func sentence(text string) string {
	text = strings.TrimSpace(text)
	if text == "" {
		return ""
	}
	first := strings.ToUpper(text[:1])
	if text[0] >= 0x80 {
		first = text[:1]
	}
	text = first + text[1:]
	if !strings.ContainsAny(text[len(text)-1:], ".!?:") {
		text += "."
	}
	return text
}

// classes are the class of each outcome in the style; the words carry the
// meaning.
var classes = map[compat.Outcome]string{compat.Yes: "yes", compat.Caution: "caution", compat.No: "no", compat.CannotSay: "open"}

// verdict is an outcome in words, with its mark.
type verdict struct{ Mark, Class, Words string }

func verdictOf(o compat.Outcome, words string) verdict {
	return verdict{app.Marks[o], classes[o], words}
}

// pieces are the functions of the templates.
var pieces = template.FuncMap{
	"verdict": verdictOf,
	"plural": func(n int, one, many string) string {
		if n == 1 {
			return one
		}
		return many
	},
	"more": func(all, shown int) int { return all - shown },
}

// sortedNames lists the names of a count, the most frequent first.
func sortedNames(count map[string]int) []string {
	names := slices.Sorted(maps.Keys(count))
	slices.SortStableFunc(names, func(a, b string) int { return cmp.Compare(count[b], count[a]) })
	return names
}
