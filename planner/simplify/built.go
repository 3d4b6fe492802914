package simplify

// untilBuilt takes parts out until the judge is content.
func (e *engine) untilBuilt(r *Result, judge Judge) (*Result, error) {
	b, err := judge(r.Map)
	r.Last, r.Passes = b, b.OK
	return r, err
}
