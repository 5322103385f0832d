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

// WeekLoad is how hard 7 days of training felt.
type WeekLoad struct {
	From     civil.Date `json:"from"`
	Days     [7]float64 `json:"days"` // session load by day, RPE x minutes
	Load     float64    `json:"load"` // their sum
	Monotony float64    `json:"monotony"`
	Strain   float64    `json:"strain"`
}

// Load reckons the 7 days from a date: session load is session RPE (0 to 10)
// times minutes, days without a session are 0; monotony is the mean of the daily
// loads over their population standard deviation (divisor 7), at most
// MonotonyCap, and 0 without any training; strain is load times monotony
// (Foster 1998, Med Sci Sports Exerc 30:1164; Foster et al. 2001, J Strength
// Cond Res 15:109). Printed examples elsewhere often use the sample standard
// deviation, which gives values 7 % lower.
func Load(sessions []athlete.Session, from civil.Date) WeekLoad {
	w := WeekLoad{From: from}
	for _, s := range sessions {
		if i := s.Date.DaysSince(from); i >= 0 && i < 7 {
			w.Days[i] += s.RPE * s.Minutes
		}
	}
	for _, d := range w.Days {
		w.Load += d
	}
	if w.Load == 0 {
		return w
	}
	mean := w.Load / 7
	var squares float64
	for _, d := range w.Days {
		squares += (d - mean) * (d - mean)
	}
	w.Monotony = math.Min(MonotonyCap, mean/math.Sqrt(squares/7))
	w.Strain = w.Load * w.Monotony
	return w
}
