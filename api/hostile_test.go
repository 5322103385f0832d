package api_test

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"image"
	"image/png"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"glidepath/access"
	"glidepath/api"
	"glidepath/athlete"
	"glidepath/photo"
	"glidepath/photo/phototest"
)

// problem reads an answer that must be one.
func problem(t *testing.T, body string) api.Problem {
	t.Helper()
	var p api.Problem
	if err := json.Unmarshal([]byte(body), &p); err != nil {
		t.Fatalf("%v: %s", err, body)
	}
	return p
}

// leak is what no answer to a person may hold: the insides of the program, or what
// was sent.
var leak = regexp.MustCompile(`(?i)goroutine|panic|sql|\.go:|glidepath/|huma|reflect|0x[0-9a-f]{6}|<nil>|%!|hunter2`)

var clear = regexp.MustCompile(`^[A-Z0-9"“-].*[.?…]$`)

// isClear fails on an answer that is no sentence, or says too much.
func isClear(t *testing.T, body string) {
	t.Helper()
	p := problem(t, body)
	texts := []string{p.Detail}
	for _, e := range p.Errors {
		texts = append(texts, e.Detail)
	}
	for _, text := range texts {
		if !clear.MatchString(text) {
			t.Errorf("no clear sentence: %q", text)
		}
	}
	if leak.MatchString(body) {
		t.Errorf("the answer leaks: %s", body)
	}
	if len(body) > 20_000 {
		t.Errorf("the answer has %d bytes", len(body))
	}
}

