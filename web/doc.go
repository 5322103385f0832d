// Package web is the coach's pages: server-rendered HTML over the use cases of
// app, which work without a script and gain by one. It keeps nothing of its own
// but the roster's rows, reckoned in the background by the version of the data,
// files that wait to be confirmed, and hashes of messages sent within ten minutes.
//
// Every route stands in one list with what it asks of the actor (access.Actor.May);
// a route without is not served. Every page is made from a plain struct.
package web
