package sheet

import (
	"slices"
	"strings"

	"glidepath/athlete"
)

// siteWords has the ways to name a place on the body: the skinfold and the girth
// that it may mean.
var siteWords = func() map[string][2]string {
	m := map[string][2]string{}
	for _, s := range []struct{ fold, girth, words string }{
		{"chest", "chest", "chest pec pecs pectoral brust pecho poitrine petto borst"},
		{"axilla", "", "axilla midaxilla midaxillary axillary"},
		{"triceps", "", "triceps tricep tri trizeps"},
		{"subscapular", "", "subscapular subscap subscapula scapula scapular"},
		{"abdomen", "abdomen", "abdomen abdominal ab abs belly stomach umbilical umbilicus navel bauch abdomem"},
		{"suprailium", "", "suprailium suprailiac suprailliac iliac iliaccrest hipfold"},
		{"thigh", "thigh", "thigh thighs quad quads quadriceps oberschenkel cuisse muslo coscia"},
		{"biceps", "arm", "biceps bicep bi bizeps"},
		{"", "neck", "neck hals cou cuello collo nek"},
		{"", "waist", "waist taille cintura vita midje"},
		{"", "hip", "hip hips hufte huefte hanches cadera fianchi heup glutes buttocks"},
		{"", "arm", "arm arms upperarm oberarm bras brazo braccio"},
		{"", "calf", "calf calves wade mollet pantorrilla polpaccio kuit"},
	} {
		for w := range strings.FieldsSeq(s.words) {
			m[w] = [2]string{s.fold, s.girth}
		}
	}
	return m
}()

var (
	foldMarks  = []string{"fold", "folds", "skinfold", "skinfolds", "skin", "caliper", "calipers", "pinch", "sf", "hautfalte", "pli", "pliegue", "plica"}
	girthMarks = []string{"girth", "circumference", "circ", "tape", "umfang", "tour", "perimetro", "circonferenza", "contorno", "relaxed", "flexed"}
)

// unclearSite marks a column that may be a skinfold or a girth. It is no field
// of its own: it becomes one by the other columns, or by an answer.
const unclearSite = "site."

// matchSite finds the skinfold or girth that a heading names.
func matchSite(h heading) (match, bool) {
	fold, girth := h.unit == Mm, h.unit == Cm || h.unit == Inch
	var site [2]string
	found, word := false, ""
	for i, w := range h.words {
		switch {
		case slices.Contains(foldMarks, w):
			fold = true
			continue
		case slices.Contains(girthMarks, w):
			girth = true
			continue
		case fillers[w] || w == "left" || w == "right" || w == "l" || w == "r" || w == "site" || w == "mid" || w == "upper" || w == "size":
			if _, pair := siteWords[w+next(h.words, i)]; !pair {
				continue
			}
		}
		s, ok := siteWords[w]
		if pair, both := siteWords[w+next(h.words, i)]; both {
			s, ok, w = pair, true, w+next(h.words, i)
		} else if i > 0 {
			if _, second := siteWords[h.words[i-1]+w]; second {
				continue
			}
		}
		if !ok || found && s != site {
			return match{}, false
		}
		site, found, word = s, true, w
	}
	if !found || fold && (girth || site[0] == "") || girth && site[1] == "" || h.unit != "" && h.unit != Mm && h.unit != Cm && h.unit != Inch {
		return match{}, false
	}
	m := match{confidence: 0.95, reason: "the heading says so"}
	switch {
	case fold && site[0] != "", site[1] == "":
		m.field = Field(foldPrefix + site[0])
	case girth && site[1] != "", site[0] == "":
		m.field = Field(girthPrefix + site[1])
	default:
		m.field, m.confidence = Field(unclearSite+word), 0.5
		m.reason = "the heading names a place, not whether it is a skinfold or a girth"
	}
	if specOf(Measurements, m.field) == nil && !strings.HasPrefix(string(m.field), unclearSite) {
		return match{}, false
	}
	return m, true
}

func next(words []string, i int) string {
	if i+1 < len(words) {
		return words[i+1]
	}
	return "-"
}

// methodOf reads how body composition was measured, in coaches' words.
func methodOf(s string) (athlete.Method, bool) {
	f := foldHeading(strings.TrimSpace(s))
	for _, m := range athlete.Methods() {
		if f == string(m) {
			return m, true
		}
	}
	has := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(f, w) })
	}
	calipers := has("caliper", "skinfold", "fold", "site", "pollock", "jp")
	switch {
	case calipers && has("7"):
		return athlete.Calipers7, true
	case calipers && has("4") || has("durnin"):
		return athlete.Calipers4, true
	case calipers && has("3"):
		return athlete.Calipers3, true
	case has("dexa", "dxa", "scan", "x-ray", "xray"):
		return athlete.Scan, true
	case has("pod", "air displacement", "plethysmo"):
		return athlete.Pod, true
	case has("bia", "impedance", "scale", "waage", "bascula", "balance"):
		return athlete.Scale, true
	case has("tape", "girth", "navy", "circumference", "massband"):
		return athlete.Tape, true
	case has("eye", "visual", "look", "photo", "mirror"):
		return athlete.Eye, true
	}
	return "", false
}
