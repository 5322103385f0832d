package cli

import (
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// desk commands see and change nothing of an athlete, or keep a record themselves.
var deskCommands = []string{
	"account add", "account athletes", "account disable", "account enable", "account list", "account password", "account role",
	"token add", "token list", "token revoke", "demo", "doctor", "serve", "version",
	"exercise add", "exercise list", "exercise name", "exercise remove", "exercise show", // the desk's catalogue
}

// Every command says what it leaves in the record, or is known to leave nothing.
func TestEveryCommandHasADeed(t *testing.T) {
	seen := 0
	var walk func(c *cobra.Command, path string)
	walk = func(c *cobra.Command, path string) {
		for _, sub := range c.Commands() {
			walk(sub, strings.TrimSpace(path+" "+sub.Name()))
		}
		if path == "" || c.HasSubCommands() {
			return
		}
		seen++
		_, ok := deeds[path]
		if free := slices.Contains(deskCommands, path); ok == free {
			t.Errorf("%q: a deed %v, of the desk %v: say in deeds what it leaves in the record", path, ok, free)
		}
	}
	walk(newRoot(newSession(nil, nil, nil, nil)), "")
	if want := len(deeds) + len(deskCommands); seen != want {
		t.Errorf("%d commands, and %d are accounted for", seen, want)
	}
}
