package physiology

import (
	"cmp"
	"slices"
	"strings"

	"glidepath/fault"
)

// Edition is an edition of the Compendium of Physical Activities.
type Edition int

// The editions: Ainsworth et al. 2011, Med Sci Sports Exerc 43:1575; Herrmann et
// al. 2024, J Sport Health Sci 13:6 (adults of 19 to 59 years). Values are
// second-hand, from tables that transcribe them.
const (
	Compendium2024 Edition = iota
	Compendium2011
)

// PosingMET is the intensity of a block of posing practice. No compendium has a
// code for it; 2.5 to 4 while a pose is held is a judgement.
const PosingMET MET = 3.0

// Activity is a line of the compendium. An edition that does not list it has a MET
// of 0.
type Activity struct {
	Code    string // five digits
	Name    string // in our words
	MET2011 MET
	MET2024 MET
	// Recalled2011 marks a 2011 value that is from memory.
	Recalled2011 bool
}

// MET is the intensity in an edition; ok is false where the edition does not list
// the activity.
func (a Activity) MET(e Edition) (met MET, ok bool) {
	met = a.MET2024
	if e == Compendium2011 {
		met = a.MET2011
	}
	return met, met > 0
}

// Where the editions name different bands of speed or power, the name gives that
// of 2024.
var activities = []Activity{
	{Code: "01200", Name: "cycling, stationary, general", MET2011: 7.0, MET2024: 6.8, Recalled2011: true},
	{Code: "01210", Name: "cycling, stationary, 25-30 W", MET2024: 3.5},
	{Code: "01214", Name: "cycling, stationary, 50 W", MET2024: 4.0},
	{Code: "01216", Name: "cycling, stationary, 60 W", MET2024: 5.0},
	{Code: "01218", Name: "cycling, stationary, 70-80 W", MET2024: 5.8},
	{Code: "01220", Name: "cycling, stationary, 90-100 W", MET2024: 6.0},
	{Code: "01224", Name: "cycling, stationary, 101-125 W", MET2024: 6.8},
	{Code: "01228", Name: "cycling, stationary, 126-150 W", MET2024: 8.0},
	{Code: "01232", Name: "cycling, stationary, 151-199 W", MET2024: 10.3},
	{Code: "01236", Name: "cycling, stationary, 200-229 W", MET2024: 10.8},
	{Code: "01240", Name: "cycling, stationary, 230-250 W", MET2024: 12.5},
	{Code: "01270", Name: "cycling, spin class", MET2011: 8.5, MET2024: 9.0, Recalled2011: true},
	// The 2011 edition had its own codes for stationary cycling.
	{Code: "02011", Name: "cycling, stationary, 30-50 W", MET2011: 3.5, Recalled2011: true},
	{Code: "02012", Name: "cycling, stationary, 90-100 W", MET2011: 6.8, Recalled2011: true},
	{Code: "02013", Name: "cycling, stationary, 101-160 W", MET2011: 8.8, Recalled2011: true},
	{Code: "02048", Name: "elliptical trainer, moderate", MET2011: 5.0, MET2024: 5.0},
	{Code: "02049", Name: "elliptical trainer, vigorous", MET2024: 9.0},
	{Code: "02050", Name: "resistance training, vigorous, powerlifting or bodybuilding", MET2011: 6.0, MET2024: 6.0},
	{Code: "02052", Name: "resistance training, squats or deadlifts, slow or explosive", MET2011: 5.0, MET2024: 5.0},
	{Code: "02054", Name: "resistance training, several exercises, 8-15 repetitions", MET2011: 3.5, MET2024: 3.5},
	{Code: "02065", Name: "stair-treadmill ergometer", MET2011: 9.0, MET2024: 9.3},
	{Code: "02070", Name: "rowing ergometer, general, vigorous", MET2011: 6.0, MET2024: 7.3},
	{Code: "02071", Name: "rowing ergometer, below 100 W", MET2011: 4.8, MET2024: 5.0},
	{Code: "02072", Name: "rowing ergometer, 100-149 W", MET2011: 7.0, MET2024: 7.5},
	{Code: "02073", Name: "rowing ergometer, 150-199 W", MET2011: 8.5, MET2024: 11.0},
	{Code: "02074", Name: "rowing ergometer, 200 W and more", MET2011: 12.0, MET2024: 14.0},
	{Code: "02101", Name: "stretching", MET2011: 2.3, MET2024: 2.3},
	{Code: "02210", Name: "high-intensity intervals, moderate", MET2024: 7.0},
	{Code: "02214", Name: "high-intensity intervals, vigorous", MET2024: 11.0},
	{Code: "03010", Name: "ballet or jazz, rehearsal", MET2011: 5.0, MET2024: 5.0, Recalled2011: true},
	{Code: "07021", Name: "sitting quietly", MET2011: 1.3, MET2024: 1.0},
	{Code: "07030", Name: "sleeping", MET2011: 0.95, MET2024: 1.0},
	{Code: "07040", Name: "standing quietly", MET2011: 1.3, MET2024: 1.3},
	{Code: "12020", Name: "jogging, general", MET2011: 7.0, MET2024: 7.5},
	{Code: "12030", Name: "running, 5 mph", MET2011: 8.3, MET2024: 8.5},
	{Code: "12050", Name: "running, 6 mph", MET2011: 9.8, MET2024: 9.3},
	{Code: "12070", Name: "running, 7 mph", MET2011: 11.0, MET2024: 11.0},
	{Code: "12080", Name: "running, 7.5 mph", MET2011: 11.5, MET2024: 11.8},
	{Code: "12090", Name: "running, 8 mph", MET2011: 11.8, MET2024: 12.0},
	{Code: "17034", Name: "walking, uphill, no load, 1-5 % grade", MET2024: 5.3},
	{Code: "17035", Name: "walking, uphill, no load, 6-10 % grade", MET2024: 7.0},
	{Code: "17036", Name: "walking, uphill, no load, 11-20 % grade", MET2024: 8.8},
	{Code: "17133", Name: "stair climbing, slow", MET2011: 4.0, MET2024: 4.5, Recalled2011: true},
	{Code: "17134", Name: "stair climbing, fast", MET2011: 8.8, MET2024: 9.3, Recalled2011: true},
	{Code: "17152", Name: "walking, 2.0-2.4 mph", MET2011: 2.8, MET2024: 2.8},
	{Code: "17170", Name: "walking, 2.5 mph", MET2011: 3.0, MET2024: 3.0},
	{Code: "17190", Name: "walking, 2.8-3.4 mph", MET2011: 3.5, MET2024: 3.8},
	{Code: "17200", Name: "walking, 3.5-3.9 mph, brisk", MET2011: 4.3, MET2024: 4.8},
	{Code: "17210", Name: "walking, 2.9-3.5 mph, 1-5 % grade", MET2011: 5.3},
	{Code: "17211", Name: "walking, 2.9-3.5 mph, 6-15 % grade", MET2011: 8.0},
	{Code: "17220", Name: "walking, 4.0-4.4 mph", MET2011: 5.0, MET2024: 5.5},
	{Code: "17230", Name: "walking, 4.5-4.9 mph", MET2011: 7.0, MET2024: 7.0},
	{Code: "17231", Name: "walking, 5.0-5.5 mph", MET2011: 8.3, MET2024: 8.5},
	{Code: "18230", Name: "swimming laps, crawl, fast", MET2011: 9.8, MET2024: 9.8},
	{Code: "18240", Name: "swimming laps, crawl, slow", MET2011: 5.8, MET2024: 5.8},
}

// Activities lists every activity by code.
func Activities() []Activity { return slices.Clone(activities) }

// ActivityByCode finds an activity by its five digits; NotFound where there is
// none.
func ActivityByCode(code string) (Activity, error) {
	i, found := slices.BinarySearchFunc(activities, code, func(a Activity, c string) int {
		return cmp.Compare(a.Code, c)
	})
	if !found {
		return Activity{}, fault.New(fault.NotFound, "no activity has the code %q.", code).WithField("code")
	}
	return activities[i], nil
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
