package store

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"glidepath/app"
	"glidepath/civil"
)

// killedFile names the data file to the process that is to be killed.
const killedFile = "GLIDEPATH_TEST_KILLED_FILE"

// Days in each transaction of the process that is killed: enough that the
// transaction outgrows the page cache and lies in the log before it commits.
const killedDays = 15_000

func TestMain(m *testing.M) {
	if path := os.Getenv(killedFile); path != "" {
		fmt.Fprintln(os.Stderr, writeUntilKilled(path))
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// writeUntilKilled adds one athlete with many days a transaction, for ever, and
// says on standard output which transactions have begun and been kept.
func writeUntilKilled(path string) error {
	ctx := context.Background()
	s, err := Open(ctx, path)
	if err != nil {
		return err
	}
	next := 0
	err = s.Read(ctx, func(t app.Tx) error {
		all, err := t.Athletes()
		next = len(all)
		return err
	})
	if err != nil {
		return err
	}
	days := inventedDays(killedDays, 1)
	for ; ; next++ {
		id := fmt.Sprintf("athlete-%d", next)
		err := s.Write(ctx, func(t app.Tx) error {
			if err := t.PutAthlete(inventedAthlete(id)); err != nil {
				return err
			}
			fmt.Println("begun", next)
			_, err := t.PutDays(id, days, app.Source{Name: "killed.csv"})
			return err
		})
		if err != nil {
			return err
		}
		fmt.Println("kept", next+1)
	}
}

// TestKilledMidWrite kills the writing process at random moments and finds each
// transaction there whole or not at all: none that was reported kept is lost,
// and at most the one under way is beyond those.
func TestKilledMidWrite(t *testing.T) {
	if testing.Short() {
		t.Skip("starts and kills processes")
	}
	path := filepath.Join(t.TempDir(), "data.db")
	r := rand.New(rand.NewPCG(20260302, 1))
	const kills = 8
	unfinished := 0
	for range kills {
		// About the length of one transaction, so that the moments spread over all of it.
		begun, kept := killAfter(t, path, time.Duration(r.Int64N(int64(300*time.Millisecond))))
		if begun >= kept {
			unfinished++
		}
		found := wholeAthletes(t, path)
		if found < kept || found > begun+1 {
			t.Fatalf("%d athletes after %d were kept and number %d was begun", found, kept, begun)
		}
	}
	t.Logf("%d of %d kills met a transaction", unfinished, kills)
	if unfinished == 0 {
		t.Errorf("none of %d kills met a transaction: the test proves nothing", kills)
	}
}

// killAfter starts the writing process, lets it begin a transaction, waits and
// kills it. It tells the last transaction begun and how many had been kept.
func killAfter(t *testing.T, path string, wait time.Duration) (begun, kept int) {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), os.Args[0])
	cmd.Env = append(os.Environ(), killedFile+"="+path)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewReader(out)
	first, err := lines.ReadString('\n')
	if err != nil {
		t.Fatalf("the writing process said nothing: %v", err)
	}
	time.Sleep(wait)
	if err := cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	rest, err := io.ReadAll(lines)
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Wait(); err == nil || cmd.ProcessState.Exited() {
		t.Fatalf("the writing process ended by itself: %v", err)
	}
	for line := range strings.Lines(first + string(rest)) {
		word, number, _ := strings.Cut(strings.TrimSpace(line), " ")
		n, err := strconv.Atoi(number)
		if err != nil {
			t.Fatalf("the writing process said %q", line)
		}
		switch word {
		case "begun":
			begun = n
		case "kept":
			kept = n
		}
	}
	return begun, max(kept, firstBegun(first)) // those before its own were kept by its forerunners
}

func firstBegun(line string) int {
	n, _ := strconv.Atoi(strings.TrimSpace(strings.TrimPrefix(line, "begun ")))
	return n
}

// wholeAthletes checks the file and counts its athletes, each of whom must have
// every day.
func wholeAthletes(t *testing.T, path string) (athletes int) {
	t.Helper()
	s, err := Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	report, err := s.Check(t.Context())
	if err != nil || len(report.Problems) > 0 {
		t.Fatalf("after a kill: %+v (%v)", report, err)
	}
	err = s.Read(t.Context(), func(tx app.Tx) error {
		all, err := tx.Athletes()
		for i := range all {
			days, err := tx.Days(all[i].ID, 1, civil.MustParse("9999-12-31"))
			if err != nil {
				return err
			}
			if len(days) != killedDays {
				t.Errorf("%s has %d days of %d", all[i].ID, len(days), killedDays)
			}
		}
		athletes = len(all)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return athletes
}
