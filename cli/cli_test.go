package cli_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/testscript"

	"glidepath/cli"
	"glidepath/scenario"
)

var update = flag.Bool("update", false, "write the golden outputs in the scripts anew")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"glidepath": func() {
			os.Exit(cli.Run(context.Background(), os.Args[1:], os.Environ(), os.Stdin, os.Stdout, os.Stderr))
		},
	})
}

// TestScripts runs whole conversations with the program. What depends on the
// engine's figures is matched by its words; only texts that do not are golden.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("GLIDEPATH_DATA", filepath.Join(env.WorkDir, "data.db"))
			env.Setenv("COLUMNS", "120")
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status": status, "jsonval": jsonValue,
		},
	})
}

// status N program args... runs a program that must end with status N.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N program args...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		exit, ok := errors.AsType[*exec.ExitError](err)
		if !ok {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("status %d, want %d", got, want)
	}
}

// jsonValue FILE PATH PATTERN matches a value in JSON, found by a path such as
// roster.0.id, as JSON text.
func jsonValue(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 3 {
		ts.Fatalf("usage: jsonval file path pattern")
	}
	var v any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile(args[0])), &v))
	for _, key := range strings.Split(args[1], ".") {
		switch at := v.(type) {
		case map[string]any:
			v = at[key]
		case []any:
			i, err := strconv.Atoi(key)
			if err != nil || i >= len(at) {
				ts.Fatalf("%s: no %q in a list of %d", args[1], key, len(at))
			}
			v = at[i]
		default:
			ts.Fatalf("%s: nothing under %q", args[1], key)
		}
	}
	text, err := json.Marshal(v)
	ts.Check(err)
	if regexp.MustCompile(args[2]).Match(text) == neg {
		ts.Fatalf("%s is %s", args[1], text)
	}
}

// run runs the program in this process.
func run(t *testing.T, env []string, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	code = cli.Run(t.Context(), args, env, strings.NewReader(""), &out, &errs)
	return code, out.String(), errs.String()
}

// TestEveryViewOfEverybody asks everything of every invented athlete: the text
// must fit its page and have no hole in it, the JSON must be JSON, and asking
// twice must give the same bytes.
func TestEveryViewOfEverybody(t *testing.T) {
	dir := t.TempDir()
	demo := scenario.Demo()
	data := filepath.Join(dir, "demo.db")
	env := []string{"GLIDEPATH_DATA=" + data, "GLIDEPATH_WHO=Wren"}
	if code, _, errs := run(t, env, "demo", "--keep", data, "--out", filepath.Join(dir, "demo.html")); code != 0 {
		t.Fatalf("demo: status %d: %s", code, errs)
	}
	views := []string{
		"appraise", "map", "read --days 20", "forecast", "review", "prescription --history", "strength", "cardio", "athlete view", "contest list", "limit list", "log", "corrections",
		"programme show", "programme list", "programme export", "gym", "set list --days 14", "injury list",
	}
	for i := range demo.Seasons {
		id := demo.Seasons[i].Athlete.ID
		for _, v := range views {
			args := append(strings.Fields(v), id, "--as-of", demo.AsOf.String(), "--futures", "100")
			code, out, errs := run(t, append(env, "COLUMNS=80"), args...)
			checkStatus(t, args, code, errs)
			checkPage(t, args, out+errs, "80")
			if i%4 == 0 {
				_, again, _ := run(t, append(env, "COLUMNS=80"), args...)
				if again != out {
					t.Errorf("%v: not the same the second time", args)
				}
				_, out, errs = run(t, append(env, "COLUMNS=120"), args...)
				checkPage(t, args, out+errs, "120")
			}
			code, out, errs = run(t, env, append(args, "--json")...)
			checkStatus(t, args, code, errs)
			if code != 0 {
				out = errs
			}
			if !json.Valid([]byte(out)) {
				t.Errorf("%v --json: not JSON: %.200s", args, out)
			}
		}
	}
}

// checkStatus allows what is refused or not there, and nothing else.
func checkStatus(t *testing.T, args []string, code int, errs string) {
	t.Helper()
	if code != 0 && code != 4 && code != 6 || (code == 0) != (errs == "") {
		t.Errorf("%v: status %d: %s", args, code, errs)
	}
}

var hole = regexp.MustCompile(`%!|NaN|Inf\b|<nil>|\[\]|0001|0x[0-9a-f]{4}| {2,}\.|\.\.(?:\s|$)`)

func checkPage(t *testing.T, args []string, text, columns string) {
	t.Helper()
	width, _ := strconv.Atoi(columns)
	for line := range strings.SplitSeq(text, "\n") {
		if n := utf8.RuneCountInString(line); n > width && !strings.Contains(line, "  glidepath ") {
			t.Errorf("%v at %d columns has a line of %d: %s", args, width, n, line)
		}
		if strings.HasSuffix(line, " ") || hole.MatchString(line) {
			t.Errorf("%v has a hole: %q", args, line)
		}
	}
}

// TestEveryCommandTeaches holds each command to a help with examples, and the
// documented statuses.
func TestEveryCommandTeaches(t *testing.T) {
	_, out, _ := run(t, nil, "--help")
	var commands []string
	for line := range strings.SplitSeq(out, "\n") {
		if m := regexp.MustCompile(`^  ([a-z]+) +[A-Z]`).FindStringSubmatch(line); m != nil {
			commands = append(commands, m[1])
		}
	}
	if len(commands) < 25 {
		t.Fatalf("only %d commands in the help: %v", len(commands), commands)
	}
	for _, c := range commands {
		if c == "help" || c == "completion" {
			continue
		}
		code, help, _ := run(t, nil, c, "--help")
		if code != 0 || !strings.Contains(help, "Usage:") {
			t.Errorf("%s --help: status %d", c, code)
		}
		subs := regexp.MustCompile(`(?m)^  ([a-z]+) +[A-Z]`).FindAllStringSubmatch(help, -1)
		if strings.Contains(help, "Available Commands:") {
			for _, s := range subs {
				if _, help, _ := run(t, nil, c, s[1], "--help"); !strings.Contains(help, "Examples:") {
					t.Errorf("%s %s has no example", c, s[1])
				}
			}
			continue
		}
		if strings.Count(help, "\n  glidepath "+c) < 2 {
			t.Errorf("%s has fewer than two examples", c)
		}
	}
}
