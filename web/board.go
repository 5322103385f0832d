package web

import (
	"context"
	"fmt"
	"html/template"
	"slices"
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/report"
)

// board is the roster as of a date: a row for each athlete, made in the
// background and kept with the version of the data that it was made from.
type board struct {
	rows    map[string]*boardRow
	running bool
	quiet   chan struct{} // closed when the present run ends
}

type boardRow struct {
	row     app.RosterRow
	spark   template.HTML
	at      time.Time
	version version
}

// listed is a row as a page shows it. Made is zero where it was never reckoned;
// Stale says that the data changed since.
type listed struct {
	app.RosterRow
	Spark template.HTML
	Made  time.Time
	Stale bool
}

// mostBoards is how many dates are kept; a reader looks at one or two.
const mostBoards = 4

// patience is how long a page waits for rows that are being made.
const patience = 400 * time.Millisecond

// roster gives the rows of people as of a date, at once or after a short wait:
// those that are not up to date say so, and are being made.
func (d *desk) roster(ctx context.Context, people []athlete.Athlete, asOf civil.Date) ([]listed, error) {
	if err := d.lookOutside(ctx); err != nil {
		return nil, err
	}
	rows, quiet := d.rows(people, asOf)
	if quiet == nil {
		return rows, nil
	}
	timer := time.NewTimer(patience)
	defer timer.Stop()
	select {
	case <-quiet:
	case <-timer.C:
	case <-d.ctx.Done():
	}
	rows, _ = d.rows(people, asOf)
	return rows, nil
}

func (d *desk) rows(people []athlete.Athlete, asOf civil.Date) (out []listed, quiet chan struct{}) {
	d.mu.Lock()
	defer d.mu.Unlock()
	b := d.board(asOf)
	var due []athlete.Athlete
	for i := range people {
		id := people[i].ID
		one := b.rows[id]
		l := listed{Stale: one == nil || one.version != d.versionOf(id)}
		if one == nil {
			l.RosterRow = app.Unread(&people[i], fault.New("", "Being read for the first time."))
		} else {
			l.RosterRow, l.Spark, l.Made = one.row, one.spark, one.at
		}
		if l.Stale {
			due = append(due, people[i])
		}
		out = append(out, l)
	}
	if len(due) > 0 && !b.running {
		b.running, b.quiet = true, make(chan struct{})
		d.working.Go(func() { d.make(b, due, asOf) })
	}
	if len(due) == 0 {
		return out, nil
	}
	return out, b.quiet
}

// board finds or makes the board of a date. d.mu must be held.
func (d *desk) board(asOf civil.Date) *board {
	if b := d.boards[asOf]; b != nil {
		return b
	}
	for on, b := range d.boards { // any that is idle goes, when there are too many
		if len(d.boards) >= mostBoards && !b.running {
			delete(d.boards, on)
		}
	}
	b := &board{rows: map[string]*boardRow{}}
	d.boards[asOf] = b
	return b
}

// make reckons the rows that are due, several at once.
func (d *desk) make(b *board, due []athlete.Athlete, asOf civil.Date) {
	next := make(chan *athlete.Athlete)
	done := make(chan struct{})
	const hands = 2 // the pages want a core too
	for range hands {
		go func() {
			defer func() { done <- struct{}{} }()
			for p := range next {
				d.makeRow(b, p, asOf)
			}
		}()
	}
	for i := range due {
		if d.ctx.Err() != nil {
			break
		}
		next <- &due[i]
	}
	close(next)
	for range hands {
		<-done
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	b.running = false
	close(b.quiet)
}

func (d *desk) makeRow(b *board, p *athlete.Athlete, asOf civil.Date) {
	d.mu.Lock()
	one := &boardRow{version: d.versionOf(p.ID), at: d.now()}
	d.mu.Unlock()
	row, spark, err := d.reckon(p.ID, asOf)
	switch {
	case err == nil:
		one.row, one.spark = row, spark
	case d.ctx.Err() != nil:
		return
	case fault.KindOf(err) == "":
		d.log.Error("a row of the roster failed", "athlete", p.ID, "error", err)
		one.row = app.Unread(p, fault.New("", "This athlete’s data could not be read; the log of the server says why."))
	default:
		one.row = app.Unread(p, err)
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if one.version == d.versionOf(p.ID) { // else it was changed or erased meanwhile
		b.rows[p.ID] = one
	}
}

// reckon makes a row. One athlete whose data the engine chokes on must not take
// the server down.
func (d *desk) reckon(id string, asOf civil.Date) (row app.RosterRow, spark template.HTML, err error) {
	defer func() {
		if v := recover(); v != nil {
			err = fmt.Errorf("panic: %v", v)
		}
	}()
	row, dossier, err := d.app.RosterRow(d.ctx, id, asOf)
	if err != nil {
		return row, "", err
	}
	return row, template.HTML(report.Spark(dossier)), nil //nolint:gosec // chart escapes all its text
}

// inOrder sorts rows by need, those that were never read last.
func inOrder(rows []listed) {
	slices.SortStableFunc(rows, func(x, y listed) int {
		if x.Made.IsZero() != y.Made.IsZero() {
			if x.Made.IsZero() {
				return 1
			}
			return -1
		}
		return app.ByNeed(x.RosterRow, y.RosterRow)
	})
}
