package sqlite

import (
	"context"
	"strings"

	"fitfill/catalog/units"
)

// Application is a vehicle and engine for which lists have parts.
type Application struct {
	Make, Model, Engine string
	Years               units.ModelYears
	YearsText           string
	VIN8                string
}

// VehicleName is a make or a model as a list writes it.
type VehicleName struct {
	Key   string
	Text  string
	Make  bool // it stands as a make
	Model bool // it stands as a model
}

// VehicleNames returns the makes and models whose text folds to one of the
// keys.
func (v *View) VehicleNames(ctx context.Context, keys []string) ([]VehicleName, error) {
	return v.vehicleNames(ctx, "n.key"+inList, list(keys))
}

// VehicleNamesBeginning returns the makes and models whose text folds to a key
// with that beginning, and is not that key itself.
func (v *View) VehicleNamesBeginning(ctx context.Context, key string) ([]VehicleName, error) {
	return v.vehicleNames(ctx, "n.key > ? AND n.key < ?", key, key+"\uffff")
}

// AllVehicleNames returns every make and model.
func (v *View) AllVehicleNames(ctx context.Context) ([]VehicleName, error) {
	return v.vehicleNames(ctx, "1")
}

func (v *View) vehicleNames(ctx context.Context, where string, args ...any) ([]VehicleName, error) {
	var list []VehicleName
	err := v.each(ctx, `SELECT n.key, w.text, EXISTS (SELECT 1 FROM application WHERE make = n.word_id), EXISTS (SELECT 1 FROM application WHERE model = n.word_id)
		FROM vehicle_name n JOIN word w ON w.id = n.word_id WHERE `+where+` ORDER BY n.key, w.text`, args, func(r record) error {
		var n VehicleName
		err := r.Scan(&n.Key, &n.Text, &n.Make, &n.Model)
		list = append(list, n)
		return err
	})
	return list, err
}

// EngineNames returns the engine texts of lists that fold to one of the keys,
// by key.
func (v *View) EngineNames(ctx context.Context, keys []string) (map[string]string, error) {
	names := map[string]string{}
	err := v.each(ctx, "SELECT n.key, w.text FROM engine_name n JOIN word w ON w.id = n.word_id WHERE n.key"+inList+
		" ORDER BY w.text DESC", []any{list(keys)}, func(r record) error {
		var key, text string
		err := r.Scan(&key, &text)
		names[key] = text
		return err
	})
	return names, err
}

// Applications returns what active lists state for vehicles of one of the makes
// and one of the models; no makes or no models asks for all of them.
func (v *View) Applications(ctx context.Context, makes, models []string) ([]Application, error) {
	var where []string
	var args []any
	for column, keys := range map[string][]string{"make": makes, "model": models} {
		if len(keys) > 0 {
			where = append(where, "a."+column+" IN (SELECT word_id FROM vehicle_name WHERE key"+inList+")")
			args = append(args, list(keys))
		}
	}
	return v.applications(ctx, strings.Join(where, " AND "), args...)
}

// ApplicationsOfEngine returns what active lists state for an engine whose text
// folds to one of the keys.
func (v *View) ApplicationsOfEngine(ctx context.Context, keys []string) ([]Application, error) {
	return v.applications(ctx, "a.engine IN (SELECT word_id FROM engine_name WHERE key"+inList+")", list(keys))
}

// ApplicationsOfVIN8 returns what active lists state for a character at
// position 8 of the VIN.
func (v *View) ApplicationsOfVIN8(ctx context.Context, character string) ([]Application, error) {
	return v.applications(ctx, "a.vin8 IN (SELECT id FROM word WHERE text IN (?, ?))", strings.ToUpper(character), strings.ToLower(character))
}

// ModelYears returns what the applications of lists state of model years, each
// statement once.
func (v *View) ModelYears(ctx context.Context) ([]units.ModelYears, error) {
	var list []units.ModelYears
	err := v.each(ctx, "SELECT w.text FROM (SELECT DISTINCT years FROM application) a JOIN word w ON w.id = a.years WHERE w.text <> ''", nil, func(r record) error {
		var text string
		if err := r.Scan(&text); err != nil {
			return err
		}
		years, err := units.ParseModelYears(text)
		list = append(list, years)
		return err
	})
	return list, err
}

func (v *View) applications(ctx context.Context, where string, args ...any) ([]Application, error) {
	var list []Application
	err := v.each(ctx, `SELECT DISTINCT make.text, model.text, engine.text, years.text, vin8.text FROM application a
		JOIN word make ON make.id = a.make JOIN word model ON model.id = a.model JOIN word engine ON engine.id = a.engine
		JOIN word years ON years.id = a.years JOIN word vin8 ON vin8.id = a.vin8
		WHERE `+where+` AND EXISTS (SELECT 1 FROM fitment f JOIN sheet s ON s.id = f.sheet_id AND s.active = 1 WHERE f.application_id = a.id)
		ORDER BY 1, 2, 3, 4`, args, func(r record) error {
		var a Application
		if err := r.Scan(&a.Make, &a.Model, &a.Engine, &a.YearsText, &a.VIN8); err != nil {
			return err
		}
		if a.YearsText != "" {
			var err error
			if a.Years, err = units.ParseModelYears(a.YearsText); err != nil {
				return err
			}
		}
		list = append(list, a)
		return nil
	})
	return list, err
}
