// Package api serves the use cases as JSON over HTTP, under /api/v1, described by
// OpenAPI 3.1 at /api/openapi.json. It decides nothing of its own: a handler reads
// the request, calls one use case, and writes what it gives.
//
// Every request passes the gate (gate.go) first: who asks, whether they may, how
// large the request is, whether it came before under the same Idempotency-Key, and
// a line in the record of who saw or changed what. Routes are data (route.go), so
// that none can be without its rule.
package api
