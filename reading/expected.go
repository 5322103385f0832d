package reading

// ratioSD is the doubt about how a plan will be eaten before the log tells
// (judgement).
const ratioSD = 0.05

// Expected is what will be eaten over what is asked: the mean of the log, drawn
// towards 1 by as much as it is in doubt.
func (a Adherence) Expected() float64 {
	if a.Days < 5 {
		return 1
	}
	known := ratioSD * ratioSD / (ratioSD*ratioSD + a.SERatio*a.SERatio)
	return 1 + known*(a.MeanRatio-1)
}
