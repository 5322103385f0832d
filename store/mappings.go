package store

import (
	"database/sql"
	"errors"

	"glidepath/fault"
)

// Mapping gives the column mapping remembered for a signature of headings.
func (t *tx) Mapping(signature string) (mapping []byte, ok bool, err error) {
	err = t.one(`SELECT mapping FROM mappings WHERE signature = ?`, []any{signature}, []any{&mapping})
	if errors.Is(err, sql.ErrNoRows) {
		return nil, false, nil
	}
	return mapping, err == nil, err
}

// PutMapping remembers a column mapping in the place of an older one.
func (t *tx) PutMapping(signature string, mapping []byte) error {
	if signature == "" {
		return fault.New(fault.Invalid, "a column mapping needs a signature.").WithField("signature")
	}
	if mapping == nil {
		mapping = []byte{} // an empty mapping is one, NULL would be none
	}
	return t.exec(`REPLACE INTO mappings (signature, mapping) VALUES (?, ?)`, signature, mapping)
}
