package app

import (
	"fmt"
	"math"

	"fitfill/catalog/units"
)

// PourPrice is what a pack of coolant holds and what it costs when it is ready
// to pour.
type PourPrice struct {
	PackL         float64 `json:"pack_l,omitempty"`
	ReadyPerLitre string  `json:"ready_to_pour_per_l,omitempty"`
	ReadyStrength float64 `json:"ready_to_pour_vol_pct,omitempty"`
	ready         string
}

// pourPrice fills in what a pack of coolant holds and what it costs per litre
// ready to pour, so that a concentrate and a premix can be compared.
func (s *Shop) pourPrice(h *Hit) {
	p := h.Part
	if p.Type.Value != "coolant" || !p.PackVolume.Known {
		return
	}
	h.PackL = p.PackVolume.Value.Litres()
	made, strength, ok := s.coolant().ReadyToPour(*p)
	if !ok || !p.Price.Known || p.PricePer.Known && p.PricePer.Value != "each" && p.PricePer.Value != "pack" {
		return
	}
	const cent = 100 // ten-thousandths
	price := p.Price.Value
	h.ReadyPerLitre = units.MoneyOf(cent*int64(math.Round(float64(price.TenThousandths())/cent/made.Litres())), price.Currency()).String()
	h.ReadyStrength = strength.Percents()
	h.ready = fmt.Sprintf("%s per litre ready to pour at %.0f %%", h.ReadyPerLitre, h.ReadyStrength)
}

// Pack is the pack and what it costs ready to pour, in words; "" where it is
// not on file.
func (h Hit) Pack(u units.System) string {
	switch {
	case h.PackL == 0:
		return ""
	case h.ready == "":
		return "pack of " + u.FormatVolume(h.Part.PackVolume.Value)
	}
	return "pack of " + u.FormatVolume(h.Part.PackVolume.Value) + ", " + h.ready
}
