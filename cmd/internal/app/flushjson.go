package app

import "encoding/json"

// MarshalJSON writes the plan with what the question was read as. (Embedding
// would hide the three fields behind the plan's own way of writing.)
func (a FlushAnswer) MarshalJSON() ([]byte, error) {
	plan, err := a.FlushPlan.MarshalJSON()
	if err != nil {
		return nil, err
	}
	var all map[string]json.RawMessage
	if err := json.Unmarshal(plan, &all); err != nil {
		return nil, err
	}
	for key, text := range map[string]string{"engine": a.Engine, "from": a.From, "to": a.To} {
		if all[key], err = json.Marshal(text); err != nil {
			return nil, err
		}
	}
	return json.Marshal(all)
}
