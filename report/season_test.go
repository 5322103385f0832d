package report_test

import (
	"math"

	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/chart/charttest"
	"glidepath/civil"
	"glidepath/report"
)

func est(value, low, high float64) *report.Estimate {
	return &report.Estimate{Value: value, Low: low, High: high}
}

// season is a whole document of an invented athlete, 18 weeks into a 26-week
// prep. Its sentences are what a coach would want to read; its numbers fit the
// invented season of charttest.
func season() report.Document {
	s := charttest.New()
	show := charttest.ShowDay
	d := report.Document{
		Name:     "Mira Sølvang",
		Show:     &report.Show{Name: "Northern Open", Division: "figure", Date: show},
		AsOf:     charttest.AsOf,
		LogsTo:   charttest.AsOf,
		Invented: true,
		Lead:     "1.3 weeks of slack; losing 0.5 % a week as planned, and the forecast stands 0.4 kg above the target: add 1,000 steps a day and hold the food.",
	}
	d.Corridor = report.Corridor{
		Section:        report.Section{Sentence: "Mira is inside the corridor and near the plan; the forecast ends 0.4 kg heavy of the target, with the room to the upper edge shrinking from 1.9 to 1.3 weeks since May."},
		Chart:          s.Corridor,
		Now:            est(60.3, 60.0, 60.6),
		RatePctPerWeek: est(-0.49, -0.62, -0.36),
		SlackWeeks:     est(1.3, 0.4, 2.3),
		AtShow:         est(58.6, 57.5, 59.6),
	}
	d.Review = review()
	d.Prescription = prescription()
	d.Appraisal = appraisal()
	d.Season = seasonMap(s.Corridor)
	d.Expenditure = expenditure(s.Corridor)
	d.Composition = report.Composition{
		Section:    report.Section{Sentence: "Body fat has come down from 24.6 % to 15.5 % and lean mass by 0.6 kg, which the interval cannot tell from none."},
		Chart:      s.Composition,
		BodyFatPct: est(15.5, 14.0, 17.0), FatKg: est(9.3, 8.4, 10.3), LeanKg: est(51.0, 50.4, 51.7),
	}
	d.Strength = report.Strength{
		Section: report.Section{Sentence: "Strength overall stands at 97 % of the off-season baseline; the squat and the presses have slipped, the rows and pull-ups have not."},
		Chart:   s.Strength,
		Lifts: []report.Lift{
			{Name: "Back squat", BaselineKg: est(102, 99, 105), NowKg: est(97.9, 95, 101), RetainedPct: est(96, 93, 100), LastLogged: charttest.AsOf - 2},
			{Name: "Bench press", BaselineKg: est(62, 60, 64), NowKg: est(59.4, 57.1, 61.6), RetainedPct: est(96, 92, 99), LastLogged: charttest.AsOf - 3},
			{Name: "Overhead press", BaselineKg: est(41, 39.5, 42.5), NowKg: nil, RetainedPct: nil, Note: "took over from machine press"},
		},
		Muscles: s.Kept, OverBodyPct: est(105, 102, 108), FairPct: est(102, 99, 105),
		Findings: []string{"No real loss of strength as a whole is found, but one in some lifts."},
		Cannot:   []string{"Pull-ups lift an unknown part of the body."},
	}
	d.Activity = report.Activity{Section: report.Section{Sentence: "Steps have kept to what was asked, 9,500 a day; cardio went from 60 to 150 minutes a week in mid-June and is done."}, Chart: s.Activity}
	d.Cardio = report.Cardio{
		Section: report.Section{Sentence: "300 kcal cost Mira least as incline walking: 64 minutes, 378 points of fatigue."},
		Kcal:    300, Trade: s.Trade,
		Ways: []report.Way{
			{Name: "Incline walking, 4.5 km/h at 5 %", Amount: "64 min", Points: 378, LowKcal: 196, HiKcal: 404, Impact: 15, Hardness: 70, Open: true, Remark: "Best on Tuesday, away from the lifting."},
			{Name: "Running, 8.5 km/h", Amount: "31 min", Points: 902, LowKcal: 206, HiKcal: 394, Impact: 135, Hardness: 432, Overlap: 60, Remark: "Not in the profile."},
		},
		Mix: "The least tiring way would be 10,500 steps a day.", Yield: "Of what activity costs, 79 % adds to the day.",
		Reserve:         chart.Splits{Title: "Steps and cardio beyond the habit, kcal a day", Kinds: []string{"the plan uses", "in reserve"}, Weeks: []chart.SplitWeek{{From: charttest.AsOf, Sets: []float64{180, 150}}, {From: charttest.AsOf.AddDays(7), Sets: []float64{250, 80}}}},
		ReserveSentence: "This week the plan uses 180 of the 330 kcal a day.",
		ReserveWeeks:    []report.ReserveWeek{{From: charttest.AsOf, Phase: athlete.Prep, UsedKcal: 180, ThereKcal: 330, StepsLeft: 1500, MinutesLeft: 120, AddsKcal: 118, FoodToLeft: 60}},
	}
	d.Recovery = report.Recovery{
		Section: report.Section{
			Sentence: "Hunger has climbed to 7.7 of 10 and sleep is down by half an hour since March.",
			Cautions: []report.Caution{{
				Text: "The last period logged began 61 days ago.",
				Call: "Two missed in a row are a reason to see a physician who knows athletes before the next cut in energy; three block any further deficit here.",
			}},
		},
		Chart:    s.Recovery,
		State:    s.State,
		Signs:    []report.Sign{{Name: "Sleep", Lately: new(6.6), Usual: 7.3, Effect: -0.6}, {Name: "Mood", Usual: 7}},
		Capacity: &report.Capacity{SharePct: est(82, 70, 95), Sentence: "One may expect recovery from about 82 % of the off-season’s hard sets (70 to 95).", Evidence: "It is judgement, and its evidence is thin."},
		Cannot:   []string{"No off-season is logged before the diet."},
	}
	d.Sets = report.Sets{
		Section: report.Section{Sentence: "By muscle it comes to 62 hard sets a week, 88 % of the off-season’s."},
		Chart:   s.Muscles, Reps: s.Splits,
		Weeks: []report.SetsWeek{
			{From: charttest.AsOf.AddDays(-13), Whole: true, HardSets: 48, TonnageKg: 21450, Muscles: []athlete.MuscleSets{{Muscle: athlete.Chest, Sets: 9.5}, {Muscle: athlete.Back, Sets: 12}}},
			{From: charttest.AsOf.AddDays(-6), HardSets: 31, TonnageKg: 14020, Muscles: []athlete.MuscleSets{{Muscle: athlete.Chest, Sets: 5}, {Muscle: athlete.Back, Sets: 8}}},
		},
		Uncounted: []string{"Odd carry (two sets)"},
	}
	d.Load = report.Load{
		Section: report.Section{Sentence: "In the week from 22 Jun the load was 1,930."},
		Chart:   s.Loads,
		Weeks:   []report.LoadWeek{{From: charttest.AsOf.AddDays(-13), Sessions: 4, Load: new(1930.0), Monotony: new(1.3), Strain: new(2509.0), OfUsual: new(1.1)}, {From: charttest.AsOf.AddDays(-6)}},
	}
	d.Chances = report.Chances{
		Section: report.Section{Sentence: "As things stand the target is likely to be met within its tolerance; two thirds of what is open comes from how well the food is logged."},
		Of: []report.Chance{
			{Of: "On target on the day", P: 0.71, Low: new(0.62), High: new(0.79), Note: "12 to 14 % body fat"},
			{Of: "Inside the class limit", P: 0.996},
			{Of: "Energy availability above its floor all the way", P: 0.42, Low: new(0.31), High: new(0.54), Note: "30 kcal per kg fat-free mass a day"},
			{Of: "Lean mass kept within 1 kg", P: 0.86, Low: new(0.74), High: new(0.93)},
		},
	}
	d.CannotTell = report.CannotTell{
		Section: report.Section{Sentence: "Three things that matter here are not in the logs."},
		Items: []string{
			"Whether the legs are in: a picture or the coach's eye says more than a body-fat figure with an interval of three points.",
			"What was eaten in the travel week of May: nothing was logged, and the band is wide there.",
			"Whether the food log misses a constant share. It does no harm to the plan, which is on the log's own scale, but the numbers are not true energies.",
		},
	}
	return d
}

