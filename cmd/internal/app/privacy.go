package app

import "fitfill/catalog"

// MayNameVehicles says whether a file that leaves the data folder may name
// vehicles or customers: where it is asked for, or where the shop's settings
// allow it for good. what is what would be written. Every export that may name
// them calls it before it writes; the others never write a mark, a VIN, a
// customer, a document of a sale or a remark.
func (s *Shop) MayNameVehicles(asked bool, what string) error {
	if asked || s.Settings.Vehicles {
		return nil
	}
	return &UsageError{Problem: what + " name vehicles, and may name customers: they stay in the data folder", Hint: "to write them all the same: --with-vehicles, or the setting export_vehicles"}
}

// namesVehicles reports whether the rows of such a sheet may name vehicles.
func namesVehicles(kind catalog.SheetKind) bool {
	switch kind {
	case catalog.VehiclesSheet, catalog.FillsSheet, catalog.FittedSheet, catalog.PurchasesSheet, catalog.ReturnsSheet:
		return true
	}
	return false
}
