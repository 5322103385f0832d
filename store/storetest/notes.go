package storetest

import (
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

func noteTests() []namedTest {
	note := func(on civil.Date, text string) athlete.Note {
		return athlete.Note{Date: on, Text: text, Who: "Wren", At: source.At.UTC()}
	}
	add := func(s *suite, id string, n athlete.Note) athlete.Note {
		s.Helper()
		s.write(func(tx app.Tx) error { return tx.AddNote(id, &n) })
		return n
	}
	all := func(s *suite, id string, to civil.Date) []athlete.Note {
		s.Helper()
		return get(s, func(tx app.Tx) ([]athlete.Note, error) { return tx.Notes(id, to) })
	}
	return []namedTest{
		{"RoundTripInOrderOfDate", func(s *suite) {
			s.putAthletes("ann", "ben")
			first := add(s, "ann", note(monday, "looked flat;\n\"posing\" was – well – better, Ærø"))
			older := add(s, "ann", note(monday.AddDays(-7), "asked about the knee"))
			again := add(s, "ann", note(monday, "and another of the same day"))
			add(s, "ben", note(monday, "of Ben"))
			same(s, "all", all(s, "ann", end), []athlete.Note{older, first, again})
			same(s, "before", all(s, "ann", monday.AddDays(-1)), []athlete.Note{older})
			same(s, "of another", len(all(s, "ben", end)), 1)
		}},
		{"RemoveTheOneThatIsMeant", func(s *suite) {
			s.putAthletes("ann", "ben")
			first, last := add(s, "ann", note(monday, "kept")), add(s, "ann", note(monday, "mistaken"))
			remove := func(id string) func(app.Tx) error {
				return func(tx app.Tx) error { return tx.RemoveNote(id, last.Number) }
			}
			s.writeFails(fault.NotFound, remove("ben")) // it is not Ben's
			s.write(remove("ann"))
			s.writeFails(fault.NotFound, remove("ann"))
			if n := add(s, "ann", note(monday, "later")); n.Number <= last.Number {
				s.Errorf("the number %d came again", n.Number)
			}
			same(s, "what is left", all(s, "ann", end)[0], first)
		}},
		{"GoWithTheAthlete", func(s *suite) {
			s.putAthletes("ann")
			add(s, "ann", note(monday, "gone"))
			s.write(func(tx app.Tx) error { return tx.RemoveAthlete("ann") })
			s.putAthletes("ann")
			same(s, "all", len(all(s, "ann", end)), 0)
		}},
		{"InvalidIsRefused", func(s *suite) {
			s.putAthletes("ann")
			for _, bad := range []athlete.Note{note(0, "no date"), note(monday, ""), {Date: monday, Text: "nobody’s", At: time.Now()}} {
				s.writeFails(fault.Invalid, func(tx app.Tx) error { return tx.AddNote("ann", &bad) })
			}
			n := note(monday, "of nobody")
			s.writeFails(fault.NotFound, func(tx app.Tx) error { return tx.AddNote("nobody", &n) })
		}},
	}
}