func review() report.Review {
	return report.Review{
		Section:  report.Section{Sentence: "One small change is proposed, and it waits for your decision."},
		Date:     charttest.AsOf,
		Proposal: "Add 1,000 steps a day; leave food, cardio and training as they are.",
		Changes:  []report.Change{{Lever: "Steps", From: "9,500 a day", To: "10,500 a day"}, {Lever: "Energy, weekly mean", From: "1,910 kcal a day", To: "1,910 kcal a day"}},
		Reasons: []string{
			"The forecast for the show is 58.6 kg (57.5 to 59.6) against a target of 58.2 kg (57.5 to 58.9).",
			"Closing the gap takes about 45 kcal a day (10 to 80) for the 7.9 weeks left.",
			"Energy availability is 31 kcal per kg fat-free mass a day (28 to 34), close to the floor of 30, so food should not be the lever.",
			"Steps were kept on 96 % of days, and 1,000 more cost about 35 kcal (25 to 45).",
		},
		Confidence:    "Fairly sure: that the change is needed, and that it is enough",
		ConfidencePct: new(78.0),
		Expects:       "Trend weight near 59.8 kg (59.3 to 60.3) on 19 Jul 2026, with no change before the tenth day that could be told from water.",
		WouldChange: []string{
			"Three or more morning weights under 59.5 kg before next Sunday: hold instead.",
			"Sleep under 6.5 hours on the week's mean, or fatigue over 7: hold and look at training volume.",
		},
	}
}

