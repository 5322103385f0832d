package athlete

import (
	"time"

	"glidepath/civil"
)

// Note is what the coach's side writes down of an athlete about a date. It is for
// the coach's side alone; what the athlete writes is in their days and check-ins.
type Note struct {
	Number int        `json:"number,omitempty"` // given by the store, never twice
	Date   civil.Date `json:"date"`             // that it is about
	Text   string     `json:"text"`
	Who    string     `json:"who"`
	At     time.Time  `json:"at"` // when it was written
}

// MaxNote is the longest text of a note, bytes.
const MaxNote = 4000

// Validate checks a note.
func (n *Note) Validate() error {
	var c checks
	if n.Date.IsZero() {
		c.add("date", "the note has no date.")
	}
	if n.Text == "" {
		c.add("text", "the note is empty.")
	}
	if len(n.Text) > MaxNote {
		c.add("text", "the note is longer than %d characters.", MaxNote)
	}
	if n.Who == "" {
		c.add("who", "the note does not say who wrote it.")
	}
	return c.err()
}
