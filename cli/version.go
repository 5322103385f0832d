package cli

import (
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"
)

type versionResult struct {
	Version  string `json:"version"`
	Revision string `json:"revision,omitempty"`
	Go       string `json:"go"`
	System   string `json:"system"`
}

func newVersion(s *session) *cobra.Command {
	return &cobra.Command{
		Use:     "version",
		Short:   "Say which version this is",
		Long:    `Say which version of the program this is, and what it was built with.`,
		Example: "  glidepath version\n  glidepath version --json",
		Args:    exactly(0, "%s takes no arguments."),
		RunE: func(*cobra.Command, []string) error {
			v := versionOf()
			if s.json {
				return s.emit(v)
			}
			p := s.page()
			p.line("glidepath %s, %s, %s", v.Version, v.Go, v.System)
			return p.flush()
		},
	}
}

func versionOf() versionResult {
	v := versionResult{Version: "(built from source)", Go: runtime.Version(), System: runtime.GOOS + "/" + runtime.GOARCH}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return v
	}
	if info.Main.Version != "" && info.Main.Version != "(devel)" {
		v.Version = info.Main.Version
	}
	for _, set := range info.Settings {
		if set.Key == "vcs.revision" {
			v.Revision = set.Value
		}
	}
	return v
}