// Whatever is sent, the answer is a clear sentence, nothing is stored and nothing
// is leaked.
func TestHostileUploads(t *testing.T) {
	d := newDesk(t)
	before := everything(d)
	many := "[" + strings.TrimSuffix(strings.Repeat(`{"date":"2026-03-01"},`, 20_001), ",") + "]"
	for _, c := range []struct {
		name, path, body string
		status           int
		says             string
	}{
		{"nothing", "/days", ``, 400, "required"},
		{"no JSON", "/days", `hunter2`, 400, "not JSON"},
		{"half", "/days", `[{"date":"2026-03-01"`, 400, "not JSON"},
		{"two bodies", "/days", `[{"date":"2026-03-01"}] []`, 400, "not JSON"},
		{"an object", "/days", `{"date":"2026-03-01"}`, 422, "array"},
		{"null", "/days", `null`, 422, ""},
		{"an empty list", "/days", `[]`, 422, "1"},
		{"null for a day", "/days", `[null]`, 422, ""},
		{"a number for a day", "/days", `[1]`, 422, "object"},
		{"no date", "/days", `[{"weight_kg":61}]`, 422, "date"},
		{"an empty date", "/days", `[{"date":"","weight_kg":61}]`, 422, "no date"},
		{"a date of another form", "/days", `[{"date":"1 March 2026"}]`, 422, "YYYY-MM-DD"},
		{"a date that is none", "/days", `[{"date":"2026-02-30","weight_kg":61}]`, 422, "YYYY-MM-DD"},
		{"the year 0", "/days", `[{"date":"0000-12-31","weight_kg":61}]`, 422, "date"},
		{"the year 1", "/days", `[{"date":"0001-01-01","weight_kg":61}]`, 422, "outside"},
		{"the year 9999", "/days", `[{"date":"9999-12-31","weight_kg":61}]`, 422, "future"},
		{"next week", "/days", `[{"date":"2026-03-09","weight_kg":61}]`, 422, "future"},
		{"a field too many", "/days", `[{"date":"2026-03-01","weight":61}]`, 422, "property"},
		{"a field of another type", "/days", `[{"date":"2026-03-01","weight_kg":"61"}]`, 422, "number"},
		{"a name in another case", "/days", `[{"date":"2026-03-01","Weight_KG":61}]`, 422, "property"},
		{"a name twice", "/days", `[{"date":"2026-03-01","notes":"a","NOTES":"b"}]`, 422, "property"},
		{"NaN", "/days", `[{"date":"2026-03-01","weight_kg":NaN}]`, 400, "not JSON"},
		{"a number too large for any", "/days", `[{"date":"2026-03-01","weight_kg":1e999}]`, 400, "not JSON"},
		{"a weight of nobody", "/days", `[{"date":"2026-03-01","weight_kg":5}]`, 422, "outside 20 to 500 kg"},
		{"one wrong of two", "/days", `[{"date":"2026-03-01","weight_kg":60},{"date":"2026-03-02","weight_kg":-1}]`, 422, "outside"},
		{"a kind of cardio that is none", "/days", `[{"date":"2026-03-01","cardio":[{"kind":"<script>","minutes":5}]}]`, 422, "cardio"},
		{"a note without end", "/days", `[{"date":"2026-03-01","notes":"` + strings.Repeat("a", 9000) + `"}]`, 422, "8000"},
		{"too many days", "/days", many, 422, "20000"},
		{"a body too large", "/days", strings.Repeat(" ", 17<<20), 413, "larger"},
		{"deep", "/days", strings.Repeat("[", 100_000), 400, "not JSON"},
		{"a set of nothing", "/sets", `[{"date":"2026-03-01","exercise":"","weight_kg":80,"reps":5,"order":1}]`, 422, "exercise"},
		{"half a repetition", "/sets", `[{"date":"2026-03-01","exercise":"squat","weight_kg":80,"reps":5.5,"order":1}]`, 422, "integer"},
		{"a session of a month", "/sessions", `[{"date":"2026-03-01","minutes":40000,"rpe":5}]`, 422, "outside"},
		{"a method that is none", "/measurements", `[{"date":"2026-03-01","method":"guess","body_fat_pct":12}]`, 422, "method"},
		{"all at once, one wrong", "/records", `{"days":[{"date":"2026-03-01","weight_kg":60}],"sets":[{"date":"2026-03-01","exercise":"squat","weight_kg":-80,"reps":5,"order":1}]}`, 422, "outside"},
		{"a show beyond the floor", "/shows", `{"id":"x","name":"Bare","date":"2026-09-01","target_body_fat_pct":5}`, 422, "floor"},
		{"a show in another age", "/shows", `{"id":"x","name":"Far","date":"2999-09-01","target_body_fat_pct":14}`, 422, "outside"},
		{"an event backwards", "/events", `{"from":"2026-04-02","to":"2026-04-01","kind":"travel"}`, 422, "order"},
		{"leave without end", "/limits/leave", `{"from":"2026-03-02","weeks":40,"why":"hurry"}`, 422, "4 weeks"},
		{"a limit that is none", "/limits/speed|PUT", `{"value":1,"why":"hurry"}`, 422, "no limit"},
		{"a limit without a reason", "/limits/fat_g_per_kg|PUT", `{"value":0.6,"why":""}`, 422, "reason"},
		{"a floor lowered for good", "/limits/energy_availability_floor|PUT", `{"value":10,"why":"hurry"}`, 422, "floor"},
		{"a prescription of starvation", "/prescriptions", `{"from":"2026-03-03","days":[{"type":"rest","per_week":7,"energy_kcal":900,"protein_g":100,"carbohydrate_g":50,"fat_g":30,"fibre_g":10}],"steps_per_day":9000,"phase":"prep","reasons":["hurry"]}`, 422, "under the floor"},
		{"a decision on nothing", "/reviews/2026-01-05/decision", `{"decision":"accepted"}`, 404, "no review"},
		{"a decision that is none", "/reviews/2026-01-05/decision", `{"decision":"perhaps"}`, 422, "one of"},
		{"an edit of starvation", "/reviews/2026-03-02/try", `{"energy_kcal":-900}`, 422, "outside 0"},
		{"an edit beyond counting", "/reviews/2026-03-02/try", `{"steps_per_day":1e300,"energy_kcal":1e300}`, 422, "outside 0"},
		{"a decision beyond counting", "/reviews/2026-03-02/decision", `{"decision":"edited","energy_kcal":1e300}`, 422, "outside 0"},
		{"an edit of something else", "/reviews/2026-03-02/try", `{"decision":"accepted"}`, 422, "property"},
		{"an edit of another age", "/reviews/0001-01-01/try", `{}`, 422, "outside"},
		{"a day amended by nothing", "/days/2026-03-01", `{}`, 422, "nothing is changed"},
		{"a day amended to another", "/days/2026-03-01", `{"put":{"date":"2026-02-28","weight_kg":60}}`, 422, "address"},
		{"a day amended both ways", "/days/2026-03-01", `{"put":{"date":"2026-03-01","weight_kg":60},"drop":["weight_kg"]}`, 422, "at once"},
		{"a value that no day has", "/days/2026-03-01", `{"drop":["hunter2"]}`, 422, "one of"},
		{"a day to come", "/days/2026-03-09", `{"drop":["weight_kg"]}`, 422, "future"},
		{"a day amended to a weight of nobody", "/days/2026-03-01", `{"put":{"date":"2026-03-01","weight_kg":5},"drop":["notes"]}`, 422, "outside 20"},
		{"an empty check-in", "/check-ins", `{"date":"2026-03-02"}`, 422, "empty"},
		{"a check-in of no date", "/check-ins", `{"date":"","words":"well"}`, 422, "no date"},
		{"a check-in to come", "/check-ins", `{"date":"2026-03-12","words":"well"}`, 422, "future"},
		{"a check-in without end", "/check-ins", `{"date":"2026-03-02","words":"` + strings.Repeat("a", 9000) + `"}`, 422, "8000"},
		{"a check-in too long in bytes", "/check-ins", `{"date":"2026-03-02","words":"` + strings.Repeat("é", 5000) + `"}`, 422, "8000"},
		{"a sign that is none", "/check-ins", `{"date":"2026-03-02","signs":["hunter2"]}`, 422, "one of"},
		{"a check-in with one wrong", "/check-ins", `{"date":"2026-03-02","words":"well","measurements":[{"date":"2026-03-02","method":"guess","body_fat_pct":12}]}`, 422, "method"},
		{"a check-in by another", "/check-ins", `{"date":"2026-03-02","words":"well","who":"the coach"}`, 422, "property"},
		{"units that are none", "/units|PUT", `{"units":"stone"}`, 422, "one of"},
		{"a scale that is none", "/effort|PUT", `{"effort":"stars"}`, 422, "one of"},
		{"no units", "/units|PUT", `{"units":""}`, 422, "one of"},
		{"a photo that is JSON", "/photos/2026-03-01/front", `{}`, 415, "image/jpeg or image/png"},
		{"limits slipped in with a profile", "|PUT", profileWith(`"limits":{}`), 422, ""},
		{"a clearance slipped in with a profile", "|PUT", profileWith(`"screening":{"answered_on":"2026-01-01","clearances":[{"caution":"fainting or palpitations","clinician":"me","date":"2026-01-01","until":""}]}`), 422, "screening"},
	} {
		t.Run(c.name, func(t *testing.T) {
			path, method, _ := strings.Cut(c.path, "|")
			if method == "" {
				method = http.MethodPost
			}
			d.TB = t
			w := d.send(request{method: method, path: "/athletes/" + own + path, body: c.body, token: d.tokens[access.Owner]})
			if w.Code != c.status || !strings.Contains(strings.ToLower(w.Body.String()), strings.ToLower(c.says)) {
				t.Errorf("status %d, want %d with %q: %s", w.Code, c.status, c.says, w.Body)
			}
			isClear(t, w.Body.String())
			if everything(d) != before {
				t.Fatal("something was stored")
			}
		})
	}
	if d.logged.Len() > 0 {
		t.Errorf("something failed inside: %s", d.logged.String())
	}
}

