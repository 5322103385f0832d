package physiology

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"glidepath/fault"
)

// Edition is an edition of the Compendium of Physical Activities.
type Edition int

// The editions: Ainsworth et al. 2011, Med Sci Sports Exerc 43:1575; Herrmann et
// al. 2024, J Sport Health Sci 13:6 (adults of 19 to 59 years). Values are
// second-hand, from tables that transcribe them: two that agree for 2011, one for
// most of 2024, which names no codes, so that some are matched by their words.
const (
	Compendium2024 Edition = iota
	Compendium2011
)

// PosingMET is the intensity of a block of posing practice. No compendium has a
// code for it; 2.5 to 4 while a pose is held is a judgement.
const PosingMET MET = 3.0

// Activity is a line of the compendium. An edition that does not list it, or whose
// value was not to be seen, has a MET of 0.
type Activity struct {
	Code    string // five digits
	Name    string // in our words
	MET2011 MET
	MET2024 MET
}

// Newest is the intensity in the newest edition that has one.
func (a Activity) Newest() (MET, Edition) {
	if a.MET2024 > 0 {
		return a.MET2024, Compendium2024
	}
	return a.MET2011, Compendium2011
}

// String is the edition's year.
func (e Edition) String() string {
	if e == Compendium2011 {
		return "2011"
	}
	return "2024"
}

// MET is the intensity in an edition; ok is false where it has none.
func (a Activity) MET(e Edition) (met MET, ok bool) {
	met = a.MET2024
	if e == Compendium2011 {
		met = a.MET2011
	}
	return met, met > 0
}

// Activities lists every activity by code.
func Activities() []Activity { return slices.Clone(activities) }

// ActivityByCode finds an activity by its five digits; NotFound where there is
// none, with those near it.
func ActivityByCode(code string) (Activity, error) {
	i, found := slices.BinarySearchFunc(activities, code, func(a Activity, c string) int {
		return cmp.Compare(a.Code, c)
	})
	if !found {
		var near []string
		for _, a := range NearActivities(code, 3) {
			near = append(near, a.Code+" "+a.Name)
		}
		return Activity{}, fault.New(fault.NotFound, "no activity has the code %q.", code).
			WithField("code").WithHint("Near it are %s.", strings.Join(near, "; "))
	}
	return activities[i], nil
}

// NearActivities lists the most activities asked for that somebody may have meant
// by what is no code: those with the words in their name, or else those with the
// nearest codes, of the same heading (the first two digits) before others.
func NearActivities(code string, most int) []Activity {
	near := FindActivities(code)
	if n, err := strconv.Atoi(strings.TrimSpace(code)); err == nil {
		distance := func(a Activity) int {
			own, _ := strconv.Atoi(a.Code) // every code of the table is digits
			const heading, far = 1000, 100000
			d := max(own-n, n-own)
			if own/heading != n/heading {
				d += far
			}
			return d
		}
		near = Activities()
		slices.SortStableFunc(near, func(x, y Activity) int { return distance(x) - distance(y) })
	}
	if len(near) == 0 {
		near = Activities()
	}
	return near[:min(most, len(near))]
}

// FindActivities lists, by code, the activities whose name has every word of the
// query in any case and order; none for an empty query.
func FindActivities(query string) []Activity {
	words := strings.Fields(strings.ToLower(query))
	if len(words) == 0 {
		return nil
	}
	return filterActivities(func(a Activity) bool {
		name := strings.ToLower(a.Name)
		return !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(name, w) })
	})
}

// ActivitiesWithin lists, by code, the activities of an edition whose MET is from
// low to high.
func ActivitiesWithin(e Edition, low, high MET) []Activity {
	return filterActivities(func(a Activity) bool {
		met, ok := a.MET(e)
		return ok && met >= low && met <= high
	})
}

func filterActivities(keep func(Activity) bool) []Activity {
	var out []Activity
	for _, a := range activities {
		if keep(a) {
			out = append(out, a)
		}
	}
	return out
}
