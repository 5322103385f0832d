package season

// Rest is a rest that the plan takes.
type Rest struct{ Sentence string }

func (c *course) restIn(with *course, w int) Rest { return Rest{} }
