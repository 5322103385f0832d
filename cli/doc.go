// Package cli is the command line: one file a command, each an options struct,
// a newXCommand and a run method. It calls the use cases of package app and
// writes what they answer as text for people or as JSON. No reckoning is done
// here.
package cli
