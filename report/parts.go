package report

import (
	"bytes"
	"fmt"
	"html/template"
	"io/fs"
	"strings"

	"glidepath/chart"
)

// Parts are the sections of a document, one by one, for a page that lays them
// out itself. They need Style, chart.Style and a font in that page.
type Parts struct{ v *view }

// PartsOf prepares the sections of a document: its charts are drawn once.
func PartsOf(d Document) Parts {
	return Parts{&view{Document: d, Heads: heads(d), Pictures: pictures(d), Terms: mergedGlossary(d.Glossary)}}
}

// HTML is a section by its id, as it stands in the page that Write makes:
// corridor (or its parts corridor-head, corridor-figure and corridor-numbers),
// review, prescription, appraisal, season, expenditure, composition, training,
// strength, sets, load, activity, cardio (or its parts trade, reserve and asked),
// recovery, chances, cannot-tell and glossary. It panics on another id.
func (p Parts) HTML(id string) (template.HTML, error) {
	if pages.Lookup(id) == nil || id == "shell" || id == "body" {
		panic("report: there is no part " + id)
	}
	var b bytes.Buffer
	if err := pages.ExecuteTemplate(&b, id, p.v); err != nil {
		return "", fmt.Errorf("report: %w", err)
	}
	return template.HTML(b.String()), nil //nolint:gosec // escaped by the template above
}

// Style is the report's own style sheet, which goes after chart.Style.
func Style() string { return pageStyle }

// Fonts holds the files that FontFaces names.
func Fonts() fs.FS {
	sub, err := fs.Sub(fontFiles, "font")
	if err != nil {
		panic(err) // embedded, so a broken build
	}
	return sub
}

// FontFaces is the CSS for the whole font, with its files under an address; a
// browser asks for those of which it has letters to draw.
func FontFaces(address string) string {
	var b strings.Builder
	for _, s := range subsets() {
		fmt.Fprintf(&b, "@font-face { font-family: \"Source Sans 3\"; font-weight: 200 900; font-style: normal; font-display: swap; src: url(%s/source-sans-3-%s-wght-normal.woff2) format(\"woff2\"); unicode-range: %s; }\n",
			address, s.name, s.unicodeRange)
	}
	return b.String()
}

// Percent writes a probability in whole per cent, and never as certainty.
func Percent(p float64) string { return percent(p) }

// Between is the document with its corridor drawn for some days only; see
// chart.Corridor.Between.
func (d Document) Between(w chart.Window) Document {
	d.Corridor.Chart = d.Corridor.Chart.Between(w)
	return d
}