// profileWith is the own athlete's profile with one part replaced.
func profileWith(part string) string {
	text, err := json.Marshal(season(own).Athlete)
	if err != nil {
		panic(err)
	}
	name, _, _ := strings.Cut(part, ":")
	var all map[string]json.RawMessage
	if err := json.Unmarshal(text, &all); err != nil {
		panic(err)
	}
	delete(all, strings.Trim(name, `"`))
	if text, err = json.Marshal(all); err != nil {
		panic(err)
	}
	return "{" + part + "," + strings.TrimPrefix(string(text), "{")
}

// A fault in an upload says which record it is in.
func TestAFaultSaysWhere(t *testing.T) {
	d := newDesk(t)
	days := []athlete.Day{{Date: monday, WeightKg: new(61.0)}, {Date: monday.AddDays(-1), WeightKg: new(6.1)}, {Date: monday.AddDays(-2), Steps: new(-4.0)}}
	w := d.send(request{method: "POST", path: "/athletes/" + own + "/days", body: days, token: d.tokens[access.Coach]})
	p := problem(t, w.Body.String())
	if len(p.Errors) != 2 || p.Errors[0].Field != "days[1].weight_kg" || p.Errors[1].Field != "days[2].steps" || p.Field != p.Errors[0].Field {
		t.Errorf("the problem is %+v", p)
	}
	w = d.send(request{method: "POST", path: "/athletes/" + own + "/days", body: `[{"date":"2026-03-01"},{"date":"2026-03-02","weight_kg":"a"}]`, token: d.tokens[access.Coach]})
	if p := problem(t, w.Body.String()); p.Field != "body[1].weight_kg" {
		t.Errorf("the problem is %+v", p)
	}
}

