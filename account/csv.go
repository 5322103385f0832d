package account

import (
	"bytes"
	"encoding/csv"
	"strings"
	"time"
)

// EntriesCSV writes lines of the record as RFC 4180 has it, times in UTC.
func EntriesCSV(all []Entry) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	rows := [][]string{{"at", "account_id", "who", "via", "address", "action", "athlete_id", "what"}}
	for i := range all {
		e := &all[i]
		rows = append(rows, []string{
			e.At.UTC().Format(time.RFC3339), e.AccountID, harmless(e.Who), e.Via, e.Address, string(e.Action), e.AthleteID, e.What,
		})
	}
	err := w.WriteAll(rows)
	return b.Bytes(), err
}

// harmless is a text that a spreadsheet does not take for a formula.
func harmless(text string) string {
	if strings.ContainsAny(text[:min(1, len(text))], "=+-@") {
		return "'" + text
	}
	return text
}
