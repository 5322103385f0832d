package sheet

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"glidepath/fault"
)

// Limits on what is read, so that no file can exhaust the machine.
const (
	maxBytes    = 64 << 20  // a file
	maxUnpacked = 256 << 20 // a workbook's parts together
	maxColumns  = 16384     // a row; ECMA-376 spreadsheets end there too
	maxCells    = 12 << 20  // a table
)

// Options says what of a file is already known. The zero value finds it all out.
type Options struct {
	Sheet     string // the sheet of a workbook, by name in any case
	Separator rune   // of CSV
	Encoding  string // of CSV, one of Encodings()
	HeaderRow int    // the row with the headings, as a spreadsheet counts

	kinds []Kind // whose headings are looked for; nil is Kinds()
}

// looksFor are the kinds of table whose headings are looked for.
func (o *Options) looksFor() []Kind {
	if o.kinds == nil {
		return Kinds()
	}
	return o.kinds
}

// Table is one sheet of a file as text.
type Table struct {
	Name      string   // the file's base name
	Sheet     string   // the sheet read, "" for CSV
	Sheets    []string // all sheets of the workbook, nil for CSV
	Encoding  string   // of CSV
	Separator rune     // of CSV
	HeaderRow int      // as a spreadsheet counts; 0 where there are no headings
	Headings  []string // "Column A" and so on where there are none
	Units     []string // from a row of units under the headings, else empty strings
	Rows      []Row    // below the headings, blank rows left out
	Notes     []string // what was decided or left out on opening, in sentences

	workbook bool
	date1904 bool
}

// Row is a row of a table.
type Row struct {
	Number int      // as a spreadsheet counts, from 1
	Cells  []string // as stored
}

// Open reads a file of at most 64 MB. It tells CSV from XLSX by content, not by
// name. Errors are faults with the file's name in them.
func Open(name string, r io.Reader, o Options) (*Table, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", name, err)
	}
	t := &Table{Name: filepath.Base(name)}
	if err := t.open(data, o); err != nil {
		for _, e := range fault.All(err) {
			e.File = t.Name
		}
		return nil, err
	}
	return t, nil
}

func (t *Table) open(data []byte, o Options) error {
	var rows []Row
	var err error
	switch {
	case len(data) > maxBytes:
		return fault.New(fault.Invalid, "the file is larger than %d MB.", maxBytes>>20).
			WithHint("Split it, or delete columns and sheets that are not needed.")
	case bytes.HasPrefix(data, []byte("PK\x03\x04")):
		rows, err = t.openBook(data, o)
	case bytes.HasPrefix(data, []byte{0xd0, 0xcf, 0x11, 0xe0}):
		return fault.New(fault.Invalid, "the file is an old Excel workbook (.xls) or has a password.").
			WithHint("Save it as .xlsx without a password, or as CSV.")
	case bytes.HasPrefix(data, []byte("%PDF")):
		return notText("the file is a PDF.")
	default:
		rows, err = t.openText(data, o)
	}
	if err != nil {
		return err
	}
	return t.findHeader(rows, o)
}

func (t *Table) openBook(data []byte, o Options) ([]Row, error) {
	b, err := openBook(data)
	if err != nil {
		return nil, err
	}
	defer func() { _ = b.file.Close() }() // all in memory: nothing to lose
	name, others, err := b.pick(&o)
	if err != nil {
		return nil, err
	}
	if len(others) > 0 {
		t.Notes = append(t.Notes, fmt.Sprintf("read sheet %q; %s look like tables too", name, quoted(others)))
	}
	t.Sheet, t.Sheets, t.workbook, t.date1904 = name, b.sheets, true, b.date1904
	return b.rows(name, 0)
}

func (t *Table) openText(data []byte, o Options) ([]Row, error) {
	text, encoding, why, err := decode(data, o.Encoding)
	if err != nil {
		return nil, err
	}
	rows, sep, notes, err := readCSV(text, o.Separator, o.looksFor())
	if err != nil {
		return nil, err
	}
	t.Encoding, t.Separator = encoding, sep
	if why != "" {
		t.Notes = append(t.Notes, why)
	}
	t.Notes = append(t.Notes, notes...)
	return rows, nil
}

// findHeader splits rows into headings and data.
func (t *Table) findHeader(rows []Row, o Options) error {
	rows = dropBlankRows(rows)
	if len(rows) == 0 {
		return fault.New(fault.Invalid, "there is nothing in it.").WithHint("Check that the right sheet was read.")
	}
	at, _ := headerAt(rows[:min(len(rows), sampleLines)], o.looksFor())
	if o.HeaderRow > 0 {
		at = -1
		for i := range rows {
			if rows[i].Number == o.HeaderRow {
				at = i
			}
		}
		if at < 0 {
			return fault.New(fault.NotFound, "row %d, named as the header, is empty or not there.", o.HeaderRow)
		}
	}
	if at < 0 {
		t.nameColumns(rows)
		return nil
	}
	if at > 0 {
		above := make([]int, 0, at)
		for _, r := range rows[:at] {
			above = append(above, r.Number)
		}
		t.Notes = append(t.Notes, "left out above the headings: "+rowList(above))
	}
	header := rows[at]
	t.HeaderRow = header.Number
	for _, c := range header.Cells {
		t.Headings = append(t.Headings, cleanText(c, 80))
	}
	for len(t.Headings) > 0 && t.Headings[len(t.Headings)-1] == "" {
		t.Headings = t.Headings[:len(t.Headings)-1]
	}
	t.Units = make([]string, len(t.Headings))
	t.Rows = rows[at+1:]
	if len(t.Rows) > 0 && unitRow(t.Rows[0].Cells) {
		for i, u := range t.Rows[0].Cells {
			if i < len(t.Units) {
				t.Units[i] = strings.TrimSpace(u)
			}
		}
		t.Rows = t.Rows[1:]
	}
	t.dropRepeatedHeaders()
	return nil
}

