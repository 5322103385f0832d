package store

import (
	"glidepath/athlete"
	"glidepath/civil"
)

// Programmes lists those made to start on or before a date, by version.
func (t *tx) Programmes(id string, to civil.Date) ([]athlete.Programme, error) {
	return versions[athlete.Programme](t, "programmes", id, to)
}

// AddProgramme stores p as the version after the last and sets p.Version.
func (t *tx) AddProgramme(id string, p *athlete.Programme) error {
	if err := p.Validate(); err != nil {
		return err
	}
	next := *p
	err := t.addVersion("programmes", id, next.From, &next, &next.Version)
	if err == nil {
		p.Version = next.Version
	}
	return err
}