func prescription() report.Prescription {
	return report.Prescription{
		Section: report.Section{Sentence: "1,910 kcal a day on the week's mean, 9,500 steps, 150 minutes of cardio, training as it is."},
		InForce: &athlete.Prescription{
			Version: 6, From: charttest.PrepFrom.AddDays(105), Author: "K. Aune", Origin: athlete.FromProposal, Phase: athlete.Prep,
			Days: []athlete.DayPrescribed{
				{Type: athlete.TrainingDay, PerWeek: 4, EnergyKcal: 1880, ProteinG: 125, CarbohydrateG: 205, FatG: 62, FibreG: 26},
				{Type: athlete.RestDay, PerWeek: 2, EnergyKcal: 1760, ProteinG: 125, CarbohydrateG: 165, FatG: 66, FibreG: 26},
				{Type: athlete.RefeedDay, PerWeek: 1, EnergyKcal: 2330, ProteinG: 120, CarbohydrateG: 340, FatG: 54, FibreG: 28},
			},
			Steps:  9500,
			Cardio: []athlete.CardioPlan{{Kind: athlete.InclineWalk, MinutesPerWeek: 90, Sessions: 3}, {Kind: athlete.Cycling, MinutesPerWeek: 60, Sessions: 2}},
			Sets:   []athlete.MuscleSets{{Muscle: athlete.Back, Sets: 14}, {Muscle: athlete.Shoulders, Sets: 12}, {Muscle: athlete.Glutes, Sets: 12}, {Muscle: athlete.Quadriceps, Sets: 10}},
			Rule:   "Refeed on Saturday, rest on Sunday and Wednesday.",
		},
	}
}

