package sheet

import (
	"fmt"
	"math"
	"strings"
	"time"

	"glidepath/civil"
)

// The orders of day, month and year in a date written in numbers.
const (
	DayMonthYear = "dmy"
	MonthDayYear = "mdy"
	YearMonthDay = "ymd"
)

// writtenDate is a date cell taken apart, before the order is known.
type writtenDate struct {
	form    dateForm
	a, b, c int     // the numbers in the order they stand; for named: day, month, year (-1 is none)
	short   bool    // the year has two digits
	serial  float64 // a spreadsheet's day number
}

type dateForm int

const (
	noDate     dateForm = iota
	fixedDate           // year, month, day in a, b, c: ISO 8601, or a four-digit year first
	triple              // three numbers, order to be told
	pair                // two numbers, no year
	namedDate           // the month is a word
	serialDate          // a spreadsheet's day number
)

// A spreadsheet's day numbers that are taken for dates: 1954 to 2119. ECMA-376
// part 1, 18.17.4.1 has the two date systems.
const (
	minSerial = 20000
	maxSerial = 80000
)

// takeDate takes a date cell apart. Times of day after the date are ignored.
func takeDate(s string) writtenDate {
	s = strings.TrimSpace(s)
	if len(s) > 60 {
		return writtenDate{}
	}
	if v, ok := plainNumber(s); ok && v >= minSerial && v < maxSerial {
		return writtenDate{form: serialDate, serial: v}
	}
	s = cutTime(s)
	var nums, lens [3]int
	count, month, tuesday := 0, 0, false
	for i := 0; i < len(s); {
		switch c := s[i]; {
		case isDigit(c):
			n := digitRun(s[i:])
			if count == 3 || n > 8 {
				return writtenDate{}
			}
			for _, d := range []byte(s[i : i+n]) {
				nums[count] = nums[count]*10 + int(d-'0')
			}
			lens[count] = n
			count++
			i += n
			if i+1 < len(s) && ordinalSuffix(s[i:i+2]) && (i+2 == len(s) || !isLetter(s[i+2])) {
				i += 2
			}
		case isLetter(c):
			n := i
			for n < len(s) && isLetter(s[n]) {
				n++
			}
			word := foldHeading(s[i:n])
			i = n
			if m := monthNames[word]; m != 0 {
				if month != 0 && !tuesday {
					return writtenDate{}
				}
				// "mar" before the day is also Tuesday in French, Spanish and Italian.
				month, tuesday = m, word == "mar" && count == 0
			} else if word != "" && !dayNames[word] {
				return writtenDate{}
			}
		case strings.IndexByte(" ./-,'", c) >= 0:
			i++
		default:
			return writtenDate{}
		}
	}
	return classify(nums, lens, count, month)
}

func classify(n, l [3]int, count, month int) writtenDate {
	if count == 0 {
		return writtenDate{}
	}
	last := count - 1
	for i := range count {
		if l[i] > 2 && l[i] != 4 && (count != 1 || l[i] != 8) {
			return writtenDate{}
		}
	}
	switch {
	case month != 0 && count == 1 && l[0] <= 2:
		return writtenDate{form: namedDate, a: n[0], b: month, c: -1}
	case month != 0 && count == 2 && l[0] == 4 && l[1] <= 2:
		return writtenDate{form: namedDate, a: n[1], b: month, c: n[0]}
	case month != 0 && count == 2 && l[0] <= 2:
		return writtenDate{form: namedDate, a: n[0], b: month, c: n[1], short: l[1] == 2}
	case month != 0:
	case count == 1 && l[0] == 8: // ISO 8601 basic form, 20250304
		return writtenDate{form: fixedDate, a: n[0] / 10000, b: n[0] / 100 % 100, c: n[0] % 100}
	case count == 3 && l[0] == 4 && l[1] <= 2 && l[2] <= 2:
		return writtenDate{form: fixedDate, a: n[0], b: n[1], c: n[2]}
	case count == 3 && l[0] <= 2 && l[1] <= 2 && (l[last] == 4 || l[last] == 2):
		return writtenDate{form: triple, a: n[0], b: n[1], c: n[2], short: l[last] == 2}
	case count == 2 && l[0] <= 2 && l[1] <= 2:
		return writtenDate{form: pair, a: n[0], b: n[1]}
	}
	return writtenDate{}
}

// cutTime drops a time of day, as in 2025-03-04T07:30:00Z or 4/3/2025 7:30 am.
func cutTime(s string) string {
	colon := strings.IndexByte(s, ':')
	if colon < 0 {
		return s
	}
	i := colon
	for i > 0 && isDigit(s[i-1]) {
		i--
	}
	if i == 0 || strings.IndexByte(" Tt,", s[i-1]) < 0 {
		return s
	}
	return strings.TrimRight(s[:i-1], " ,")
}

func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= 0x80 }

func ordinalSuffix(s string) bool {
	switch strings.ToLower(s) {
	case "st", "nd", "rd", "th", "er":
		return true
	}
	return false
}

// dates resolves the cells of a date column one after another; it remembers the
// last date to give years to dates written without one.
type dates struct {
	order    string
	year     int // of the first date without a year; 0 is not told
	swapped  bool
	date1904 bool

	last civil.Date
}

