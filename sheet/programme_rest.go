package sheet

import "glidepath/athlete"

// duration reads a rest. Without the word rest before it, it must stand after it.
func (d *doseReader) duration(e *athlete.PlannedExercise, said bool) *cellError {
	start := d.place()
	if d.tok.kind != numberToken {
		return &cellError{"a time is missing after rest.", restHint}
	}
	seconds, bad := d.seconds()
	if bad != nil {
		d.back(start)
		return bad
	}
	if !said {
		d.skip("of")
		if !d.word("rest") {
			d.back(start)
			return &cellError{"this time is not said to be rest.", restHint}
		}
		d.next()
	}
	if d.rest {
		d.back(start)
		return &cellError{"the rest stands here twice.", ""}
	}
	d.rest, e.RestSeconds = true, seconds
	return nil
}

const restHint = `Write "rest 90 s", "rest 2 min" or "rest 2:30".`

// bareSeconds is the least number without a unit that can only be seconds: as
// minutes it would be longer than any rest that is taken.
const bareSeconds = 16

// seconds reads a time: 90 s, 2 min, 2 min 30 s, 2:30, 2-3 min, 120.
func (d *doseReader) seconds() (int, *cellError) {
	low, high := d.numbers()
	total := (low + high) / 2
	switch unit := d.timeUnit(); {
	case unit > 0:
		total *= unit
		d.next()
		if unit == 60 && d.tok.kind == numberToken {
			rest := d.place()
			if s, _ := d.numbers(); d.timeUnit() == 1 || d.tok.kind == noToken {
				total += s
				d.skip("s", "sec", "secs", "second", "seconds", `"`, "″")
			} else {
				d.back(rest)
			}
		}
	case d.sign(":"):
		d.next()
		digits := d.end - d.at
		s, _ := d.numbers()
		if d.tok.kind == signToken && d.tok.word == ":" || digits != 2 || s > 59 || low != high {
			return 0, &cellError{"it is no time.", restHint}
		}
		total = 60*low + s
		d.skip("min", "mins", "minutes", "m")
	case total > 0 && total < bareSeconds:
		return 0, &cellError{"it does not say whether these are seconds or minutes.", restHint}
	}
	whole, ok := wholeNumber(total)
	if !ok || high < low {
		return 0, &cellError{"it is no whole number of seconds.", restHint}
	}
	return whole, nil
}

// timeUnit is how many seconds the word at hand is, 0 where it is no unit of time.
func (d *doseReader) timeUnit() float64 {
	switch {
	case d.word("s", "sec", "secs", "second", "seconds"), d.sign(`"`, "″"):
		return 1
	case d.word("m", "min", "mins", "minute", "minutes"), d.sign("'", "′"):
		return 60
	}
	return 0
}
