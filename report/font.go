package report

import (
	"embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
)

//go:embed font/*.woff2 font/unicode.json
var fontFiles embed.FS

// subset is a part of the font with the code points that it holds.
type subset struct {
	name, unicodeRange string
	ranges             [][2]rune
}

// subsets reads font/unicode.json once, in order of name.
var subsets = sync.OnceValue(func() []subset {
	text, err := fontFiles.ReadFile("font/unicode.json")
	if err != nil {
		panic(err) // embedded, so a broken build
	}
	var byName map[string]string
	if err := json.Unmarshal(text, &byName); err != nil {
		panic(err)
	}
	var out []subset
	for name, r := range byName {
		out = append(out, subset{name, r, parseRanges(r)})
	}
	slices.SortFunc(out, func(a, b subset) int { return strings.Compare(a.name, b.name) })
	return out
})

// parseRanges reads a CSS unicode-range.
func parseRanges(s string) [][2]rune {
	var out [][2]rune
	for _, part := range strings.Split(s, ",") {
		first, last, isRange := strings.Cut(strings.TrimPrefix(strings.TrimSpace(part), "U+"), "-")
		if !isRange {
			last = first
		}
		lo, err1 := strconv.ParseInt(first, 16, 32)
		hi, err2 := strconv.ParseInt(last, 16, 32)
		if err1 != nil || err2 != nil {
			panic("report: font/unicode.json has the range " + part)
		}
		out = append(out, [2]rune{rune(lo), rune(hi)})
	}
	return out
}

func (s subset) holds(r rune) bool {
	return slices.ContainsFunc(s.ranges, func(x [2]rune) bool { return r >= x[0] && r <= x[1] })
}

// fontFaces is the CSS that embeds the subsets of the font that a text needs:
// the Latin one, and others for letters that it lacks.
func fontFaces(text string) string {
	var latin subset
	for _, s := range subsets() {
		if s.name == "latin" {
			latin = s
		}
	}
	needed := map[string]bool{"latin": true}
	for _, r := range text {
		if latin.holds(r) {
			continue
		}
		for _, s := range subsets() {
			if s.holds(r) {
				needed[s.name] = true
			}
		}
	}
	var b strings.Builder
	for _, s := range subsets() {
		if !needed[s.name] {
			continue
		}
		data, err := fontFiles.ReadFile("font/source-sans-3-" + s.name + "-wght-normal.woff2")
		if err != nil {
			panic(err)
		}
		fmt.Fprintf(&b, "@font-face { font-family: \"Source Sans 3\"; font-weight: 200 900; font-style: normal; font-display: block; src: url(data:font/woff2;base64,%s) format(\"woff2\"); unicode-range: %s; }\n",
			base64.StdEncoding.EncodeToString(data), s.unicodeRange)
	}
	return b.String()
}
