package web

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"image"
	"image/color"
	"image/png"
	"math"
	"strconv"
	"strings"
	"sync"
)

//go:embed worker/day-worker.js
var workerScript string

// worker gives the script that keeps the day page usable without a connection. It
// stands at the root, and is for the day page alone.
func worker(r *request) error {
	h := r.w.Header()
	h.Set("Content-Type", "text/javascript; charset=utf-8")
	h.Set("Cache-Control", "no-cache")
	_, _ = r.w.Write([]byte(workerScript)) // the reader may have gone
	return nil
}

// manifest lets the day page be put on a phone's home screen.
func manifest(r *request) error {
	type icon struct {
		Src     string `json:"src"`
		Sizes   string `json:"sizes"`
		Type    string `json:"type"`
		Purpose string `json:"purpose,omitempty"`
	}
	m := struct {
		Name       string `json:"name"`
		Short      string `json:"short_name"`
		ID         string `json:"id"`
		Start      string `json:"start_url"`
		Scope      string `json:"scope"`
		Display    string `json:"display"`
		Background string `json:"background_color"`
		Theme      string `json:"theme_color"`
		Icons      []icon `json:"icons"`
	}{"Glidepath", "Glidepath", "/day", "/day", "/", "standalone", "#fbfaf6", "#fbfaf6", []icon{
		{"/icon/192.png", "192x192", "image/png", ""},
		{"/icon/512.png", "512x512", "image/png", "any"},
		{"/icon/512.png", "512x512", "image/png", "maskable"},
	}}
	h := r.w.Header()
	h.Set("Content-Type", "application/manifest+json")
	h.Set("Cache-Control", "no-cache")
	return json.NewEncoder(r.w).Encode(m)
}

func showIcon(r *request) error {
	text, ok := strings.CutSuffix(r.PathValue("size"), ".png")
	size, err := strconv.Atoi(text)
	icon, known := icons()[size]
	if !ok || err != nil || !known {
		return noPage()
	}
	h := r.w.Header()
	h.Set("Content-Type", "image/png")
	h.Set("Cache-Control", "public, max-age=86400")
	_, _ = r.w.Write(icon) // the reader may have gone
	return nil
}

// icons are the mark in the sizes that phones ask for, drawn once.
var icons = sync.OnceValue(func() map[int][]byte {
	out := map[int][]byte{}
	for _, size := range []int{180, 192, 512} {
		var b bytes.Buffer
		if err := png.Encode(&b, drawMark(size)); err != nil {
			panic(err) // a buffer takes everything
		}
		out[size] = b.Bytes()
	}
	return out
})

// point is a place in the mark, which is 32 by 32.
type point struct{ x, y float64 }

// drawMark draws mark.svg as pixels: two edges that close in on the show. It fills
// the square, and keeps to the middle four fifths, since phones cut it to shape.
func drawMark(size int) image.Image {
	const side, inner = 32.0, 0.8
	upper := curve(point{5, 8}, point{12, 9}, point{20, 15}, point{27, 24})
	lower := curve(point{5, 15}, point{11, 16}, point{18, 19}, point{27, 24})
	show := []point{{27, 7}, {27, 27}}
	m := image.NewRGBA(image.Rect(0, 0, size, size))
	ground, ink, accent := color.RGBA{28, 26, 23, 255}, color.RGBA{251, 250, 246, 255}, color.RGBA{86, 180, 233, 255}
	unit := side / inner / float64(size) // of the mark a pixel
	for y := range size {
		for x := range size {
			at := point{(float64(x)+0.5)*unit - side*(1/inner-1)/2, (float64(y)+0.5)*unit - side*(1/inner-1)/2}
			c := over(ground, ink, covered(upper, at, 1, unit))
			if dashed(lower, at) {
				c = over(c, ink, covered(lower, at, 1, unit))
			}
			m.SetRGBA(x, y, over(c, accent, covered(show, at, 1.25, unit)))
		}
	}
	return m
}

// curve is a cubic Bézier as a line of many parts.
func curve(a, b, c, d point) []point {
	const parts = 40
	out := make([]point, 0, parts+1)
	for i := range parts + 1 {
		t := float64(i) / parts
		s := 1 - t
		mix := func(a, b, c, d float64) float64 { return s*s*s*a + 3*s*s*t*b + 3*s*t*t*c + t*t*t*d }
		out = append(out, point{mix(a.x, b.x, c.x, d.x), mix(a.y, b.y, c.y, d.y)})
	}
	return out
}

// nearest is the distance of a point from a line, and how far along it that is.
func nearest(line []point, p point) (distance, along float64) {
	distance = math.Inf(1)
	run := 0.0
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		dx, dy := b.x-a.x, b.y-a.y
		length := math.Hypot(dx, dy)
		t := min(1, max(0, ((p.x-a.x)*dx+(p.y-a.y)*dy)/(length*length)))
		if d := math.Hypot(p.x-a.x-t*dx, p.y-a.y-t*dy); d < distance {
			distance, along = d, run+t*length
		}
		run += length
	}
	return distance, along
}

func dashed(line []point, p point) bool {
	const dash, gap = 3, 2.5
	_, along := nearest(line, p)
	return math.Mod(along, dash+gap) < dash
}

// covered is how much of a pixel a stroke covers.
func covered(line []point, p point, half, pixel float64) float64 {
	d, _ := nearest(line, p)
	return min(1, max(0, (half-d)/pixel+0.5))
}

func over(ground, ink color.RGBA, share float64) color.RGBA {
	mix := func(a, b uint8) uint8 { return uint8(math.Round(float64(a) + (float64(b)-float64(a))*share)) }
	return color.RGBA{mix(ground.R, ink.R), mix(ground.G, ink.G), mix(ground.B, ink.B), 255}
}
