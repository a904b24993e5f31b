package app

// MarshalJSON writes the plan with what the question was read as. (Embedding
// would hide the fields behind the plan's own way of writing.)
func (a FlushAnswer) MarshalJSON() ([]byte, error) {
	more := map[string]any{"engine": a.Engine, "from": a.From, "to": a.To}
	if a.Own != nil {
		more["own_tables"] = a.Own
	}
	return withKeys(a.FlushPlan, more)
}
