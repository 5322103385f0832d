// Package food turns a weekly mean of energy into what to eat on each type of
// day: protein the same every day, fat above its floors, carbohydrate with the
// rest, more of it on training days and refeeds.
//
// Energy of food follows Atwater's general factors, 4 kcal/g for protein and
// carbohydrate and 9 for fat (Merrill & Watt 1955, USDA Agriculture Handbook
// 74). Carbohydrate is total carbohydrate, fibre included, as those factors
// assume.
//
// Rounding. The wanted mean is first rounded to 25 kcal, then every day's energy
// is a whole number of 25 kcal and the week's mean is exactly the rounded one.
// That is always possible: counts of day types that fill 7 days have no common
// divisor but 1 or 7. Grams are whole and their Atwater energy is exactly the
// day's: fat is chosen among the grams that leave a multiple of 4 kcal. The
// price is that days may differ from their aim by up to about 100 kcal.
//
// Whether the energy leaves enough for health (energy availability) is not
// judged here; a caller that stands at a floor rounds the mean up first.
package food
