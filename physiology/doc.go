// Package physiology has the published static equations of the field: resting
// expenditure, body composition, energy cost of activity, energy availability,
// one-repetition maximum, reference intakes and the constants of the adult
// body-weight model.
//
// Each function names its source and its valid range; outside that range it
// returns a *fault.Error of kind Invalid. Where a standard error is published,
// or is judged here and said to be, the answer is an Estimate; a bare float64
// has no published error, which does not mean that it has none.
//
// How far a number was checked is said beside it. "Verified" is not repeated at
// each line: it is what stands without a remark. "Second-hand" was read in a
// page that transcribes the source, "from memory" was not seen at all, and
// "judgement" is ours.
package physiology
