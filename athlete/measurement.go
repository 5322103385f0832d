package athlete

import (
	"slices"

	"glidepath/civil"
)

// Method is how body composition was measured. Methods differ in error and in
// lasting bias, so a series never mixes them.
type Method string

// The methods.
const (
	Calipers3 Method = "calipers 3-site"
	Calipers4 Method = "calipers 4-site"
	Calipers7 Method = "calipers 7-site"
	Tape      Method = "tape"
	Scan      Method = "scan"  // dual-energy X-ray
	Pod       Method = "pod"   // air displacement
	Scale     Method = "scale" // bioimpedance
	Eye       Method = "eye"   // the coach's judgement
)

// Methods lists every method.
func Methods() []Method {
	return []Method{Calipers3, Calipers4, Calipers7, Tape, Scan, Pod, Scale, Eye}
}

// Measurement is one estimate of body composition, with or without the raw
// folds and girths it came from.
type Measurement struct {
	Date       civil.Date         `json:"date"`
	Method     Method             `json:"method"`
	By         string             `json:"by,omitempty"` // whose hands, or which device
	BodyFatPct *float64           `json:"body_fat_pct,omitempty"`
	FoldsMm    map[string]float64 `json:"folds_mm,omitempty"`  // skinfold site -> mm; sites in FoldSites
	GirthsCm   map[string]float64 `json:"girths_cm,omitempty"` // girth -> cm; names in GirthSites
	WeightKg   *float64           `json:"weight_kg,omitempty"`
	Note       string             `json:"note,omitempty"`
}

// FoldSites are the names of skinfold sites.
func FoldSites() []string {
	return []string{"chest", "axilla", "triceps", "subscapular", "abdomen", "suprailium", "thigh", "biceps"}
}

// GirthSites are the names of girths.
func GirthSites() []string {
	return []string{"neck", "abdomen", "waist", "hip", "arm", "thigh", "calf", "chest"}
}

// Series names the run of measurements that share a lasting bias: one method in
// one pair of hands.
func (m *Measurement) Series() string {
	if m.By == "" {
		return string(m.Method)
	}
	return string(m.Method) + " by " + m.By
}

// MethodError is how far the readings of a series are off, in points of body
// fat: the part that stays with the series, and the part drawn anew each time.
type MethodError struct {
	Series    string  `json:"series"` // as Measurement.Series gives it
	BiasSD    float64 `json:"bias_sd"`
	ReadingSD float64 `json:"reading_sd"`
}

// Validate checks a measurement.
func (m *Measurement) Validate() error {
	var c checks
	if m.Date.IsZero() {
		c.add("date", "the measurement has no date.")
	}
	if !slices.Contains(Methods(), m.Method) {
		c.add("method", "the method %q is not known; known are %v.", m.Method, Methods())
	}
	c.optional("body_fat_pct", m.BodyFatPct, 2, 60, "per cent")
	c.optional("weight_kg", m.WeightKg, 20, 500, "kg")
	if m.BodyFatPct == nil && len(m.FoldsMm) == 0 && len(m.GirthsCm) == 0 && m.WeightKg == nil {
		c.add("body_fat_pct", "the measurement of %s has no value.", m.Date)
	}
	for _, site := range sortedKeys(m.FoldsMm) {
		if !slices.Contains(FoldSites(), site) {
			c.add("folds_mm", "the skinfold site %q is not one of %v.", site, FoldSites())
		}
		c.within("folds_mm."+site, m.FoldsMm[site], 1, 90, "mm")
	}
	for _, site := range sortedKeys(m.GirthsCm) {
		if !slices.Contains(GirthSites(), site) {
			c.add("girths_cm", "the girth %q is not one of %v.", site, GirthSites())
		}
		c.within("girths_cm."+site, m.GirthsCm[site], 10, 250, "cm")
	}
	return c.err()
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
