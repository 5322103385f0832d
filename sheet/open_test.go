package sheet

import (
	"archive/zip"
	"bytes"
	"strings"
	"testing"

	"glidepath/civil"
	"glidepath/fault"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

func open(t testing.TB, text string, o Options) *Table {
	t.Helper()
	tb, err := Open("log.csv", strings.NewReader(text), o)
	if err != nil {
		t.Fatalf("Open: %v", err)
	}
	return tb
}

// The same two rows in each encoding; x/text's encoders are the reference. The
// byte-order marks are those of Unicode 15, section 23.8.
func TestEncodings(t *testing.T) {
	const text = "Datum;Gewicht;Müdigkeit;Notiz\n2025-03-04;82,5;3;Größe – 5 €\n"
	encode := func(name string) []byte {
		b, err := encodings[name].NewEncoder().Bytes([]byte(text))
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	utf16 := func(e unicode.Endianness) []byte {
		b, err := unicode.UTF16(e, unicode.UseBOM).NewEncoder().Bytes([]byte(text))
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	for _, c := range []struct {
		name, want string
		data       []byte
		o          Options
	}{
		{"UTF-8", "utf-8", []byte(text), Options{}},
		{"UTF-8 with mark", "utf-8", []byte("\xef\xbb\xbf" + text), Options{}},
		{"UTF-16 LE with mark", "utf-16le", utf16(unicode.LittleEndian), Options{}},
		{"UTF-16 BE with mark", "utf-16be", utf16(unicode.BigEndian), Options{}},
		{"UTF-16 LE", "utf-16le", encode("utf-16le"), Options{}},
		{"UTF-16 BE", "utf-16be", encode("utf-16be"), Options{}},
		{"Windows-1252", "windows-1252", encode("windows-1252"), Options{}},
		{"Windows-1250, named", "windows-1250", encode("windows-1250"), Options{Encoding: "Windows-1250"}},
		{"Macintosh, named", "macintosh", encode("macintosh"), Options{Encoding: "macintosh"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			tb, err := Open("a.csv", bytes.NewReader(c.data), c.o)
			if err != nil {
				t.Fatal(err)
			}
			if tb.Encoding != c.want || tb.Separator != ';' {
				t.Errorf("read as %s with %q, want %s with ;", tb.Encoding, tb.Separator, c.want)
			}
			if got := tb.Headings[2] + "|" + tb.Rows[0].Cells[3]; got != "Müdigkeit|Größe – 5 €" {
				t.Errorf("read %q", got)
			}
		})
	}
}

func TestNotTables(t *testing.T) {
	latin, _ := charmap.Windows1252.NewEncoder().String("x")
	for _, c := range []struct{ name, data, want string }{
		{"empty", "", "nothing in it"},
		{"blank", "\n ,\n\n", "nothing in it"},
		{"UTF-32", "\xff\xfe\x00\x00D\x00\x00\x00", "UTF-32"},
		{"binary", "GIF89a\x00\x01\x00" + latin, "zero bytes"},
		{"old workbook", "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "old Excel"},
		{"PDF", "%PDF-1.7", "PDF"},
		{"zip of something else", zipOf(t, "content.xml", "x"), "no Excel workbook"},
		{"broken zip", "PK\x03\x04rubbish", "cannot be read"},
		{"open quotation mark", "Date,Weight,Notes\n2025-01-01,80,\"fell\n2025-01-02,80,a\n2025-01-03,80,b\n2025-01-04,80,c\n", "never closed"},
		{"million columns", "Date,Weight\n" + strings.Repeat(",", 1_000_000) + "\n", "more than 16384 cells"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Open("dir/file.csv", strings.NewReader(c.data), Options{})
			if err == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "file.csv: ") {
				t.Errorf("error is %v, want one with %q", err, c.want)
			}
			if fault.KindOf(err) != fault.Invalid {
				t.Errorf("kind %q", fault.KindOf(err))
			}
		})
	}
	if _, err := Open("big.csv", strings.NewReader(strings.Repeat("x", maxBytes+1)), Options{}); err == nil || !strings.Contains(err.Error(), "64 MB") {
		t.Errorf("65 MB gave %v", err)
	}
	if _, err := Open("a.csv", strings.NewReader("Date,Weight\n"), Options{Encoding: "ebcdic"}); err == nil || !strings.Contains(err.Error(), "not known") {
		t.Errorf("unknown encoding gave %v", err)
	}
}

func zipOf(t *testing.T, name, content string) string {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create(name)
	if err == nil {
		_, err = w.Write([]byte(content))
	}
	if err == nil {
		err = z.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// A workbook that would unpack to more than the limit is refused before unpacking.
func TestZipBomb(t *testing.T) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range []string{"xl/workbook.xml", "xl/worksheets/sheet1.xml"} {
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		zeros := make([]byte, 1<<20)
		for range maxUnpacked>>21 + 1 {
			if _, err := w.Write(zeros); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	if b.Len() > 2<<20 {
		t.Fatalf("the bomb is %d bytes, no bomb", b.Len())
	}
	if _, err := Open("b.xlsx", &b, Options{}); err == nil || !strings.Contains(err.Error(), "unpacks to more than 256 MB") {
		t.Errorf("got %v", err)
	}
}

// RFC 4180 section 2: quoted separators, quotation marks doubled, line breaks in
// quotes, CRLF, a last line without a break. Rows count as a spreadsheet counts.
func TestRFC4180(t *testing.T) {
	tb := open(t, "Date,Weight,Notes\r\n2025-01-01,80,\"a, b\"\r\n\r\n2025-01-02,81,\"she said \"\"no\"\"\"\r\n2025-01-03,82,\"two\r\nlines\"\r\n2025-01-04,83,end", Options{})
	want := []struct {
		row  int
		note string
	}{{2, "a, b"}, {4, `she said "no"`}, {5, "two\nlines"}, {6, "end"}}
	if len(tb.Rows) != len(want) {
		t.Fatalf("%d rows, want %d", len(tb.Rows), len(want))
	}
	for i, w := range want {
		if r := tb.Rows[i]; r.Number != w.row || r.Cells[2] != w.note {
			t.Errorf("row %d has %q, want row %d with %q", r.Number, r.Cells[2], w.row, w.note)
		}
	}
	lazy := open(t, "Date,Weight,Notes\n2025-01-01,80,5\"10 tall\n2025-01-02,81,\n", Options{})
	if lazy.Rows[0].Cells[2] != `5"10 tall` || len(lazy.Rows) != 2 {
		t.Errorf("a quotation mark within a cell gave %v", lazy.Rows)
	}
}

func TestSeparatorsAndHeaders(t *testing.T) {
	for _, c := range []struct {
		name, text string
		sep        rune
		header     int
		headings   string
		first      int
		rows       int
	}{
		{"comma", "Date,Weight\n2025-01-01,80\n", ',', 1, "Date|Weight", 2, 1},
		{"semicolon, decimal commas", "Datum;Gewicht;kcal\n2025-01-01;80,5;2100\n2025-01-02;80,1;2100\n", ';', 1, "Datum|Gewicht|kcal", 2, 2},
		{"tab", "Date\tWeight\tNotes\n2025-01-01\t80\ta, b, c\n", '\t', 1, "Date|Weight|Notes", 2, 1},
		{"bar", "Date|Weight|Notes\n2025-01-01|80|a, b\n", '|', 1, "Date|Weight|Notes", 2, 1},
		{"sep line", "sep=;\nDate;Weight\n2025-01-01;80\n", ';', 1, "Date|Weight", 2, 1},
		{"preamble", "Log of M.,,\nStarted January,,\n\nDate,Weight,Calories\n2025-01-01,80,2000\n", ',', 4, "Date|Weight|Calories", 5, 1},
		{"units under the headings", "Date,Weight,Energy\n,lb,kcal\n2025-01-01,180,2000\n", ',', 1, "Date|Weight|Energy", 3, 1},
		{"headings repeated", "Date,Weight\n2025-01-01,80\nDate,Weight\n2025-02-01,79\n", ',', 1, "Date|Weight", 2, 2},
		{"no headings", "2025-01-01,80\n2025-01-02,80.2\n", ',', 0, "Column A|Column B", 1, 2},
		{"unknown headings", "foo,bar\n2025-01-01,80\n2025-01-02,80.2\n", ',', 1, "foo|bar", 2, 2},
		{"old Macintosh line ends", "Date,Weight\r2025-01-01,80\r", ',', 1, "Date|Weight", 2, 1},
		{"blank rows", "\n\nDate,Weight\n\n2025-01-01,80\n", ',', 3, "Date|Weight", 5, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			tb := open(t, c.text, Options{})
			if tb.Separator != c.sep || tb.HeaderRow != c.header || strings.Join(tb.Headings, "|") != c.headings {
				t.Errorf("separator %q, header in row %d, %q", tb.Separator, tb.HeaderRow, tb.Headings)
			}
			if len(tb.Rows) != c.rows || tb.Rows[0].Number != c.first {
				t.Errorf("%d rows from row %d, want %d from %d", len(tb.Rows), tb.Rows[0].Number, c.rows, c.first)
			}
		})
	}
	tb := open(t, "Date,Weight\nDay,Mass\n2025-01-01,80\n", Options{HeaderRow: 2, Separator: ','})
	if tb.Headings[1] != "Mass" {
		t.Errorf("named header row gave %q", tb.Headings)
	}
	if _, err := Open("a.csv", strings.NewReader("Date,Weight\n2025-01-01,80\n"), Options{HeaderRow: 9}); fault.KindOf(err) != fault.NotFound {
		t.Errorf("header row 9 gave %v", err)
	}
}

func TestSignature(t *testing.T) {
	sig := func(text string) string { return Signature(open(t, text, Options{})) }
	same := sig("Date,Body Weight,Müde\n2025-01-01,80,1\n")
	for _, text := range []string{
		"DATE,body weight,mude\n2025-09-09,70,2\n", "Date,BodyWeight,Müde,why\n2025-01-01,80,1,bad\n", "x\n\nDate;Body  Weight;Müde\n2025-01-01;80;1\n",
	} {
		if sig(text) != same {
			t.Errorf("signature of %q differs", text)
		}
	}
	for _, text := range []string{
		"Date,Body Weight (lb),Müde\n2025-01-01,80,1\n", "Body Weight,Date,Müde\n80,2025-01-01,1\n", "Date,Body Weight\n2025-01-01,80\n",
		"Date,Body Weight,Müde\n,lb,\n2025-01-01,80,1\n",
	} {
		if sig(text) == same {
			t.Errorf("signature of %q is the same", text)
		}
	}
}

// book makes a workbook by the library's writer, cells as Go values.
func workbook(t testing.TB, sheets map[string][][]any, order ...string) []byte {
	t.Helper()
	f := excelize.NewFile()
	for i, name := range order {
		if i == 0 {
			if err := f.SetSheetName("Sheet1", name); err != nil {
				t.Fatal(err)
			}
		} else if _, err := f.NewSheet(name); err != nil {
			t.Fatal(err)
		}
		for r, row := range sheets[name] {
			cell, _ := excelize.CoordinatesToCellName(1, r+1)
			if err := f.SetSheetRow(name, cell, &row); err != nil {
				t.Fatal(err)
			}
		}
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestWorkbookSheets(t *testing.T) {
	data := workbook(t, map[string][][]any{
		"Intro": {{"Welcome"}, {"nothing here"}},
		"Jan":   {{"My log"}, {}, {"Date", "Weight (kg)"}, {"2025-01-01", 80.25}, {}, {"2025-01-02", 80.5}},
		"Feb":   {{"Date", "Weight (kg)"}, {"2025-02-01", 79}},
	}, "Intro", "Jan", "Feb")
	tb, err := Open("log.xlsx", bytes.NewReader(data), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if tb.Sheet != "Jan" || tb.HeaderRow != 3 || tb.Rows[1].Number != 6 || tb.Rows[0].Cells[1] != "80.25" {
		t.Errorf("read sheet %q, header %d, rows %v", tb.Sheet, tb.HeaderRow, tb.Rows)
	}
	if len(tb.Notes) == 0 || !strings.Contains(tb.Notes[0], `"Feb"`) {
		t.Errorf("no word of the other sheet: %q", tb.Notes)
	}
	if tb, err = Open("log.xlsx", bytes.NewReader(data), Options{Sheet: "feb"}); err != nil || tb.Sheet != "Feb" {
		t.Errorf("sheet by name: %v %v", tb, err)
	}
	if _, err = Open("log.xlsx", bytes.NewReader(data), Options{Sheet: "Mar"}); fault.KindOf(err) != fault.NotFound || !strings.Contains(err.Error(), `"Jan"`) {
		t.Errorf("sheet that is not there: %v", err)
	}
}

func FuzzOpen(f *testing.F) {
	f.Add([]byte("Date,Weight\n2025-01-01,80\n"))
	f.Add([]byte("sep=;\nDatum;Gewicht\n1.2.25;80,5\n"))
	f.Add([]byte("\xff\xfeD\x00a\x00t\x00e\x00"))
	f.Add([]byte("Date,Weight,\"No\ntes\"\n2025-01-01,80,\"x\n"))
	f.Add([]byte("Date,Exercise,Weight (lb),Reps,RPE\n1/13/25,Squat,225,3x5,8\n,,230,5/5/4,\n"))
	f.Add([]byte("Week,Day,Session,Exercise,Sets,Reps,RPE,Rest\n1-2,Mon,A,Squat,3,6-8,8,2:30\n,,,Curl,,3x8,7-8,90\n3 deload,,,,,,,\n"))
	f.Add([]byte("Date,Method,BF %,Thigh,Waist\n2025-01-13,dxa,12.3,20,80\n"))
	f.Add(workbook(f, map[string][][]any{"A": {{"Date", "Weight"}, {45720, 80.5}, {"=1+1", "x"}}}, "A"))
	f.Fuzz(func(t *testing.T, data []byte) {
		tb, err := Open("f", bytes.NewReader(data), Options{})
		if err != nil {
			if fault.KindOf(err) == "" {
				t.Fatalf("not a fault: %v", err)
			}
			return
		}
		for i := 1; i < len(tb.Rows); i++ {
			if tb.Rows[i].Number <= tb.Rows[i-1].Number {
				t.Fatalf("row %d after row %d", tb.Rows[i].Number, tb.Rows[i-1].Number)
			}
		}
		_ = Signature(tb)
		for _, k := range append(Kinds(), Programmes) {
			readAll(t, tb, k)
		}
	})
}

// readAll guesses, answers every question with its first choice, reads, and
// checks what must hold of any file.
func readAll(t *testing.T, tb *Table, k Kind) {
	m, err := Guess(tb, k, Hint{WeightKg: 80})
	if err != nil {
		t.Fatalf("Guess: %v", err)
	}
	for range 100 {
		if len(m.Questions) == 0 {
			break
		}
		q, answer := m.Questions[0], "2025"
		if len(q.Choices) > 0 {
			answer = q.Choices[0].Value
		}
		if err := m.Answer(q.ID, answer); err != nil {
			if q.ID == askDateColumn {
				return // a heading that cannot be named, such as an empty one
			}
			t.Fatalf("answer %s=%s: %v", q.ID, answer, err)
		}
	}
	DescribeMapping(m)
	var bad []*fault.Error
	switch k {
	case Days:
		res, _ := ReadDays(tb, m)
		bad = res.Bad
		for i := range res.Good {
			if err := res.Good[i].Value.Validate(); err != nil {
				t.Fatalf("a good day is not valid: %v", err)
			}
		}
	case Training:
		res, _ := ReadSets(tb, m)
		_, _ = ReadSessions(tb, m)
		bad = res.Bad
	case Measurements:
		res, _ := ReadMeasurements(tb, m)
		bad = res.Bad
	case Programmes:
		p, _, err := ReadProgrammeTable(tb, m)
		if err == nil {
			p.Name, p.From = "x", civil.Of(2026, 3, 2)
			err = p.Validate()
		}
		if err != nil && fault.KindOf(err) == "" || err != nil && p.Weeks != nil {
			t.Fatalf("%v of %+v", err, p)
		}
		return
	}
	for _, e := range bad {
		if e.Row == 0 || e.File == "" || e.Message == "" {
			t.Fatalf("a fault without a place: %+v", e)
		}
	}
	var b bytes.Buffer
	if err := WriteRejected(&b, tb, m, bad); err != nil {
		t.Fatalf("WriteRejected: %v", err)
	}
}
