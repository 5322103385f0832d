package sheet

import (
	"fmt"
	"strings"

	"glidepath/athlete"
)

// regionWords has people's words for the regions of the body (common practice, no
// source; other languages from memory).
var regionWords = func() map[string]athlete.Region {
	m := map[string]athlete.Region{}
	for region, words := range map[athlete.Region]string{
		athlete.Neck:      "neck nacken hals cou cuello collo nek",
		athlete.Shoulder:  "shoulder rotatorcuff rotator schulter epaule hombro spalla ombro schouder axel skulder bark olkapaa",
		athlete.Elbow:     "elbow ellbogen ellenbogen coude codo gomito cotovelo elleboog armbage albue lokiec kyynarpaa",
		athlete.Wrist:     "wrist handgelenk poignet muneca polso pulso pols handled handledd nadgarstek ranne",
		athlete.UpperBack: "upperback midback thoracic scapula oberrucken",
		athlete.LowerBack: "lowerback lowback lumbar back spine rucken unterrucken kreuz dos lombaires espalda lumbares schiena lombare lombar onderrug landrygg korsrygg selka",
		athlete.Hip:       "hip groin hufte huefte leiste hanche aine cadera ingle anca inguine quadril virilha heup hoft hofte lyske biodro lonkka",
		athlete.Knee:      "knee patella kneecap knie genou rodilla ginocchio joelho kna knae kne kolano polvi",
		athlete.Ankle:     "ankle achilles knochel sprunggelenk cheville tobillo caviglia tornozelo enkel fotled ankel kostka nilkka",
		athlete.Foot:      "foot heel toe plantar fuss fus ferse pied talon pie piede pe voet fot fod stopa jalka",
	} {
		for w := range strings.FieldsSeq(words) {
			m[w] = region
		}
	}
	return m
}()

// regionOf reads a place of the body in people's words; plain says that they were
// the region's own.
func regionOf(s string) (r athlete.Region, plain, ok bool) {
	words := strings.FieldsFunc(foldHeading(strings.ToLower(s)), func(x rune) bool { return x < 'a' || x > 'z' })
	for i := 0; i < len(words); i++ {
		region, known := regionWords[words[i]+next(words, i)]
		if known {
			i++ // "upper back" is no "back"
		} else if region, known = regionWords[words[i]]; !known {
			region, known = regionWords[strings.TrimSuffix(words[i], "s")]
		}
		switch {
		case !known:
		case r != "" && r != region:
			return "", false, false // two places
		default:
			r = region
		}
	}
	return r, strings.EqualFold(strings.TrimSpace(s), string(r)), r != ""
}

func unknownRegion() *cellError {
	names := make([]string, 0, len(athlete.Regions()))
	for _, one := range athlete.Regions() {
		names = append(names, string(one))
	}
	return &cellError{"it is not one place that is known.", fmt.Sprintf("Known are %s.", strings.Join(names, ", "))}
}

// painWhere reads where it hurts. What the words say beyond the region, such as the
// side, goes into the notes.
func (r *reader) painWhere(d *athlete.Day, c *mappedColumn, s string) {
	if noCardio(s) { // "no", "none", "0"
		return
	}
	region, plain, ok := regionOf(s)
	if !ok {
		r.reject(c.Column, unknownRegion())
		return
	}
	d.PainWhere = region
	if !plain {
		d.Notes = joinNotes(d.Notes, "pain: "+cleanText(s, maxName))
	}
}
