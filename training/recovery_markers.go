package training

import (
	"math"
	"slices"

	"glidepath/athlete"
	"glidepath/civil"
)

// signs is how many markers there are.
const signs = 7

// recoverySign is what is expected of a marker before an athlete's own log is seen.
type recoverySign struct {
	name, unit string
	decimals   int
	of         func(*athlete.Day) *float64
	better     float64 // 1 where more is better, -1 where less is
	// tells is the correlation of one day's value with the state in usual times.
	tells float64
	// baseline and spread are the mean and SD of what is usual between athletes,
	// scatter the SD of an athlete's values from day to day.
	baseline, spread, scatter float64
	// drift is how far what is usual moves in a week for reasons of its own, in
	// scatters.
	drift float64
}

// recoverySigns in the order in which they are told. Their sizes are judgement, and
// what published work says of them is this. What athletes say of themselves answers
// to training load with more sensitivity and consistency than what is measured (Saw,
// Main & Gastin 2016, Br J Sports Med 50:281: 56 studies). Of daily ratings fatigue
// follows the load most closely (Thorpe et al. 2015, Int J Sports Physiol Perform
// 10:958: r -0.51 for fatigue, negligible for soreness and sleep), and all three stand
// 35 to 40 % worse the day after a match (Thorpe et al. 2016, 11:947). Resting pulse
// rises in short overload (0.55 SD) and not in long (Bosquet et al. 2008, Br J Sports
// Med 42:709), and in a preparation it falls by a third to a half as the athlete gets
// lean (Kistler et al. 2014, 71 to 44; Rossow et al. 2013, 53 to 27): so it tells
// little, and what is usual drifts. Hunger goes with the diet more than with recovery.
var recoverySigns = [signs]recoverySign{
	{"fatigue", "of 10", 1, func(d *athlete.Day) *float64 { return d.Fatigue }, -1, 0.65, 4, 1.5, 1.2, 0.1},
	{"sleep", "h a night", 1, func(d *athlete.Day) *float64 { return d.SleepH }, 1, 0.4, 7.2, 0.8, 0.9, 0.1},
	{"soreness", "of 10", 1, func(d *athlete.Day) *float64 { return d.Soreness }, -1, 0.45, 4, 1.5, 1.4, 0.1},
	{"motivation", "of 10", 1, func(d *athlete.Day) *float64 { return d.Motivation }, 1, 0.55, 7, 1.5, 1.2, 0.1},
	{"mood", "of 10", 1, func(d *athlete.Day) *float64 { return d.Mood }, 1, 0.5, 7, 1.5, 1.1, 0.1},
	{"resting pulse", "beats a minute", 0, func(d *athlete.Day) *float64 { return d.RestingPulse }, -1, 0.25, 58, 8, 3, 0.5},
	{"hunger", "of 10", 1, func(d *athlete.Day) *float64 { return d.Hunger }, -1, 0.2, 4, 1.5, 1.3, 0.4},
}

// markerLog is the logged values of the markers in use, in whole weeks up to a day.
type markerLog struct {
	from   civil.Date
	signs  []*recoverySign
	days   [][]float64 // a row a day, a column a sign; NaN where nothing is logged
	logged []bool      // any of them, by day
}

// readMarkers takes the log of the weeks from a date to another, at least four.
func readMarkers(days []athlete.Day, from, to civil.Date) *markerLog {
	const least = 4
	weeks := max(least, (to.DaysSince(from)+7)/7)
	l := &markerLog{from: to.AddDays(1 - 7*weeks), logged: make([]bool, 7*weeks)}
	for i := range recoverySigns {
		s := &recoverySigns[i]
		n := 0
		for j := range days {
			if v := s.of(&days[j]); v != nil && l.index(days[j].Date) >= 0 {
				n++
			}
		}
		if n >= markerLeast {
			l.signs = append(l.signs, s)
		}
	}
	cells := make([]float64, len(l.logged)*len(l.signs))
	for i := range cells {
		cells[i] = math.NaN()
	}
	l.days = make([][]float64, len(l.logged))
	for t := range l.days {
		l.days[t] = cells[t*len(l.signs) : (t+1)*len(l.signs)]
	}
	for i := range days {
		t := l.index(days[i].Date)
		if t < 0 {
			continue
		}
		for k, s := range l.signs {
			if v := s.of(&days[i]); v != nil {
				l.days[t][k], l.logged[t] = *v, true
			}
		}
	}
	return l
}

// index is the row of a date, -1 where it has none.
func (l *markerLog) index(on civil.Date) int {
	if t := on.DaysSince(l.from); t >= 0 && t < len(l.logged) {
		return t
	}
	return -1
}

// How the scatter of an athlete's own values is learned (judgement).
const (
	scatterWorth = 10.0 // pairs of days that the expected scatter weighs
	scatterLeast = 0.4  // of the expected, the least that is believed: a scale has steps
	pairApart    = 3    // days between two values of a pair, at most
	mostOut      = 5.0  // scatters beyond which a value is taken as that far out
)

// scatter is the SD of an athlete's values of a sign from day to day, from pairs of
// days close to each other (von Neumann 1941, Ann Math Stat 12:367), whose mean
// squared difference is twice the variance of the noise and of that part of the
// state that passes between them.
func (l *markerLog) scatter(k int, keeps float64) float64 {
	s := l.signs[k]
	sum, n, last := 0.0, 0.0, -1
	for t := range l.days {
		v := l.days[t][k]
		if math.IsNaN(v) {
			continue
		}
		if last >= 0 && t-last <= pairApart {
			off := v - l.days[last][k]
			stays := s.tells * s.tells * math.Pow(keeps, float64(t-last))
			sum += off * off / 2 / (1 - stays)
			n++
		}
		last = t
	}
	expected := s.scatter * s.scatter
	return math.Max(scatterLeast*s.scatter, math.Sqrt((scatterWorth*expected+sum)/(scatterWorth+n)))
}

// bound brings a slip of the pen near: no value is further from the middle one than
// mostOut scatters.
func (l *markerLog) bound(k int, scatter float64) {
	var all []float64
	for t := range l.days {
		if v := l.days[t][k]; !math.IsNaN(v) {
			all = append(all, v)
		}
	}
	slices.Sort(all)
	middle := all[len(all)/2]
	for t := range l.days {
		l.days[t][k] = math.Max(middle-mostOut*scatter, math.Min(middle+mostOut*scatter, l.days[t][k]))
	}
}
