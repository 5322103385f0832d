// Package cardio gives the energy of walking, cardio and lifting over rest, what
// it costs in fatigue, and the least tiring mix for an expenditure wanted.
//
// Energy is net: what comes on top of resting. Where a published equation holds
// (walking, running, leg cycling, stepping) it is used; the rest are codes of the
// Compendium of Physical Activities, whose values for one person may be out by a
// third. What a machine or a watch claims is weighed by its own error. Fatigue is
// judgement, kept in a table that a coach can change. docs/cardio.md has the whole of
// it, with the sources.
package cardio
