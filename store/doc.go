// Package store keeps everything in one SQLite file and implements app.Store.
//
// The file is opened in WAL mode with one connection that writes and a pool
// that reads, so that readers never wait for the writer nor see half of what
// it does. A process killed in the middle of a write leaves nothing of it
// behind. After a power cut the last commits may be missing, never a part of
// one (PRAGMA synchronous=NORMAL, https://www.sqlite.org/wal.html).
//
// What is put is first checked by the domain's own Validate, so that data at
// rest is valid. The SQL is written by hand, beside the method that uses it;
// the schema's history is in migrations.
package store
