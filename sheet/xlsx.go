package sheet

import (
	"archive/zip"
	"bytes"
	"fmt"
	"strings"

	"glidepath/fault"

	"github.com/xuri/excelize/v2"
)

// book is an open workbook.
type book struct {
	file     *excelize.File
	sheets   []string
	date1904 bool
}

// openBook opens a workbook whose parts, unpacked, stay within the limit. Macros,
// links and formulas are never run.
func openBook(data []byte) (b *book, err error) {
	// The library is given files from strangers; a panic in it is a bad file.
	defer func() {
		if p := recover(); p != nil {
			b, err = nil, brokenBook(p)
		}
	}()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, brokenBook(err)
	}
	var unpacked uint64
	workbook := false
	for _, f := range z.File {
		unpacked += f.UncompressedSize64
		if f.UncompressedSize64 > maxUnpacked || unpacked > maxUnpacked {
			return nil, fault.New(fault.Invalid, "the workbook unpacks to more than %d MB.", maxUnpacked>>20).
				WithHint("Save the sheet with the log as CSV, or delete sheets and pictures that are not needed.")
		}
		workbook = workbook || strings.EqualFold(f.Name, "xl/workbook.xml")
	}
	if !workbook {
		return nil, fault.New(fault.Invalid, "the file is a zip archive, but no Excel workbook.").
			WithHint("Save the table as .xlsx or CSV.")
	}
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{
		RawCellValue: true, UnzipSizeLimit: maxUnpacked, UnzipXMLSizeLimit: maxUnpacked, // all in memory, no temporary files
	})
	if err != nil {
		return nil, brokenBook(err)
	}
	b = &book{file: f, sheets: f.GetSheetList()}
	if p, err := f.GetWorkbookProps(); err == nil && p.Date1904 != nil {
		b.date1904 = *p.Date1904
	}
	if len(b.sheets) == 0 {
		return nil, brokenBook("it has no sheet")
	}
	return b, nil
}

func brokenBook(cause any) *fault.Error {
	return fault.New(fault.Invalid, "the workbook cannot be read: %s.", clip(fmt.Sprint(cause))).
		WithHint("Open it in a spreadsheet program and save it again as .xlsx, without a password, or as CSV.")
}

// rows reads the rows of a sheet, at most limit of them (0 is all). Cells are
// as stored: numbers and dates exact, formulas by their last result.
func (b *book) rows(sheet string, limit int) (out []Row, err error) {
	defer func() {
		if p := recover(); p != nil {
			out, err = nil, brokenBook(p)
		}
	}()
	stream, err := b.file.Rows(sheet)
	if err != nil {
		return nil, brokenBook(err)
	}
	defer func() { _ = stream.Close() }() // all in memory: nothing to lose
	number, cells := 0, 0
	for stream.Next() {
		number++
		if limit > 0 && number > limit {
			break
		}
		record, err := stream.Columns()
		if err != nil {
			return nil, brokenBook(err)
		}
		for len(record) > 0 && record[len(record)-1] == "" {
			record = record[:len(record)-1]
		}
		if len(record) == 0 {
			continue
		}
		if cells += len(record); cells > maxCells {
			return nil, tooManyCells()
		}
		out = append(out, Row{Number: number, Cells: record})
	}
	if err := stream.Error(); err != nil {
		return nil, brokenBook(err)
	}
	return out, nil
}

// pick chooses the sheet: the one named, or the first that has known headings, or
// else the first with more than one row. others are sheets with known headings
// that were not chosen.
func (b *book) pick(o *Options) (sheet string, others []string, err error) {
	if name := o.Sheet; name != "" {
		for _, s := range b.sheets {
			if strings.EqualFold(s, strings.TrimSpace(name)) {
				return s, nil, nil
			}
		}
		return "", nil, fault.New(fault.NotFound, "the workbook has no sheet %q.", name).
			WithHint("It has %s.", quoted(b.sheets))
	}
	fallback := ""
	for _, s := range b.sheets {
		top, err := b.rows(s, sampleLines)
		if err != nil {
			continue // a chart, or broken: another sheet may be whole
		}
		if _, known := headerAt(top, o.looksFor()); known >= 2 {
			if sheet == "" {
				sheet = s
			} else {
				others = append(others, s)
			}
		} else if fallback == "" && len(top) > 1 {
			fallback = s
		}
	}
	if sheet == "" {
		sheet = fallback
	}
	if sheet == "" {
		sheet = b.sheets[0]
	}
	return sheet, others, nil
}

func quoted(names []string) string {
	out := make([]string, 0, len(names))
	for _, n := range names {
		out = append(out, fmt.Sprintf("%q", clip(n)))
	}
	return strings.Join(out, ", ")
}
