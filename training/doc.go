// Package training reads the training log: strength by lift and how much of it
// is kept, weekly hard sets by muscle, session load, and whether recovery asks
// for fewer sets. It proposes less volume or none of a change, never more for
// fat loss.
//
// Strength is one sign among others. In trials an energy deficit stops gains of
// lean mass while strength still rises (Murphy & Koehler 2022, Scand J Med Sci
// Sports 32:125), so strength that holds does not prove that muscle holds, and
// strength that falls may be fatigue, fewer carbohydrates or a lighter body.
package training
