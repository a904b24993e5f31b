package app

import "fmt"

// findLimits are the figures of the table find_limits by their key.
type findLimits map[string]float64

func (s *Shop) findLimits() (findLimits, error) {
	rows, err := s.ref.Table("find_limits")
	if err != nil {
		return nil, err
	}
	l := findLimits{}
	for _, r := range rows {
		if l[r.Get("key")], err = r.Float("value"); err != nil {
			return nil, err
		}
	}
	for _, need := range []string{
		"displacement_same", "length_whole", "length_exact", "length_inch", "rating_same", "pressure_same", "volume_same",
		"bare_celsius_low", "bare_celsius_high", "bare_fahrenheit_low", "bare_fahrenheit_high",
	} {
		if l[need] == 0 {
			return nil, fmt.Errorf("table find_limits has no row %s", need)
		}
	}
	return l, nil
}