func appraisal() report.Appraisal {
	return report.Appraisal{
		Section:     report.Section{Sentence: "There is enough time, by a little more than a week."},
		Verdict:     "Feasible, with 1.3 weeks of slack.",
		SlackWeeks:  est(1.3, 0.4, 2.3),
		WeeksNeeded: est(6.6, 5.6, 7.5),
		WeeksThere:  new(7.9),
		LatestStart: charttest.PrepFrom.AddDays(9),
		Binds: []string{
			"Energy availability: 31 kcal per kg fat-free mass a day (28 to 34) against a floor of 30.",
			"Rate of loss: at most 0.55 % of body weight a week at this leanness.",
		},
		Ways: []string{"More steps that can be kept up would save food where energy is what binds."},
		Alternatives: []report.Alternative{
			{Name: "As planned", Start: charttest.PrepFrom, Show: charttest.ShowDay, DietWeeks: est(6.6, 5.6, 7.5), SlackWeeks: est(1.3, 0.4, 2.3), LeanChangeKg: est(-0.3, -0.9, 0.2), LowestKcal: new(1850.0), OnTarget: new(0.71)},
			{Name: "A show three weeks later", Start: charttest.PrepFrom, Show: charttest.ShowDay.AddDays(21), DietWeeks: est(6.6, 5.6, 7.5), SlackWeeks: est(4.3, 3.4, 5.3), LeanChangeKg: est(-0.2, -0.7, 0.3), LowestKcal: new(1960.0), OnTarget: new(0.9), Note: "Harbour Classic, room for a diet break"},
			{Name: "Start today from rest", Start: charttest.AsOf, DietWeeks: nil, SlackWeeks: est(-0.8, -1.9, 0.2), OnTarget: new(0.005)},
		},
	}
}

func seasonMap(ch chart.Corridor) report.Season {
	notes := map[athlete.PhaseKind]string{
		athlete.Prep:     "a slow descent, one travel week at maintenance",
		athlete.PeakWeek: "food and water as rehearsed",
		athlete.Recovery: "up to maintenance of the new weight within two weeks",
	}
	m := report.Season{Section: report.Section{Sentence: "26 weeks of prep from 2 Mar 2026, of which 7.9 are left, then four weeks of planned recovery."}}
	for _, p := range ch.Phases {
		m.Phases = append(m.Phases, report.Phase{Phase: p, Note: notes[p.Kind]})
	}
	m.Rests = []string{"A diet break in the week of 27 April 2026: by the model it costs 4 g of lean mass and asks 4 % more of the other weeks."}
	m.Evidence = []string{"It is counted as comfort only."}
	m.Starts = charttest.New().Starts
	for w := range 8 {
		from := charttest.AsOf.AddDays(1 + 7*w)
		mid := 60.3 - 0.24*float64(w+1)
		half := 0.5 + 0.1*float64(w)
		week := report.Week{From: from, Phase: athlete.Prep, EnergyKcal: new(1910 - 8*float64(w)), Steps: new(10500.0), CardioMinutes: new(150.0), WeightKg: est(mid, mid-half, mid+half)}
		if w == 7 {
			week.Phase, week.CardioMinutes, week.EnergyKcal = athlete.PeakWeek, nil, nil
			week.Note = "see the show-day sheet"
		}
		m.Weeks = append(m.Weeks, week)
	}
	return m
}

func expenditure(ch chart.Corridor) report.Expenditure {
	x := report.Expenditure{
		Section: report.Section{Sentence: "Mira spends about 2,110 kcal a day (2,015 to 2,205) as her log counts, 285 less than in March: about half from weighing less."},
		Now:     est(2110, 2015, 2205),
	}
	for _, p := range ch.Reported {
		w := report.ExpenditureWeek{From: p.Date, DaysLogged: 7}
		if math.IsNaN(p.Value) {
			w.DaysLogged = 0
		} else {
			w.ReportedKcal = new(p.Value)
		}
		if e, ok := on(ch.Expenditure, p.Date.AddDays(6)); ok {
			w.SpentKcal = est(e.Value, e.Low, e.High)
		}
		x.Weeks = append(x.Weeks, w)
	}
	return x
}

func on(es []chart.Estimate, d civil.Date) (chart.Estimate, bool) {
	for _, e := range es {
		if e.Date == d {
			return e, true
		}
	}
	return chart.Estimate{}, false
}
