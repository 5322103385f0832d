package report

// opening is a section's title, whether it has anything to show, and what it
// says when it has not.
type opening struct {
	id, title string
	section   Section
	has       bool
	waitsFor  string
}

func openings(d Document) []opening {
	return []opening{
		{
			"corridor", "The corridor", d.Corridor.Section, !d.Corridor.Chart.Empty(),
			"There is no weight yet. With a first morning weight and a show to aim at, the corridor appears here.",
		},
		{
			"review", "This week’s review", d.Review.Section, d.Review.Proposal != "",
			"No review has been made yet. It needs a prescription and about two weeks of morning weights and food logs.",
		},
		{
			"prescription", "Prescription", d.Prescription.Section, d.Prescription.InForce != nil,
			"Nothing is prescribed yet. Until then the athlete eats and trains as before and logs it: that is what the first prescription is built on.",
		},
		{
			"appraisal", "Is there enough time?", d.Appraisal.Section, d.Appraisal.Verdict != "",
			"The starting position has not been appraised. It needs a show with a target, a weight, and one estimate of body fat.",
		},
		{
			"season", "Season map", d.Season.Section, len(d.Season.Phases)+len(d.Season.Weeks) > 0,
			"There is no map of the season yet. It is drawn backwards from a show with a date and a target.",
		},
		{
			"expenditure", "Expenditure", d.Expenditure.Section, d.Expenditure.Now != nil || len(d.Expenditure.Weeks) > 0,
			"Expenditure is not known yet. Two weeks of morning weights and logged food give a first, wide estimate.",
		},
		{
			"composition", "Body composition", d.Composition.Section, !d.Composition.Chart.Empty(),
			"There is no measurement of body fat yet. Skinfolds by the same hands every three weeks tell more than one scan.",
		},
		{
			"strength", "Strength", d.Strength.Section, !d.Strength.Chart.Empty() || len(d.Strength.Lifts) > 0,
			"No sets are logged yet. Weight, repetitions and repetitions in reserve of the main lifts are enough.",
		},
		{
			"sets", "Hard sets", d.Sets.Section, len(d.Sets.Weeks) > 0,
			"No sets are logged yet, so none can be counted by muscle.",
		},
		{
			"load", "Load of training", d.Load.Section, !d.Load.Chart.Empty(),
			"Load is not known: it takes how hard each session felt, 0 to 10, and its minutes.",
		},
		{
			"activity", "Steps and cardio", d.Activity.Section, !d.Activity.Chart.Empty(),
			"Neither steps nor cardio are logged yet. A phone’s step count will do, if it is always the same phone.",
		},
		{
			"cardio", "What cardio costs", d.Cardio.Section, len(d.Cardio.Ways) > 0,
			"What cardio costs is not known yet: it takes a weight and what the athlete has to do it with.",
		},
		{
			"recovery", "Recovery", d.Recovery.Section, !d.Recovery.Chart.Empty(),
			"Sleep, hunger and fatigue are not logged yet. A number for each, most mornings, shows early what a weight cannot.",
		},
		{
			"chances", "How likely it is", d.Chances.Section, len(d.Chances.Of) > 0,
			"There is no forecast yet. It needs a plan to the show and a reading of where the athlete stands.",
		},
		{
			"cannot-tell", "What the data cannot tell", d.CannotTell.Section, len(d.CannotTell.Items) > 0,
			"No log can tell how the athlete looks or feels. Look at them, and ask.",
		},
	}
}

// heads gives each section its opening sentence: the document's own, or the one
// for a section that has nothing to show.
func heads(d Document) map[string]head {
	out := map[string]head{}
	for _, o := range openings(d) {
		if o.section.Sentence == "" && !o.has {
			o.section.Sentence = o.waitsFor
		}
		out[o.id] = head{o.id, o.title, o.section}
	}
	return out
}
