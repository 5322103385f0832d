package sheet

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Ways to write numbers: decimal comma and groups of three by point, comma, space
// or apostrophe are those of CLDR's locales (en, de, fr, de-CH), from memory.
func TestReadNumber(t *testing.T) {
	for _, c := range []struct {
		in      string
		decimal byte
		want    float64
	}{
		{"82.5", '.', 82.5},
		{"82,5", '.', 82.5},
		{"82.5", ',', 82.5},
		{"82,5", ',', 82.5},
		{"2,350", '.', 2350},
		{"2,350", ',', 2.35},
		{"2.350", '.', 2.35},
		{"2.350", ',', 2350},
		{"1,234.5", '.', 1234.5},
		{"1,234.5", ',', 1234.5},
		{"1.234,5", '.', 1234.5},
		{"1.234,5", ',', 1234.5},
		{"1,234,567", ',', 1234567},
		{"1.234.567", '.', 1234567},
		{"1.234.567,25", '.', 1234567.25},
		{"10 234", '.', 10234},
		{"10\u00a0234,5", '.', 10234.5},
		{"10\u202f234", '.', 10234},
		{"10'234.5", ',', 10234.5},
		{"10’234", '.', 10234},
		{"0,350", '.', 0.35},
		{"0.350", ',', 0.35},
		{"1234,567", '.', 1234.567},
		{".5", '.', 0.5},
		{",5", '.', 0.5},
		{"82.", '.', 82},
		{" 82 ", '.', 82},
		{"-3.5", '.', -3.5},
		{"\u22123,5", '.', -3.5},
		{"+3", '.', 3},
		{"1e3", '.', 1000},
		{"1.5E-2", '.', 0.015},
		{"007", '.', 7},
	} {
		if got, bad := readNumber(c.in, c.decimal); bad != nil || got != c.want {
			t.Errorf("readNumber(%q, %q) = %v, %v; want %v", c.in, c.decimal, got, bad, c.want)
		}
	}
}

func TestReadNumberRefuses(t *testing.T) {
	for _, s := range []string{
		"", "abc", "NaN", "Inf", "-inf", "infinity", "0x10", "1e400", "1e13", strings.Repeat("9", 400), "12,34,56", "1.2.3", "1,2.3,4",
		"1'234,567.8", "--5", "5-", "12 34", "1_000", "1,,2", "٣", "½", "5 5", "1 e5 x", "=1+1",
	} {
		if v, bad := readNumber(s, '.'); bad == nil {
			t.Errorf("readNumber(%q) = %v, want a refusal", s, v)
		}
	}
}

// What strconv writes, readNumber reads: the standard library is the reference.
func TestReadNumberAgreesWithStrconv(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e11, 1e11).Draw(t, "v")
		s := decimals(v)
		for _, mark := range []byte{'.', ','} {
			text := s
			if mark == ',' {
				text = strings.Replace(s, ".", ",", 1)
			}
			got, bad := readNumber(text, mark)
			if bad != nil || got != v {
				t.Fatalf("readNumber(%q) = %v, %v; want %v", text, got, bad, v)
			}
		}
	})
}

func FuzzReadNumber(f *testing.F) {
	for _, s := range []string{"82,5", "1.234,5", "1e9", "\u22123", "10\u202f234", "9'9", "1,234,", "NaN", "0x1p-2"} {
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, s string, comma bool) {
		mark := byte('.')
		if comma {
			mark = ','
		}
		v, bad := readNumber(s, mark)
		if bad == nil && (math.IsNaN(v) || math.Abs(v) > maxNumber) {
			t.Fatalf("readNumber(%q) = %v", s, v)
		}
		if bad == nil && !strings.ContainsAny(s, "0123456789") {
			t.Fatalf("readNumber(%q) = %v without a digit", s, v)
		}
		if _, err := strconv.ParseFloat(s, 64); err == nil && bad == nil && !comma && !strings.ContainsAny(s, ",_xX") {
			if want, _ := strconv.ParseFloat(s, 64); v != want {
				t.Fatalf("readNumber(%q) = %v, strconv has %v", s, v, want)
			}
		}
	})
}

