package app

import (
	"errors"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// AtLabourRate returns the shop with another price of an hour of labour to
// reckon with, such as "60 EUR". An empty text changes nothing.
func (s *Shop) AtLabourRate(hour string) (*Shop, error) {
	if strings.TrimSpace(hour) == "" {
		return s, nil
	}
	rate, err := units.ParseMoney(hour, "")
	if err == nil && rate.TenThousandths() < 0 {
		err = errors.New("it is below zero")
	}
	if err != nil {
		return nil, &UsageError{Problem: "--labour-rate: " + err.Error(), Hint: `write it like --labour-rate "60 EUR"`}
	}
	other := *s
	other.Settings.LabourRate = catalog.Say(rate, hour, catalog.Origin{})
	return &other, nil
}