// nameColumns gives a table without headings the names A, B and so on.
func (t *Table) nameColumns(rows []Row) {
	width := 0
	for _, r := range rows[:min(len(rows), sampleLines)] {
		width = max(width, len(r.Cells))
	}
	for i := range width {
		t.Headings = append(t.Headings, "Column "+columnLetters(i))
	}
	t.Units = make([]string, width)
	t.Rows = rows
	t.Notes = append(t.Notes, "no row of headings was found; columns are named by their letters")
}

func columnLetters(i int) string {
	s := ""
	for i >= 0 {
		s = string(rune('A'+i%26)) + s
		i = i/26 - 1
	}
	return s
}

// dropRepeatedHeaders leaves out rows that repeat the headings, as tables put
// together month by month have.
func (t *Table) dropRepeatedHeaders() {
	kept := t.Rows[:0:0]
	dropped := 0
	for i, r := range t.Rows {
		if sameHeadings(r.Cells, t.Headings) {
			if dropped == 0 {
				kept = append(kept, t.Rows[:i]...)
			}
			dropped++
		} else if dropped > 0 {
			kept = append(kept, r)
		}
	}
	if dropped > 0 {
		t.Rows = kept
		t.Notes = append(t.Notes, fmt.Sprintf("%d rows repeat the headings and were left out", dropped))
	}
}

func sameHeadings(cells, headings []string) bool {
	if len(cells) < len(headings) {
		return false
	}
	for i, h := range headings {
		if len(cells[i]) > 320 || cleanText(cells[i], 80) != h {
			return false
		}
	}
	return true
}

func dropBlankRows(rows []Row) []Row {
	kept := rows[:0]
	for _, r := range rows {
		for _, c := range r.Cells {
			if c != "" && strings.TrimSpace(c) != "" {
				kept = append(kept, r)
				break
			}
		}
	}
	return kept
}

// headerAt finds the row of headings: the first with the most known headings, two
// at least; or one, in a row of words above a row with numbers. It is -1 where
// there is none.
func headerAt(rows []Row, kinds []Kind) (at, known int) {
	at = -1
	for i, r := range rows {
		if n := knownHeadings(r.Cells, kinds); n > known && n >= 2 {
			at, known = i, n
		}
	}
	if at >= 0 {
		return at, known
	}
	for i := range min(len(rows)-1, 10) {
		if words, numbers := wordsAndNumbers(rows[i].Cells); words >= 1 && numbers == 0 {
			if _, below := wordsAndNumbers(rows[i+1].Cells); below > 0 && (words >= 2 || knownHeadings(rows[i].Cells, kinds) == 1) {
				return i, knownHeadings(rows[i].Cells, kinds)
			}
		}
	}
	return -1, 0
}

// knownHeadings counts the different fields that a row's cells name, in the kind
// of table that they fit best. A row with more numbers than words is no header.
func knownHeadings(cells []string, kinds []Kind) int {
	words, numbers := wordsAndNumbers(cells)
	if words == 0 || numbers > words || len(cells) > 400 {
		return 0
	}
	best := 0
	for _, k := range kinds {
		best = max(best, len(fieldsNamed(k, cells)))
	}
	return best
}

// fieldsNamed has the fields of a kind that headings name with some certainty.
func fieldsNamed(k Kind, headings []string) map[Field]bool {
	seen := map[Field]bool{}
	for _, c := range headings {
		if len(c) > 60 || c == "" {
			continue
		}
		if m := matchHeading(k, parseHeading(c)); m.field != "" && m.confidence >= 0.7 || strings.HasPrefix(string(m.field), unclearSite) {
			seen[m.field] = true
		}
	}
	return seen
}

func wordsAndNumbers(cells []string) (words, numbers int) {
	for _, c := range cells {
		switch c = strings.TrimSpace(c); {
		case c == "":
		case isDigit(c[0]) || c[0] == '-' || c[0] == '+':
			numbers++
		case takeDate(c).form != noDate:
			numbers++
		default:
			words++
		}
	}
	return words, numbers
}

// unitRow reports whether a row holds nothing but units.
func unitRow(cells []string) bool {
	found := 0
	for _, c := range cells {
		c = strings.Trim(foldHeading(strings.TrimSpace(c)), "()[]")
		if c == "" {
			continue
		}
		if unitWords[c] == "" && c != "hh:mm" && c != "yyyy-mm-dd" && c != "dd/mm/yyyy" && c != "mm/dd/yyyy" {
			return false
		}
		found++
	}
	return found > 0
}

// Signature is a hash of a table's headings and units in their order, without case,
// accents and spaces, to remember a mapping by. A last column "why", which
// WriteRejected adds, does not change it.
func Signature(t *Table) string {
	var b strings.Builder
	last := len(t.Headings)
	for last > 0 && foldHeading(t.Headings[last-1]) == whyHeading {
		last--
	}
	for i, s := range t.Headings[:last] {
		folded := strings.Join(strings.Fields(foldHeading(strings.ToLower(s))), "")
		unit := ""
		if i < len(t.Units) {
			unit = foldHeading(t.Units[i])
		}
		fmt.Fprintf(&b, "%q %q\n", folded, unit)
	}
	sum := sha256.Sum256([]byte(b.String()))
	return hex.EncodeToString(sum[:16])
}

func tooManyCells() error {
	return fault.New(fault.Invalid, "the table has more than %d million cells.", maxCells>>20).
		WithHint("Keep the columns that are needed, or split the file by year.")
}
