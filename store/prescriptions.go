package store

import (
	"glidepath/athlete"
	"glidepath/civil"
)

// Prescriptions lists those made to start on or before a date, by version.
func (t *tx) Prescriptions(id string, to civil.Date) ([]athlete.Prescription, error) {
	return versions[athlete.Prescription](t, "prescriptions", id, to)
}

// AddPrescription stores p as the version after the last and sets p.Version.
func (t *tx) AddPrescription(id string, p *athlete.Prescription) error {
	if err := p.Validate(); err != nil {
		return err
	}
	next := *p
	err := t.addVersion("prescriptions", id, next.From, &next, &next.Version)
	if err == nil {
		p.Version = next.Version
	}
	return err
}