// resolve gives the date of a cell.
func (d *dates) resolve(s string) (civil.Date, *cellError) {
	w := takeDate(s)
	var on civil.Date
	var bad *cellError
	switch w.form {
	case noDate:
		return 0, &cellError{"it is not a date.", "Write it as YYYY-MM-DD."}
	case serialDate:
		on = d.fromSerial(w.serial)
	case fixedDate:
		on, bad = checkedDate(w.a, w.b, w.c)
	case namedDate:
		if w.c < 0 {
			on, bad = d.yearless(w.a, w.b)
		} else {
			on, bad = checkedDate(fullYear(w.c, w.short), w.b, w.a)
		}
	case triple:
		switch d.order {
		case DayMonthYear:
			on, bad = checkedDate(fullYear(w.c, w.short), w.b, w.a)
		case MonthDayYear:
			on, bad = checkedDate(fullYear(w.c, w.short), w.a, w.b)
		case YearMonthDay:
			on, bad = checkedDate(fullYear(w.a, w.short), w.b, w.c)
		default:
			bad = orderUnknown()
		}
	case pair:
		switch d.order {
		case DayMonthYear:
			on, bad = d.yearless(w.a, w.b)
		case MonthDayYear:
			on, bad = d.yearless(w.b, w.a)
		default:
			bad = orderUnknown()
		}
	}
	if bad == nil {
		d.last = on
	}
	return on, bad
}

func orderUnknown() *cellError {
	return &cellError{"the order of day and month is not known.", "Write it as YYYY-MM-DD, or say the date order of the file."}
}

// yearless gives a date the year of the row before it, or the next one where the
// months start over.
func (d *dates) yearless(day, month int) (civil.Date, *cellError) {
	if d.last.IsZero() {
		if d.year == 0 {
			return 0, &cellError{"the year is not written.", "Write it as YYYY-MM-DD, or say the year of the first row."}
		}
		return checkedDate(d.year, month, day)
	}
	best, bad := checkedDate(d.last.Time().Year(), month, day)
	for _, shift := range []int{-1, 1} {
		on, err := checkedDate(d.last.Time().Year()+shift, month, day)
		if err == nil && (bad != nil || apart(on, d.last) < apart(best, d.last)) {
			best, bad = on, nil
		}
	}
	return best, bad
}

func apart(a, b civil.Date) int { return max(a.DaysSince(b), b.DaysSince(a)) }

// fromSerial reads a spreadsheet's day number. In the 1900 system, day 61 is
// 1 March 1900 (the day 60 that never was is far below minSerial).
func (d *dates) fromSerial(v float64) civil.Date {
	base := civil.Of(1899, time.December, 30)
	if d.date1904 {
		base = civil.Of(1904, time.January, 1)
	}
	on := base.AddDays(int(math.Floor(v)))
	if t := on.Time(); d.swapped && t.Day() <= 12 {
		on = civil.Of(t.Year(), time.Month(t.Day()), int(t.Month()))
	}
	return on
}

// fullYear gives a two-digit year its century as POSIX strptime does: 69 to 99
// are 1969 to 1999.
func fullYear(y int, short bool) int {
	switch {
	case !short:
		return y
	case y >= 69:
		return 1900 + y
	}
	return 2000 + y
}

func checkedDate(year, month, day int) (civil.Date, *cellError) {
	if year < 1950 || year > 2119 {
		return 0, &cellError{fmt.Sprintf("the year %d is not between 1950 and 2119.", year), ""}
	}
	if month < 1 || month > 12 {
		return 0, &cellError{fmt.Sprintf("there is no month %d.", month), "Check the order of day and month."}
	}
	on := civil.Of(year, time.Month(month), day)
	if day < 1 || on.Time().Day() != day {
		return 0, &cellError{fmt.Sprintf("%s %d has no day %d.", time.Month(month), year, day), ""}
	}
	return on, nil
}

// monthNames has months in the languages that headings are known in, without
// accents (from memory). Where two languages clash on an abbreviation it is left out.
var monthNames = names(
	"jan january januar janvier janv januari enero ene gennaio gen janeiro styczen sty tammikuu",
	"feb february februar fevrier fevr februari febrero febbraio fevereiro fev luty lut helmikuu",
	"mar march marz maerz mars maart mrt marzo marco marts marzec maaliskuu mrz",
	"apr april avril avr abril abr aprile kwiecien kwi huhtikuu",
	"may mai mei mayo maggio mag maio maj toukokuu",
	"jun june juni juin junio giugno giu junho czerwiec cze kesakuu",
	"jul july juli juillet juil julio luglio lug julho lipiec lip heinakuu",
	"aug august aout agosto ago augustus augusti sierpien sie elokuu",
	"sep sept september septembre septiembre settembre set setembro wrzesien wrz syyskuu",
	"oct october oktober okt octobre octubre ottobre ott outubro out pazdziernik paz lokakuu",
	"nov november novembre noviembre novembro listopad lis marraskuu",
	"dec december dezember dez decembre diciembre dic dicembre dezembro grudzien gru joulukuu des desember",
)

func names(months ...string) map[string]int {
	m := map[string]int{}
	for i, list := range months {
		for _, name := range strings.Fields(list) {
			m[name] = i + 1
		}
	}
	return m
}

// dayNames has words that may stand beside a date and say nothing.
var dayNames = wordSet("mon monday tue tues tuesday wed weds wednesday thu thur thurs thursday fri friday sat saturday sun sunday " +
	"mo montag di dienstag mi mittwoch do donnerstag fr freitag sa samstag sonnabend so sonntag " +
	"lun lundi mardi mer mercredi jeu jeudi ven vendredi sam samedi dim dimanche lunes martes mie miercoles jue jueves vie viernes sab sabado domingo dom " +
	"lunedi martedi mercoledi giovedi venerdi sabato domenica ma maandag dinsdag wo woensdag donderdag vr vrijdag za zaterdag zo zondag " +
	"segunda terca quarta quinta sexta feira man mandag tir tirsdag ons onsdag tor torsdag fre fredag lor lordag son sondag " +
	"the of de den le el dia")
