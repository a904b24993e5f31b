package app

import "encoding/json"

// MarshalJSON writes the judgement with what the question was read as.
// (Embedding would hide these fields behind the judgement's own way of writing.)
func (a MixAnswer) MarshalJSON() ([]byte, error) {
	more := map[string]any{"vehicle": a.Vehicle, "engine": a.Engine, "fill": a.Fill, "add": a.Add}
	if a.Loss != nil {
		more["loss"] = figuresOf(a.Loss)
	}
	if a.NotKept != "" {
		more["not_kept"] = a.NotKept
	}
	if a.Own != nil {
		more["own_tables"] = a.Own
	}
	return withKeys(a.Answer, more)
}

// withKeys writes a value that writes itself with more keys beside its own.
func withKeys(v json.Marshaler, more map[string]any) ([]byte, error) {
	own, err := v.MarshalJSON()
	if err != nil {
		return nil, err
	}
	all := map[string]json.RawMessage{}
	if err := json.Unmarshal(own, &all); err != nil {
		return nil, err
	}
	for key, value := range more {
		if all[key], err = json.Marshal(value); err != nil {
			return nil, err
		}
	}
	return json.Marshal(all)
}
