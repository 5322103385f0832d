package training

import (
	"math"

	"glidepath/athlete"
	"glidepath/civil"
)

// Bounds of monotony: where every day is alike the standard deviation is 0, and
// the ratio is capped. Foster's group took above 2 as high.
const (
	MonotonyCap  = 10.0
	MonotonyHigh = 2.0
)

// usualWeeks is how many weeks before a week are its usual load.
const usualWeeks = 4

// WeekLoad is how hard 7 days of training felt.
type WeekLoad struct {
	From     civil.Date `json:"from"`
	Sessions int        `json:"sessions"`
	Days     [7]float64 `json:"days"` // session load by day, RPE x minutes
	Load     float64    `json:"load"` // their sum
	Monotony float64    `json:"monotony"`
	Strain   float64    `json:"strain"`
	// OfUsual is the load over the mean of the four weeks before; nil where they are
	// not all logged. It describes a week and foretells no injury: the ratio of
	// acute to chronic load does not (Impellizzeri et al. 2020, Int J Sports Physiol
	// Perform 15:907; 2021, Sports Med 51:581).
	OfUsual *float64 `json:"of_usual,omitempty"`
}

// Load reckons the 7 days from a date: session load is session RPE (0 to 10)
// times minutes, days without a session are 0; monotony is the mean of the daily
// loads over their population standard deviation (divisor 7), at most
// MonotonyCap, and 0 without any training; strain is load times monotony
// (Foster 1998, Med Sci Sports Exerc 30:1164; Foster et al. 2001, J Strength
// Cond Res 15:109). The diary printed in 2001 has the population's too, though
// over its nine sessions rather than the seven days. With the sample standard
// deviation (divisor 6), which is also in use, monotony and strain are 7.4 % lower.
func Load(sessions []athlete.Session, from civil.Date) WeekLoad {
	w := WeekLoad{From: from}
	for i := range sessions {
		w.add(&sessions[i])
	}
	w.reckon()
	return w
}

// Loads reckons the whole weeks, Monday to Sunday, that lie within two dates, in
// order, those without a session included.
func Loads(sessions []athlete.Session, from, to civil.Date) []WeekLoad {
	first := from.AddDays(6).Monday()
	var all []WeekLoad
	for monday := first.AddDays(-7 * usualWeeks); monday.AddDays(6) <= to; monday = monday.AddDays(7) {
		all = append(all, WeekLoad{From: monday})
	}
	if len(all) <= usualWeeks {
		return nil
	}
	for i := range sessions {
		s := &sessions[i]
		if at := s.Date.DaysSince(all[0].From); at >= 0 && at/7 < len(all) {
			all[at/7].add(s)
		}
	}
	for i := range all {
		all[i].reckon()
		if i >= usualWeeks {
			all[i].compare(all[i-usualWeeks : i])
		}
	}
	return all[usualWeeks:]
}

func (w *WeekLoad) add(s *athlete.Session) {
	if i := s.Date.DaysSince(w.From); i >= 0 && i < 7 {
		w.Days[i] += s.RPE * s.Minutes
		w.Sessions++
	}
}

func (w *WeekLoad) reckon() {
	for _, d := range w.Days {
		w.Load += d
	}
	if w.Load == 0 {
		return
	}
	mean := w.Load / 7
	var squares float64
	for _, d := range w.Days {
		squares += (d - mean) * (d - mean)
	}
	w.Monotony = math.Min(MonotonyCap, mean/math.Sqrt(squares/7))
	w.Strain = w.Load * w.Monotony
}

func (w *WeekLoad) compare(before []WeekLoad) {
	var sum float64
	for i := range before {
		if before[i].Load == 0 {
			return
		}
		sum += before[i].Load
	}
	w.OfUsual = new(w.Load / (sum / float64(len(before))))
}
