package coolant

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
)

// drainMethod is a way to get the old coolant out and the share of it that
// comes with one drain.
type drainMethod struct {
	id        string
	low, high float64 // per cent of the system
	says      string
	row       catalog.RefRow
}

// flushLine is a sentence of a flush plan and when it is shown.
type flushLine struct {
	when, says string
}

var flushWhen = []string{"always", "rounds", "water-rounds", "cleaner", "cleaner-unlabelled", "oily", "dirty"}

func (t *Tables) loadDrains(rows []catalog.RefRow) error {
	for _, r := range rows {
		m := drainMethod{id: r.Get("method"), says: r.Get("says"), row: r}
		var err error
		if m.low, err = r.Float("share_low_pct"); err != nil {
			return err
		}
		if m.high, err = r.Float("share_high_pct"); err != nil {
			return err
		}
		if m.id == "" || m.low <= 0 || m.high < m.low || m.high > 100 {
			return unreadable(r, "share_low_pct", "must lie above 0, below share_high_pct and not above 100")
		}
		t.drains = append(t.drains, m)
	}
	return nil
}

func (t *Tables) loadFlush(rows []catalog.RefRow) error {
	for _, r := range rows {
		l := flushLine{r.Get("when"), r.Get("says")}
		if !slices.Contains(flushWhen, l.when) || l.says == "" {
			return unreadable(r, "when", "must be one of "+strings.Join(flushWhen, ", ")+", with a sentence")
		}
		t.flushLines = append(t.flushLines, l)
	}
	for _, need := range []string{limitRounds, limitFlushStrength, limitOily, limitLevel, limitLeak, limitLeakConfidence, limitYear} {
		if l, ok := t.limits[need]; !ok || l.value <= 0 {
			return fmt.Errorf("table coolant_limits: the row %q is missing or not above zero", need)
		}
	}
	return nil
}

// The rows of coolant_limits that only flushing and the log ask for.
const (
	limitRounds         = "flush_rounds_max"
	limitFlushStrength  = "flush_strength"
	limitOily           = "flush_oily_left"
	limitLevel          = "level_reading"
	limitLeak           = "leak_normal"
	limitLeakConfidence = "leak_confidence"
	limitYear           = "days_a_year"
)

// DrainMethods returns the names of the ways to drain that are on file.
func (t *Tables) DrainMethods() []string {
	list := make([]string, len(t.drains))
	for i, m := range t.drains {
		list[i] = m.id
	}
	return list
}

// drainMethod returns the way of that name.
func (t *Tables) drainMethod(id string) (drainMethod, bool) {
	i := slices.IndexFunc(t.drains, func(m drainMethod) bool { return m.id == id })
	if i < 0 {
		return drainMethod{}, false
	}
	return t.drains[i], true
}
