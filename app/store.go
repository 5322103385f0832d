package app

import (
	"context"
	"encoding/json"
	"time"

	"glidepath/athlete"
	"glidepath/civil"
)

// Store keeps everything. An implementation must pass the conformance suite in
// package store/storetest.
type Store interface {
	// Read runs fn on one consistent snapshot.
	Read(ctx context.Context, fn func(Tx) error) error
	// Write runs fn in a transaction that is kept only when fn returns nil.
	Write(ctx context.Context, fn func(Tx) error) error
	Close() error
}

// Tx is what a transaction can do. Lists come in order of date, then of entry.
// A missing athlete is a fault of kind NotFound.
type Tx interface {
	Athletes() ([]athlete.Athlete, error) // by ID
	Athlete(id string) (*athlete.Athlete, error)
	PutAthlete(a *athlete.Athlete) error // new or changed; a change keeps the older version
	RemoveAthlete(id string) error       // with all that belongs to them
	// AthleteVersions lists the older versions of a profile, oldest first.
	AthleteVersions(id string) ([]AthleteVersion, error)

	Days(id string, from, to civil.Date) ([]athlete.Day, error) // inclusive
	// PutDays merges days into the log field by field: a nil field leaves what
	// is stored, an equal one is no change, a different one is a correction,
	// which is kept beside the value it replaces. A person's word on a weight
	// (WeightStands) is about that very weight: one that is corrected without a
	// new word drops it, which is a correction too.
	PutDays(id string, days []athlete.Day, from Source) (Merge, error)
	Corrections(id string) ([]Correction, error)

	Measurements(id string, to civil.Date) ([]athlete.Measurement, error)
	// PutMeasurements takes one a date and series; a different value for the
	// same is a correction, and replaces the measurement whole.
	PutMeasurements(id string, ms []athlete.Measurement, from Source) (Merge, error)

	Sets(id string, from, to civil.Date) ([]athlete.Set, error)
	// PutSets takes one a date, exercise and order.
	PutSets(id string, sets []athlete.Set, from Source) (Merge, error)
	// DropSet takes a set out of the log. What it was is kept as a correction to
	// nothing; one that is not there is the same.
	DropSet(id string, on civil.Date, exercise string, order int, from Source) (Merge, error)
	Sessions(id string, from, to civil.Date) ([]athlete.Session, error)
	// PutSessions takes one a date.
	PutSessions(id string, sessions []athlete.Session, from Source) (Merge, error)

	// DropDay takes values out of a day by their names in JSON. What was there is
	// kept as a correction to nothing; what was not there is the same.
	DropDay(id string, on civil.Date, fields []string, from Source) (Merge, error)

	CheckIns(id string, to civil.Date) ([]athlete.CheckIn, error)
	// PutCheckIns takes one a date; a different one for the same is a correction,
	// and replaces it whole.
	PutCheckIns(id string, cs []athlete.CheckIn, from Source) (Merge, error)

	Photos(id string, to civil.Date) ([]athlete.Photo, error) // without the pictures
	// Picture is the JPEG of a photo; a missing one is NotFound.
	Picture(id string, on civil.Date, pose athlete.Pose) ([]byte, error)
	// PutPhoto takes one a date and pose; a new one is in the place of the old.
	PutPhoto(id string, p *athlete.Photo, jpeg []byte) error
	RemovePhoto(id string, on civil.Date, pose athlete.Pose) error // a missing one is NotFound

	Notes(id string, to civil.Date) ([]athlete.Note, error)
	AddNote(id string, n *athlete.Note) error // sets the number, which is never given twice
	RemoveNote(id string, number int) error   // a missing one is NotFound

	// Prescriptions made to start on or before a date, by version.
	Prescriptions(id string, to civil.Date) ([]athlete.Prescription, error)
	// AddPrescription sets the version to one more than the last.
	AddPrescription(id string, p *athlete.Prescription) error

	// Programmes made to start on or before a date, by version.
	Programmes(id string, to civil.Date) ([]athlete.Programme, error)
	// AddProgramme sets the version to one more than the last.
	AddProgramme(id string, p *athlete.Programme) error

	// Exercises of the desk's own, by name, and what was settled of names.
	Exercises() ([]athlete.Exercise, error)
	PutExercise(e *athlete.Exercise) error // in the place of the one with the same name
	RemoveExercise(name string) error      // a missing one is NotFound
	ExerciseNames() ([]athlete.ExerciseName, error)
	PutExerciseName(n athlete.ExerciseName) error

	Reviews(id string, to civil.Date) ([]Review, error) // by date
	// PutReview replaces the undecided review of the same date; a decided one
	// is a Conflict.
	PutReview(id string, r *Review) error

	// Mapping is the column mapping remembered for a signature of headings; ok is
	// false where there is none. The text is the sheet package's own.
	Mapping(signature string) (mapping []byte, ok bool, err error)
	PutMapping(signature string, mapping []byte) error

	// Setting is the JSON document of a setting of the desk; ok is false where there
	// is none.
	Setting(name string) (body []byte, ok bool, err error)
	PutSetting(name string, body []byte) error
}

// Source says where stored values came from and when.
type Source struct {
	Name string    // a file's base name, "form", "api"
	At   time.Time // when they were taken in
	Who  string
}

// Merge counts what a merge did, in values for days and in records otherwise.
type Merge struct {
	Added     int `json:"added"`
	Same      int `json:"same"`
	Corrected int `json:"corrected"`
}

// AthleteVersion is a profile as it stood until it was changed.
type AthleteVersion struct {
	Athlete    athlete.Athlete `json:"athlete"`
	ReplacedAt time.Time       `json:"replaced_at"`
}

// Correction is a stored value that a later import changed. Field is its name
// in JSON; for a record other than a day it follows the record's own name, as
// in "calipers 7-site by Ann: folds_mm.thigh" and "squat, set 3: reps".
type Correction struct {
	Date  civil.Date `json:"date"`
	Field string     `json:"field"`
	Old   string     `json:"old"` // empty where there was none
	New   string     `json:"new"` // empty where it was dropped
	From  string     `json:"from"`
	At    time.Time  `json:"at"`
	Who   string     `json:"who,omitempty"`
}

// Review is a weekly review with the coach's decision on it.
type Review struct {
	Date      civil.Date      `json:"date"`
	Proposal  json.RawMessage `json:"proposal"` // a Reviewed
	Decision  Decision        `json:"decision"`
	Reason    string          `json:"reason,omitempty"`
	Who       string          `json:"who,omitempty"`
	DecidedAt time.Time       `json:"decided_at,omitzero"`
	Version   int             `json:"version,omitempty"` // of the prescription that it led to
}

// Decision is what the coach did with a proposal.
type Decision string

// The decisions.
const (
	Undecided Decision = ""
	Accepted  Decision = "accepted"
	Edited    Decision = "edited"
	Declined  Decision = "declined"
)
