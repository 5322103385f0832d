package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"

	"glidepath/fault"

	"github.com/pressly/goose/v3"
)

//go:embed migrations/*.sql
var migrations embed.FS

// versionTable is where goose notes the migrations that were applied.
const versionTable = "schema_versions"

// migrate brings the schema up to date; a schema newer than this program knows
// is a fault.
func migrate(ctx context.Context, db *sql.DB, path string) error {
	dir, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return err
	}
	return migrateFrom(ctx, db, dir, path)
}

func migrateFrom(ctx context.Context, db *sql.DB, dir fs.FS, path string) error {
	provider, err := goose.NewProvider(goose.DialectSQLite3, db, dir,
		goose.WithTableName(versionTable), goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return err
	}
	sources := provider.ListSources()
	newest := sources[len(sources)-1].Version
	// Another process that opens the same new file may get there first: then
	// this one's attempt fails, and finds the work done.
	const attempts = 3
	var failed error
	for try := 0; ; try++ {
		have, err := schemaVersion(ctx, db)
		switch {
		case err != nil:
			return err
		case have == newest:
			return nil
		case have > newest:
			return tooNew(have, newest, path)
		case try == attempts:
			return fmt.Errorf("bring the schema from version %d to %d: %w", have, newest, failed)
		}
		_, failed = provider.Up(ctx)
	}
}

func tooNew(have, newest int64, path string) error {
	e := fault.New(fault.Invalid,
		"the data file has schema version %d, and this program knows versions up to %d.", have, newest).
		WithHint("It was written by a newer Glidepath: install that version or a later one.")
	e.File = path
	return e
}

type rowQueryer interface {
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

// schemaVersion is the newest migration applied, 0 for an empty file.
func schemaVersion(ctx context.Context, db rowQueryer) (version int64, err error) {
	var tables int
	err = db.QueryRowContext(ctx, `SELECT count(*) FROM sqlite_schema WHERE name = ?`, versionTable).Scan(&tables)
	if err != nil || tables == 0 {
		return 0, err
	}
	err = db.QueryRowContext(ctx, `SELECT coalesce(max(version_id), 0) FROM schema_versions`).Scan(&version)
	return version, err
}
