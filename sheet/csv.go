package sheet

import (
	"encoding/csv"
	"errors"
	"io"
	"strings"

	"glidepath/fault"
)

// separators are those in use: RFC 4180 has the comma; spreadsheets in countries
// with a decimal comma write the semicolon.
var separators = []rune{',', ';', '\t', '|'}

// sampleLines is how much of a file is looked at to find separator and header.
const sampleLines = 60

// readCSV gives the rows of a text, numbered as a spreadsheet numbers them: a
// blank line is a row, and a quoted line break is not the end of one.
func readCSV(text string, separator rune, kinds []Kind) (rows []Row, used rune, notes []string, err error) {
	text = strings.TrimPrefix(text, "\ufeff")
	if !strings.Contains(text, "\n") { // line ends of old Macintosh files
		text = strings.ReplaceAll(text, "\r", "\n")
	}
	first, rest, _ := strings.Cut(text, "\n")
	if mark, ok := strings.CutPrefix(strings.TrimRight(first, "\r"), "sep="); ok && len(mark) == 1 {
		// Spreadsheets take this line as an instruction and do not show it.
		text = rest
		if separator == 0 {
			separator = rune(mark[0])
		}
	}
	if separator == 0 {
		separator = guessSeparator(text, kinds)
	}
	if !validSeparator(separator) {
		return nil, 0, nil, fault.New(fault.Invalid, "%q cannot separate columns.", separator).
			WithHint("Use a comma, a semicolon, a tab or a bar.")
	}
	if err := checkWidths(text, separator); err != nil {
		return nil, 0, nil, err
	}
	rows, err = parseCSV(text, separator, false)
	if _, quote := errors.AsType[*csv.ParseError](err); quote {
		strict := err
		if rows, err = parseCSV(text, separator, true); err == nil {
			if err := unclosedQuote(rows, strict); err != nil {
				return nil, 0, nil, err
			}
			notes = append(notes, "some quotation marks are not as RFC 4180 has them; they were taken as text")
		}
	}
	return rows, separator, notes, err
}

func validSeparator(r rune) bool {
	return r != 0 && r != '"' && r != '\r' && r != '\n' && r != 0xfffd && r < 0x80
}

// checkWidths refuses a line with more cells than a spreadsheet can have, before
// it is parsed.
func checkWidths(text string, separator rune) error {
	line := 0
	for s := range strings.SplitSeq(text, "\n") {
		line++
		if strings.Count(s, string(separator)) >= maxColumns {
			return tooWide(line)
		}
	}
	return nil
}

func tooWide(row int) error {
	e := fault.New(fault.Invalid, "it has more than %d cells; a table of logs has a few dozen.", maxColumns).
		WithHint("Check the separator, and that each day is a row and not a column.")
	e.Row = row
	return e
}

func parseCSV(text string, separator rune, lazy bool) ([]Row, error) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.LazyQuotes, r.FieldsPerRecord = separator, lazy, -1
	var rows []Row
	row, nextLine, cells := 0, 1, 0
	for {
		record, err := r.Read()
		if err == io.EOF {
			return rows, nil
		}
		if err != nil {
			return nil, err
		}
		line, _ := r.FieldPos(0)
		row += 1 + line - nextLine // the reader leaves blank lines out
		last, _ := r.FieldPos(len(record) - 1)
		nextLine = last + strings.Count(record[len(record)-1], "\n") + 1
		if len(record) > maxColumns {
			return nil, tooWide(row)
		}
		if cells += len(record); cells > maxCells {
			return nil, tooManyCells()
		}
		rows = append(rows, Row{Number: row, Cells: record})
	}
}

// unclosedQuote tells a stray quotation mark that swallowed the rest of the file.
func unclosedQuote(rows []Row, strict error) error {
	pe, ok := errors.AsType[*csv.ParseError](strict)
	if !ok || len(rows) == 0 || pe.StartLine == pe.Line || !errors.Is(strict, csv.ErrQuote) {
		return nil
	}
	last := rows[len(rows)-1]
	for _, cell := range last.Cells {
		if strings.Count(cell, "\n") > 1 {
			e := fault.New(fault.Invalid, "a quotation mark is opened and never closed.").
				WithHint("Close it, or remove it, in this row.")
			e.Row = last.Number
			return e
		}
	}
	return nil
}

// guessSeparator takes the separator that yields the most known headings in a
// row, and among equals the most even rows.
func guessSeparator(text string, kinds []Kind) rune {
	sample := text[:min(len(text), 64<<10)]
	best, bestScore := ',', 0.0
	for _, sep := range separators {
		if !strings.ContainsRune(sample, sep) {
			continue
		}
		score := separatorScore(sample, sep, kinds)
		if score > bestScore {
			best, bestScore = sep, score
		}
	}
	return best
}

func separatorScore(sample string, sep rune, kinds []Kind) float64 {
	r := csv.NewReader(strings.NewReader(sample))
	r.Comma, r.LazyQuotes, r.FieldsPerRecord, r.ReuseRecord = sep, true, -1, true
	widths := map[int]int{}
	known, n := 0, 0
	for ; n < sampleLines; n++ {
		record, err := r.Read()
		if err != nil {
			break
		}
		if len(record) > maxColumns {
			return 0
		}
		widths[len(record)]++
		known = max(known, knownHeadings(record, kinds))
	}
	most := 0
	for w, count := range widths {
		if w > 1 {
			most = max(most, count)
		}
	}
	if n == 0 || most == 0 {
		return 0
	}
	return float64(known) + float64(most)/float64(n)
}