// Factors: pound and inch by the International Yard and Pound Agreement (1959),
// the calorie as 4.184 J (thermochemical), mile 1.609344 km, a stone 14 lb.
func TestQuantity(t *testing.T) {
	body, bar := specOf(Days, FieldWeight), specOf(Training, FieldWeight)
	energy, sleep, cardio := specOf(Days, FieldEnergy), specOf(Days, FieldSleep), specOf(Days, FieldCardio)
	speed, fat, salt := specOf(Days, FieldCardioSpeed), specOf(Measurements, FieldBodyFat), specOf(Days, FieldSodium)
	waist, steps, hunger := specOf(Measurements, "girth.waist"), specOf(Days, FieldSteps), specOf(Days, FieldHunger)
	for _, c := range []struct {
		in   string
		unit Unit
		s    *spec
		want float64
	}{
		{"180", Pound, body, 81.6466266},
		{"180 lb", Kg, body, 81.6466266},
		{"180lbs.", "", body, 81.6466266},
		{"82,5 kg", Pound, body, 82.5},
		{"12 st 4 lb", Kg, body, 172 * 0.45359237},
		{"12st4", "", body, 172 * 0.45359237},
		{"12 st", "", body, 168 * 0.45359237},
		{"12.5", Stone, body, 175 * 0.45359237},
		{"225", Pound, bar, 102.05828325},
		{"9800 kJ", Kcal, energy, 9800 / 4.184},
		{"9800", KJ, energy, 9800 / 4.184},
		{"2,350 kcal", KJ, energy, 2350},
		{"7:30", Hour, sleep, 7.5},
		{"7:30", Minute, sleep, 7.5},
		{"7h30", "", sleep, 7.5},
		{"7 h 30 min", Minute, sleep, 7.5},
		{"450", Minute, sleep, 7.5},
		{"0.3125", DayFraction, sleep, 7.5},
		{"7,5", Hour, sleep, 7.5},
		{"7:30:00", "", sleep, 7.5},
		{"0:45", Minute, cardio, 45},
		{"1.5", Hour, cardio, 90},
		{"1h", Minute, cardio, 60},
		{"90 mins", Hour, cardio, 90},
		{"3.5 mph", KmPerHour, speed, 3.5 * 1.609344},
		{"5.6", KmPerHour, speed, 5.6},
		{"0.123", Fraction, fat, 12.3},
		{"12.3 %", "", fat, 12.3},
		{"5", SaltGram, salt, 2000},
		{"2.3 g", Milligram, salt, 2300},
		{"32 in", Cm, waist, 81.28},
		{"32\"", Cm, waist, 81.28},
		{"12.1k", Count, steps, 12100},
		{"3", OneToFive, hunger, 5.5},
		{"5", OneToFive, hunger, 10},
		{"1", OneToFive, hunger, 1},
	} {
		got, bad := quantity(c.in, c.unit, c.s.unit(), '.', c.s.accepts)
		if bad != nil || math.Abs(got-c.want) > 1e-9*math.Abs(c.want) {
			t.Errorf("%s %q in %q = %v, %v; want %v", c.s.field, c.in, c.unit, got, bad, c.want)
		}
	}
	for _, c := range []struct {
		in   string
		unit Unit
		s    *spec
	}{
		{"180 kcal", Pound, body},
		{"180", "", body},
		{"12 st 4 kg", Kg, body},
		{"7:75", Hour, sleep},
		{"7:5", Hour, sleep},
		{"1 2", Kg, body},
		{"12 st -4 lb", Kg, body},
		{"5 km", Minute, cardio},
		{"lb", Kg, body},
		{"", Kg, body},
		{"12 st 4 2", Kg, body},
	} {
		if got, bad := quantity(c.in, c.unit, c.s.unit(), '.', c.s.accepts); bad == nil {
			t.Errorf("%s %q in %q = %v, want a refusal", c.s.field, c.in, c.unit, got)
		}
	}
}
