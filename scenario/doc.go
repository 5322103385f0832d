// Package scenario invents athletes and the logs they would keep: the demo
// roster, and cohorts for checking that the engine's intervals hold what they
// say they hold.
//
// Everybody and everything in it is invented: people, coach, clinic, shows,
// weights and menus. No value is anybody's record, and no show is a real one.
//
// The body that it simulates is deliberately not the engine's. It shares no
// code, no parameter and no equation of state with package dynamics: two
// compartments, a trained partition that bends with fat mass, deficit per kg of
// fat and protein, an expenditure built up from parts, an adaptation with a lag
// and a size of its own, and water that comes and goes for a dozen reasons.
// Where its form or its constants are judgement, the comment says so; the tests
// hold the whole against published cohorts.
//
// Each athlete has an independent random stream for every purpose, so a change
// of plan leaves the noise on the scale as it was, and the order in which
// athletes are simulated does not matter.
package scenario
