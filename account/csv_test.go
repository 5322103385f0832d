package account_test

import (
	"encoding/csv"
	"strings"
	"testing"
	"time"

	"glidepath/account"
)

// The record as CSV reads back as it was, and no name in it is a formula to a
// spreadsheet.
func TestEntriesCSV(t *testing.T) {
	at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.FixedZone("", 3600))
	text, err := account.EntriesCSV([]account.Entry{{At: at, Who: "=1+1", What: "read \"it\", twice"}, {At: at, Who: "Wren"}})
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil || len(rows) != 3 {
		t.Fatalf("%v, %v", rows, err)
	}
	if rows[1][0] != "2026-03-02T08:00:00Z" || rows[1][2] != "'=1+1" || rows[1][7] != "read \"it\", twice" || rows[2][2] != "Wren" {
		t.Errorf("it reads back as %q", rows)
	}
}