// Parameters are held to their kind as bodies are.
func TestHostileParameters(t *testing.T) {
	d := newDesk(t)
	for path, status := range map[string]int{
		"/athletes/" + own + "/reading?as_of=yesterday":     422,
		"/athletes/" + own + "/reading?as_of=2026-02-30":    422,
		"/athletes/" + own + "/reading?as_of=0001-01-01":    422,
		"/athletes/" + own + "/reading?as_of=9999-12-31":    422,
		"/athletes/" + own + "/reading?as_off=2026-03-02":   422,
		"/athletes/" + own + "/forecast?futures=1000000000": 422,
		"/athletes/" + own + "/proposal?confidence=2":       422,
		"/athletes/" + own + "/forecast?futures=-1":         422,
		"/athletes/" + own + "/forecast?show=nowhere":       404,
		"/athletes/" + own + "/cardio?kcal=NaN":             422,
		"/athletes/" + own + "/cardio?kcal=1e9":             422,
		"/athletes/" + own + "/days?limit=0":                422,
		"/athletes/" + own + "/days?limit=999999":           422,
		"/athletes/" + own + "/days?from=x":                 422,
		"/athletes/" + strings.Repeat("a", 500) + "/days":   422,
		"/athletes/%2e%2e%2f/days":                          404,
		"/athletes/" + own + "'%20OR%201=1--/days":          422,
		"/athletes/" + own2 + "/appraisal":                  422, // refused: an open caution
		"/athletes/nobody/days":                             404,
		"/athletes/" + own + "/progress?weeks=0":            422,
		"/athletes/" + own + "/progress?as_of=9999-12-31":   422,
		"/athletes/" + own + "/photos/2026-03-01/front":     404,
		"/athletes/" + own + "/photos/2026-03-01/upside":    422,
		"/athletes/" + own + "/photos/yesterday/front":      422,
		"/athletes/" + own + "/photos?to=x":                 422,
		"/athletes/" + own + "/check-ins?limit=0":           422,
	} {
		w := d.send(request{method: "GET", path: path, token: d.tokens[access.Owner]})
		if w.Code != status {
			if strings.Contains(path, "OR%201") && w.Code == 404 {
				continue
			}
			t.Errorf("%s: status %d, want %d: %s", path, w.Code, status, w.Body)
			continue
		}
		isClear(t, w.Body.String())
	}
	w := d.send(request{method: "PATCH", path: "/athletes/" + own + "/days", token: d.tokens[access.Owner], body: "[]"})
	if w.Code != http.StatusMethodNotAllowed || w.Header().Get("Allow") != "GET, POST" {
		t.Errorf("PATCH: status %d, allowed %q", w.Code, w.Header().Get("Allow"))
	}
	for _, kind := range []string{"text/plain", "application/x-www-form-urlencoded", "text/xml"} {
		w := d.send(request{
			method: "POST", path: "/athletes/" + own + "/days", token: d.tokens[access.Owner],
			body: `[{"date":"2026-03-01","weight_kg":60}]`, header: map[string]string{"Content-Type": kind},
		})
		if w.Code != http.StatusUnsupportedMediaType {
			t.Errorf("%s: status %d: %s", kind, w.Code, w.Body)
		}
	}
}

// Whatever is sent as a photo, the answer is a clear sentence and nothing is kept.
func TestHostilePhotos(t *testing.T) {
	d := newDesk(t)
	before := everything(d)
	fine := string(phototest.JPEG(40, 30, 1))
	for _, c := range []struct {
		name, path, as, body string
		status               int
		says                 string
	}{
		{"nothing", "/2026-03-01/front", "image/jpeg", "", 400, "required"},
		{"another kind", "/2026-03-01/front", "image/gif", fine, 415, "image/jpeg or image/png"},
		{"a kind that is none", "/2026-03-01/front", "hunter2;;", fine, 415, "image/jpeg or image/png"},
		{"a page that says it is a photo", "/2026-03-01/front", "image/jpeg", "<script>hunter2</script>", 422, "not a JPEG or PNG"},
		{"half a photo", "/2026-03-01/front", "image/jpeg", fine[:len(fine)/4], 422, "damaged"},
		{"a photo of a phone's own kind", "/2026-03-01/front", "image/jpeg", "\x00\x00\x00\x18ftypheic", 422, "HEIC"},
		{"a huge picture in few bytes", "/2026-03-01/front", "image/png", hugePNG(t), 422, "megapixels"},
		{"too large a file", "/2026-03-01/front", "image/jpeg", fine + strings.Repeat("\x00", photo.MaxBytes), 413, "larger than 12 MB"},
		{"a pose that is none", "/2026-03-01/hunter2", "image/jpeg", fine, 422, "one of"},
		{"a date that is none", "/2026-02-30/front", "image/jpeg", fine, 422, "YYYY-MM-DD"},
		{"a day to come", "/2026-03-09/front", "image/jpeg", fine, 422, "future"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d.TB = t
			w := d.send(request{
				method: "POST", path: "/athletes/" + own + "/photos" + c.path, body: c.body, token: d.tokens[access.Athlete],
				header: map[string]string{"Content-Type": c.as},
			})
			if w.Code != c.status || !strings.Contains(w.Body.String(), c.says) {
				t.Errorf("status %d, want %d with %q: %s", w.Code, c.status, c.says, w.Body)
			}
			isClear(t, w.Body.String())
			if everything(d) != before {
				t.Fatal("something was stored")
			}
		})
	}
	if d.logged.Len() > 0 {
		t.Errorf("something failed inside: %s", d.logged.String())
	}
}

