package sheet

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"glidepath/athlete"

	"github.com/xuri/excelize/v2"
)

// WriteProgrammeCSV writes a programme as CSV, a row an exercise, such that
// ProgrammeTable, Guess and ReadProgrammeTable give its weeks again without a
// question. Its name, date, phase and notes have no place there; line breaks in the
// notes become spaces.
func WriteProgrammeCSV(w io.Writer, p athlete.Programme) error {
	out := csv.NewWriter(w)
	for _, row := range programmeRows(&p) {
		record := make([]string, len(row))
		for i, cell := range row {
			if n, ok := cell.(float64); ok {
				record[i] = decimals(n)
			} else {
				record[i] = guard(fmt.Sprint(cell))
			}
		}
		if err := out.Write(record); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// WriteProgrammeWorkbook writes the same as a workbook (XLSX) of one sheet, named
// after the programme.
func WriteProgrammeWorkbook(w io.Writer, p athlete.Programme) (err error) {
	f := excelize.NewFile()
	defer func() {
		if closing := f.Close(); err == nil {
			err = closing
		}
	}()
	name := sheetName(p.Name)
	if err := f.SetSheetName(f.GetSheetName(0), name); err != nil {
		return err
	}
	for i, row := range programmeRows(&p) {
		at, err := excelize.CoordinatesToCellName(1, i+1)
		if err != nil {
			return err
		}
		for j, cell := range row { // text is text in a workbook, and needs no guard of its own
			if s, ok := cell.(string); ok && unguard(s) != s {
				row[j] = "'" + s
			}
		}
		if err := f.SetSheetRow(name, at, &row); err != nil {
			return err
		}
	}
	_, err = f.WriteTo(w)
	return err
}

// sheetName is a name that a workbook takes for a sheet (ECMA-376 part 1, 18.2.19:
// at most 31 characters, without some signs).
func sheetName(s string) string {
	const most = 31
	s = strings.Map(func(r rune) rune {
		if strings.ContainsRune(`[]:*?/\'`, r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, ""))
	if s = cleanText(s, most); s == "" {
		return "Programme"
	}
	return s
}

// programmeRows are the rows of a programme with their headings. Columns that
// would be empty are left out.
func programmeRows(p *athlete.Programme) [][]any {
	deload := slices.ContainsFunc(p.Weeks, func(w athlete.ProgrammeWeek) bool { return w.Deload })
	sessionNotes := slices.ContainsFunc(p.Weeks, func(w athlete.ProgrammeWeek) bool {
		return slices.ContainsFunc(w.Sessions, func(s athlete.PlannedSession) bool { return s.Notes != "" })
	})
	head := []any{"Week"}
	if deload {
		head = append(head, "Deload")
	}
	head = append(head, "Day", "Session", "Exercise", "Sets", "Reps", "RIR", "Rest (s)", "Notes")
	if sessionNotes {
		head = append(head, "Session notes")
	}
	rows := [][]any{head}
	for i := range p.Weeks {
		w := &p.Weeks[i]
		start := []any{float64(i + 1)}
		if deload {
			start = append(start, map[bool]string{true: "yes"}[w.Deload])
		}
		if len(w.Sessions) == 0 {
			rows = append(rows, start)
		}
		for j := range w.Sessions {
			rows = append(rows, sessionRows(start, &w.Sessions[j], sessionNotes)...)
		}
	}
	return rows
}

func sessionRows(start []any, s *athlete.PlannedSession, notes bool) (rows [][]any) {
	day := ""
	if s.Day != nil {
		day = titled(*s.Day)
	}
	for i := range s.Exercises {
		e := &s.Exercises[i]
		// "6 to 8", since a spreadsheet makes a date of 6-8.
		reps := any(float64(e.RepsLow))
		if e.RepsHigh != e.RepsLow {
			reps = strconv.Itoa(e.RepsLow) + " to " + strconv.Itoa(e.RepsHigh)
		}
		row := append(slices.Clone(start), day, s.Name, e.Exercise, float64(e.Sets), reps, "", "", e.Notes)
		if at := len(row) - 3; e.RIR != nil {
			row[at] = *e.RIR
		}
		if at := len(row) - 2; e.RestSeconds > 0 {
			row[at] = float64(e.RestSeconds)
		}
		if notes {
			row = append(row, s.Notes)
		}
		rows = append(rows, row)
	}
	return rows
}
