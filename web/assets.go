package web

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"net/http"
	"path"
	"strings"
	"sync"

	"glidepath/chart"
	"glidepath/report"
)

//go:embed asset
var assetFiles embed.FS

// asset is a file of ours, by a name that changes with what is in it.
type asset struct {
	name string // as it is served, with a part of its hash
	kind string
	data []byte
}

// allAssets are the files by their plain names, made once.
var allAssets = sync.OnceValue(func() map[string]asset {
	out := map[string]asset{}
	put := func(name, kind string, data []byte) {
		sum := sha256.Sum256(data)
		ext := path.Ext(name)
		out[name] = asset{strings.TrimSuffix(name, ext) + "." + hex.EncodeToString(sum[:6]) + ext, kind, data}
	}
	read := func(files fs.FS, name string) []byte {
		data, err := fs.ReadFile(files, name)
		if err != nil {
			panic(err) // embedded, so a broken build
		}
		return data
	}
	entries, err := fs.ReadDir(assetFiles, "asset")
	if err != nil {
		panic(err)
	}
	scripts := map[string]string{}
	for _, e := range entries {
		switch data := read(assetFiles, "asset/"+e.Name()); path.Ext(e.Name()) {
		case ".js":
			scripts[e.Name()] = string(data)
		case ".svg":
			put(e.Name(), "image/svg+xml", data)
		}
	}
	// A script imports others by the names that they are served under, so those are
	// made first.
	var script func(name string)
	script = func(name string) {
		text := scripts[name]
		for other := range scripts {
			if from := "'./" + other + "'"; strings.Contains(text, from) {
				script(other)
				text = strings.ReplaceAll(text, from, "'./"+out[other].name+"'")
			}
		}
		put(name, "text/javascript; charset=utf-8", []byte(text))
	}
	for name := range scripts {
		script(name)
	}
	style := report.FontFaces("/asset/font") + chart.Style() + report.Style() + string(read(assetFiles, "asset/page.css")) + string(read(assetFiles, "asset/own.css"))
	put("page.css", "text/css; charset=utf-8", []byte(style))
	return out
})

// assetPath is the address of a file of ours.
func assetPath(name string) string {
	a, ok := allAssets()[name]
	if !ok {
		panic("web: there is no asset " + name)
	}
	return "/asset/" + a.name
}

// assets serves them, to be kept for good since the name tells the version. The
// font's files keep their names and a year.
func assets() http.Handler {
	byName := map[string]asset{}
	for _, a := range allAssets() {
		byName[a.name] = a
	}
	fonts := http.StripPrefix("/asset/font/", http.FileServerFS(report.Fonts()))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name := strings.TrimPrefix(r.URL.Path, "/asset/")
		w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
		if strings.HasPrefix(name, "font/") && strings.HasSuffix(name, ".woff2") {
			w.Header().Set("Content-Type", "font/woff2")
			fonts.ServeHTTP(w, r)
			return
		}
		a, ok := byName[name]
		if !ok {
			w.Header().Set("Cache-Control", "no-store")
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Content-Type", a.kind)
		_, _ = w.Write(a.data) // the reader may have gone
	})
}
