// Package browsertest runs a real browser without a window, for the tests that
// look at pages.
package browsertest

import (
	"context"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// Shots is the folder for pictures and PDFs of the pages; "" keeps none.
var Shots = flag.String("shots", "", "a folder for pictures and PDFs of the pages, to look at")

// Tab starts Chromium; the test is skipped where there is none.
func Tab(t *testing.T) context.Context {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("no chromium on this machine")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(t.TempDir()))
	ctx, cancel := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	return ctx
}

// Run does one thing in the tab and gives what it gives.
func Run[T any](t *testing.T, ctx context.Context, a chromedp.Action[T]) T {
	t.Helper()
	v, err := chromedp.Run(ctx, a)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Emulate sets the medium and its features: print, or dark.
func Emulate(t *testing.T, ctx context.Context, media emulation.SetEmulatedMediaParams) {
	t.Helper()
	if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, media); err != nil {
		t.Fatal(err)
	}
}

// Keep writes a picture or a PDF to the folder of Shots, if there is one.
func Keep(t *testing.T, name string, data []byte) {
	t.Helper()
	if *Shots == "" {
		return
	}
	if err := os.WriteFile(filepath.Join(*Shots, name), data, 0o600); err != nil {
		t.Fatal(err)
	}
}