// hugePNG says in its first bytes that it is 60,000 by 60,000 pixels (the header of
// the PNG specification, W3C 2003, 11.2.2).
func hugePNG(t *testing.T) string {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 4, 4))); err != nil {
		t.Fatal(err)
	}
	file := b.Bytes()
	binary.BigEndian.PutUint32(file[16:], 60_000)
	binary.BigEndian.PutUint32(file[20:], 60_000)
	binary.BigEndian.PutUint32(file[29:], crc32.ChecksumIEEE(file[12:29]))
	return b.String()
}

// FuzzDays sends anything as an upload of days: the program answers with success or
// a clear sentence, and never fails inside.
func FuzzDays(f *testing.F) {
	d := newDesk(f)
	for _, seed := range []string{
		`[{"date":"2026-03-01","weight_kg":61.2}]`, `[{"date":"2026-02-30"}]`, `[{}]`, `{}`, `[[]]`, "\x00", `[{"date":"2026-03-01","cardio":[{"kind":"walking","minutes":30}]}]`,
		`[{"date":"2026-03-01","weight_stands":{"use":true}}]`, `[{"DATE":"2026-03-01","Weight_KG":61}]`, `[{"date":"2026-03-01","date":7}]`,
		`[{"date":"2026-03-01","cycle_day":1e3}]`, `[{"date":"2026-03-01","notes":"` + "\xff\xfe" + `"}]`,
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, body string) {
		d.TB = t
		w := d.send(request{method: "POST", path: "/athletes/" + own + "/days", body: body, token: d.tokens[access.Owner]})
		switch {
		case w.Code == http.StatusOK:
		case w.Code >= 400 && w.Code < 500:
			p := problem(t, w.Body.String())
			if p.Detail == "" || len(w.Body.String()) > 50_000 {
				t.Errorf("%d bytes: %q", w.Body.Len(), p.Detail)
			}
		default:
			t.Errorf("status %d: %s%s", w.Code, w.Body, d.logged.String())
		}
	})
}

// Thousands of days are one request.
func TestManyDays(t *testing.T) {
	d := newDesk(t)
	days := make([]athlete.Day, 5000)
	for i := range days {
		days[i] = athlete.Day{Date: monday.AddDays(-i), WeightKg: new(60 + float64(i%20)/10), EnergyKcal: new(2000.0), Notes: fmt.Sprint(i)}
	}
	out := ask[map[string]int](d, http.StatusOK, request{method: "POST", path: "/athletes/" + own2 + "/days", body: days})
	if out["added"]+out["corrected"]+out["same"] != 3*len(days) {
		t.Errorf("merged %v", out)
	}
	n, path := 0, "/athletes/"+own2+"/days?limit=1500&to=2026-03-02"
	for pages := 0; path != ""; pages++ {
		w := d.send(request{method: "GET", path: path, token: d.tokens[access.Coach]})
		var page []athlete.Day
		if err := json.Unmarshal(w.Body.Bytes(), &page); err != nil || pages > 4 {
			t.Fatal(pages, err)
		}
		n += len(page)
		path = ""
		if link := w.Header().Get("Link"); link != "" {
			path = strings.TrimPrefix(strings.TrimSuffix(link, `>; rel="next"`), "</api/v1")
		}
	}
	if n != len(days) {
		t.Errorf("the pages hold %d days, not %d", n, len(days))
	}
}
