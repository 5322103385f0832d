// Package app has the use cases: everything that the command line, the pages
// and the JSON interface can do goes through it.
package app
