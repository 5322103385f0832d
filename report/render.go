package report

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"

	"glidepath/chart"
)

//go:embed page.html.tmpl
var pageTemplate string

//go:embed page.css
var pageStyle string

var pages = template.Must(template.New("page").Parse(pageTemplate))

// view is a Document as the template sees it.
type view struct {
	Document
	Heads    map[string]head
	Pictures map[string]picture
	Terms    []Term
}

// head is how a section opens.
type head struct {
	ID, Title string
	Section
}

// picture is a drawing in its two widths.
type picture struct{ Wide, Narrow template.HTML }

// Write makes the page. The same document gives the same bytes. The error is the
// writer's.
func Write(w io.Writer, d Document) error {
	v := &view{Document: d, Heads: heads(d), Pictures: pictures(d), Terms: mergedGlossary(d.Glossary)}
	var body bytes.Buffer
	if err := pages.ExecuteTemplate(&body, "body", v); err != nil {
		return fmt.Errorf("report: %w", err)
	}
	style := fontFaces(body.String()) + chart.Style() + pageStyle
	sum := sha256.Sum256([]byte(style))
	shell := struct {
		Title  string
		Policy string
		Style  template.CSS
		Body   template.HTML
	}{
		Title: pageTitle(d),
		// Nothing but the page's own style and the font within it.
		Policy: "default-src 'none'; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) +
			"'; font-src data:; base-uri 'none'; form-action 'none'",
		Style: template.CSS(style),          //nolint:gosec // our own files, no data
		Body:  template.HTML(body.String()), //nolint:gosec // escaped by the template above
	}
	if err := pages.ExecuteTemplate(w, "shell", shell); err != nil {
		return fmt.Errorf("report: %w", err)
	}
	return nil
}

func pageTitle(d Document) string {
	title := d.Name
	if title == "" {
		title = "Athlete"
	}
	if d.Show != nil {
		title += ", " + d.Show.Name
	}
	if !d.AsOf.IsZero() {
		title += ", as of " + d.Notation.Date(d.AsOf)
	}
	return title
}

// pictures draws every chart wide and narrow; chart escapes all its text.
func pictures(d Document) map[string]picture {
	out := map[string]picture{}
	for id, svg := range map[string]func(chart.Options) string{
		"corridor":    d.Corridor.Chart.SVG,
		"starts":      d.Season.Starts.SVG,
		"composition": d.Composition.Chart.SVG,
		"strength":    d.Strength.Chart.SVG,
		"kept":        d.Strength.Muscles.SVG,
		"activity":    d.Activity.Chart.SVG,
		"recovery":    d.Recovery.Chart.SVG,
		"state":       d.Recovery.State.SVG,
		"sets":        d.Sets.Chart.SVG,
		"reps":        d.Sets.Reps.SVG,
		"effort":      d.Sets.Effort.SVG,
		"load":        d.Load.Chart.SVG,
		"trade":       d.Cardio.Trade.SVG,
		"reserve":     d.Cardio.Reserve.SVG,
	} {
		wide := svg(chart.Options{ID: id + "-w-", Notation: d.Notation})
		narrow := svg(chart.Options{ID: id + "-n-", Notation: d.Notation, Narrow: true})
		if wide != "" {
			out[id] = picture{template.HTML(wide), template.HTML(narrow)} //nolint:gosec // see above
		}
	}
	return out
}
