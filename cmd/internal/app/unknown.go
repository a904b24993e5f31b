package app

import (
	"context"
	"errors"
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
)

// unknownPart says that no active sheet has a number. A part that replaces it,
// or a held row about it, is the likeliest reason.
func unknownPart(ctx context.Context, v *sqlite.View, engine, number string) error {
	hint := fmt.Sprintf("try: fitfill find %s", number)
	now, err := replacements(ctx, v, number)
	if err != nil {
		return err
	}
	if len(now) > 0 {
		return &UnknownPart{Number: number, Hint: fmt.Sprintf("%s; try: fitfill fit %s --part %s", now[0].Says, engine, now[0].Number)}
	}
	held, err := v.HeldAbout(ctx, []string{catalog.Key(number)})
	if err != nil {
		return err
	}
	if len(held) > 0 {
		hint = fmt.Sprintf("a row about it is held back (%s line %d: %s)", held[0].Origin.Sheet, held[0].Line, held[0].Reason)
	}
	return &UnknownPart{Number: number, Hint: hint}
}

// UnknownPart says that no sheet in use has a part number.
type UnknownPart struct{ Number, Hint string }

// Error returns the problem.
func (e *UnknownPart) Error() string { return fmt.Sprintf("no sheet has the number %q", e.Number) }

// IsUnknown reports whether an error says that something asked for is not in
// the catalogue, and returns the hint.
func IsUnknown(err error) (hint string, ok bool) {
	var engine *UnknownEngine
	var part *UnknownPart
	var vehicle *UnknownVehicle
	var several *SeveralEngines
	var sheet *UnknownSheet
	switch {
	case errors.As(err, &sheet):
		return "the sheets in use stand in: fitfill sheets list", true
	case errors.As(err, &several):
		return several.Hint, true
	case errors.As(err, &engine):
		return engine.Hint, true
	case errors.As(err, &part):
		return part.Hint, true
	case errors.As(err, &vehicle):
		return vehicle.Hint, true
	}
	return "", false
}
