package web_test

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"glidepath/web"
)

// The headers of every answer, and pages without a script or a style in them.
func TestHeaders(t *testing.T) {
	w := filled(t)
	b := w.owner()
	inline := regexp.MustCompile(`<script(?: [^>]*)?>[^<]|<style|\sstyle="|\son[a-z]+="|(?:src|href)="(?:https?:)?//`)
	for _, path := range []string{"/", "/athletes/" + changing, "/athletes/" + changing + "/review", "/athletes/" + changing + "/season?show_id=may-classic-2026&show_date=2026-07-18", "/athletes/" + changing + "/profile", "/nowhere", "/athletes/new", "/help"} {
		got := b.get(path)
		for name, want := range map[string]string{
			"Content-Security-Policy": "default-src 'none'", "X-Content-Type-Options": "nosniff", "Referrer-Policy": "same-origin",
			"X-Frame-Options": "DENY", "Cache-Control": "no-store", "Cross-Origin-Opener-Policy": "same-origin",
		} {
			if !strings.Contains(got.header.Get(name), want) {
				t.Errorf("%s: %s is %q", path, name, got.header.Get(name))
			}
		}
		if strings.Contains(got.header.Get("Content-Security-Policy"), "unsafe") {
			t.Errorf("%s: the policy lets anything in", path)
		}
		if found := inline.FindString(got.body); found != "" {
			t.Errorf("%s: has %q in it", path, found)
		}
	}
}

func TestCookies(t *testing.T) {
	for _, secure := range []bool{false, true} {
		w := serve(t, func(o *web.Options) { o.Secure = secure })
		w.owner()
		b := w.browser()
		b.client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
		got := b.post("/sign-in", "login", "owner", "password", password)
		cookie := got.header.Get("Set-Cookie")
		for _, want := range []string{"HttpOnly", "SameSite=Lax", "Path=/"} {
			if !strings.Contains(cookie, want) {
				t.Errorf("the cookie lacks %s: %s", want, cookie)
			}
		}
		if strings.Contains(cookie, "Secure") != secure {
			t.Errorf("secure is %v and the cookie %s", secure, cookie)
		}
		if hsts := got.header.Get("Strict-Transport-Security"); (hsts != "") != secure {
			t.Errorf("secure is %v and Strict-Transport-Security %q", secure, hsts)
		}
	}
}

// A form from another site is refused before it does anything.
func TestFromElsewhere(t *testing.T) {
	w := filled(t)
	b := w.owner()
	for name, value := range map[string]string{"Sec-Fetch-Site": "cross-site", "Origin": "https://example.org"} {
		r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, w.URL+"/athletes/"+changing+"/erase", strings.NewReader("name=Aroha+Jensen"))
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set(name, value)
		b.do(r).wants(t, http.StatusForbidden, "came from another site")
	}
	w.profile(changing)
}

func TestTooLarge(t *testing.T) {
	w := filled(t)
	b := w.owner()
	b.post("/athletes/"+changing+"/message", "text", strings.Repeat("x", 300<<10)).wants(t, http.StatusRequestEntityTooLarge, "larger than 256 kB")
	b.send(changing, "days", "large.csv", strings.Repeat("2026-02-20,64.9\n", 900_000)).wants(t, http.StatusRequestEntityTooLarge, "larger than 12288 kB")
}

func TestErrorPages(t *testing.T) {
	w := filled(t)
	b := w.owner()
	b.get("/nowhere").wants(t, http.StatusNotFound, "There is no page at this address", "Go to the roster")
	b.get("/athletes/nobody").wants(t, http.StatusNotFound, "There is no athlete")
	b.get("/athletes/"+changing+"?from=soon").wants(t, http.StatusUnprocessableEntity, "not a date")
	if err := w.data.Close(); err != nil { // what nobody can mend
		t.Fatal(err)
	}
	got := w.browser().get("/sign-in").wants(t, http.StatusInternalServerError, "Something failed on our side")
	if strings.Contains(got.body, "sql") {
		t.Error("the inner error is told to the reader")
	}
}

// weight is what a page and all that it asks for weigh as they are sent.
func (b *browser) weight(path string) int {
	b.w.t.Helper()
	sum := 0
	fetch := func(path string) string {
		r, err := http.NewRequestWithContext(b.w.t.Context(), http.MethodGet, b.w.URL+path, http.NoBody)
		if err != nil {
			b.w.t.Fatal(err)
		}
		r.Header.Set("Accept-Encoding", "gzip")
		got := b.do(r)
		sum += len(got.body)
		if got.header.Get("Content-Encoding") != "gzip" {
			return got.body
		}
		z, err := gzip.NewReader(strings.NewReader(got.body))
		if err != nil {
			b.w.t.Fatal(err)
		}
		var text bytes.Buffer
		if _, err := io.Copy(&text, z); err != nil { //nolint:gosec // our own answer
			b.w.t.Fatal(err)
		}
		return text.String()
	}
	page := fetch(path)
	for _, m := range regexp.MustCompile(`(?:href|src)="(/asset/[^"]+)"`).FindAllStringSubmatch(page, -1) {
		if strings.HasSuffix(m[1], ".js") {
			for _, one := range regexp.MustCompile(`'\./([^']+)'`).FindAllStringSubmatch(fetch(m[1]), -1) {
				fetch("/asset/" + one[1])
			}
			continue
		}
		fetch(m[1])
	}
	fetch("/asset/font/source-sans-3-latin-wght-normal.woff2")
	return sum
}

// The first page weighs under 150 kB as sent without charts, one with them under
// 400 kB (the project's own budget), fonts, styles and scripts in it.
func TestWeight(t *testing.T) {
	empty := serve(t, nil)
	b := empty.owner()
	if got := b.weight("/"); got > 150_000 {
		t.Errorf("the first page weighs %d bytes", got)
	} else {
		t.Logf("the first page weighs %d bytes", got)
	}
	w := filled(t)
	b = w.owner()
	b.settled("/")
	for _, path := range []string{"/", "/athletes/" + changing, "/athletes/" + changing + "/season?show_id=may-classic-2026&show_date=2026-07-18"} {
		if got := b.weight(path); got > 400_000 {
			t.Errorf("%s weighs %d bytes", path, got)
		} else {
			t.Logf("%s weighs %d bytes", path, got)
		}
	}
}
