package training

import (
	"math"
	"slices"
	"strings"

	"glidepath/civil"
)

// DatedWeight is body weight on a day, best without the day's noise.
type DatedWeight struct {
	Date civil.Date `json:"date"`
	Kg   float64    `json:"kg"`
}

// How absolute strength goes with body weight: as its power. Between people of one
// build the exponent is 2/3 where an outside load is moved (Markovic & Jaric 2004,
// Eur J Appl Physiol 92:139), with 0.43 to 0.51 for weightlifters' totals (Batterham
// & George 1997, J Appl Physiol 83:2158) and less the more of the difference is fat
// (Folland et al. 2008, Eur J Appl Physiol 102:739: 0.66 below 20 % body fat, 0.45
// above). Within one athlete who loses mostly fat nothing is published; anything
// from 0, fat carries no strength, to 2/3 is taken as equally likely (judgement),
// which has this mean and standard deviation.
const (
	scaling  = 2. / 3
	rideMean = scaling / 2
	rideSD   = 0.19245 // 2/3 over the root of 12
)

// bodyShares are the parts of body weight that are lifted, by exercise. The push-up
// is measured: 64 % of body mass at the hands (Ebben et al. 2011, J Strength Cond
// Res 25:2891; the figure second-hand). On a bar the whole body hangs or stands on
// the hands but for hands and forearms, 4.5 % of men and 3.9 % of women (de Leva
// 1996, J Biomech 29:1223); that these do not count is judgement.
var bodyShares = map[string]float64{
	keyOf("pull up"):          0.958,
	keyOf("assisted pull up"): 0.958,
	keyOf("chin up"):          0.958,
	keyOf("dip"):              0.958,
	keyOf("push up"):          0.64,
}

// helped tells exercises in which a machine or a band takes weight off: what is
// logged counts against the body.
func helped(typed string) bool { return unhelped(typed) != "" }

// unhelped is the name of an exercise without the word for help; "" where there is
// none.
func unhelped(typed string) string {
	words := strings.Fields(strings.ToLower(typed))
	kept := slices.DeleteFunc(slices.Clone(words), func(w string) bool { return w == "assisted" || w == "assist" })
	if len(kept) == len(words) {
		return ""
	}
	return strings.Join(kept, " ")
}

// nearDays is how far from a day body weight may have been known to count as known
// on it (judgement).
const nearDays = 28

// weighIns is body weight over time, by date.
type weighIns []DatedWeight

func weighInsOf(weights []DatedWeight, asOf civil.Date) weighIns {
	s := make(weighIns, 0, len(weights))
	for _, w := range weights {
		if w.Date <= asOf && w.Kg > 0 && !math.IsInf(w.Kg, 0) {
			s = append(s, w)
		}
	}
	slices.SortStableFunc(s, func(a, b DatedWeight) int { return a.Date.DaysSince(b.Date) })
	return s
}

// on is body weight on a day: straight between two days, the nearest beyond the
// ends. known is false where none is known within nearDays.
func (s weighIns) on(day civil.Date) (kg float64, known bool) {
	i, _ := slices.BinarySearchFunc(s, day, func(w DatedWeight, on civil.Date) int { return w.Date.DaysSince(on) })
	switch {
	case len(s) == 0:
		return 0, false
	case i == len(s):
		last := s[i-1]
		return last.Kg, day.DaysSince(last.Date) <= nearDays
	case i == 0 || s[i].Date == day:
		return s[i].Kg, s[i].Date.DaysSince(day) <= nearDays
	}
	a, b := s[i-1], s[i]
	before, after := day.DaysSince(a.Date), b.Date.DaysSince(day)
	kg = a.Kg + (b.Kg-a.Kg)*float64(before)/float64(before+after)
	return kg, min(before, after) <= nearDays
}
