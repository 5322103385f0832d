package glidepath_test

import (
	"go/build"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// arrows is the whole package graph: what each package of ours may import of
// ours. The linter says the same in reasons; this test fails on any package that
// is not listed.
const arrows = `
civil:
access:
fault:
numeric:
phrase:
browsertest:
seedtest:
athlete: civil fault
physiology: athlete fault numeric
dynamics:
reading: athlete civil dynamics fault numeric physiology
forecast: civil dynamics numeric reading
season: athlete civil dynamics numeric phrase
decision: athlete civil numeric phrase reading season
training: athlete civil fault numeric phrase physiology
cardio: athlete fault phrase physiology
food: athlete fault phrase
scenario: athlete civil
app: athlete cardio civil decision fault food forecast numeric phrase photo physiology reading season training
account: access fault
account/accounttest:
store: access account app athlete civil fault
store/storetest: access account app athlete civil fault
api: access account app athlete cardio civil decision fault forecast numeric photo phrase reading season training
sheet: athlete civil fault
chart: athlete civil phrase
mail: fault
mail/mailtest:
photo: fault
photo/phototest:
chart/charttest: athlete chart civil
report: app athlete cardio chart civil decision fault forecast numeric phrase reading season training
web: access account app athlete cardio chart civil fault mail numeric photo phrase report season sheet
cli: access account api app athlete cardio chart civil decision fault forecast mail numeric phrase reading report scenario season sheet store training web
cmd/glidepath: cli
lab: app athlete cardio civil decision fault forecast numeric physiology reading scenario season
cmd/laboratory: lab
`

// packageIn is the package of a folder, nil where it has none but tests.
func packageIn(path string) *build.Package {
	p, err := build.ImportDir(path, 0)
	if err != nil || len(p.GoFiles) == 0 {
		return nil
	}
	return p
}

func TestArrows(t *testing.T) {
	allowed := map[string][]string{}
	for line := range strings.SplitSeq(strings.TrimSpace(arrows), "\n") {
		name, list, _ := strings.Cut(line, ":")
		allowed[name] = strings.Fields(list)
	}
	seen := map[string]bool{}
	err := filepath.WalkDir(".", func(path string, d os.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return err
		}
		if base := d.Name(); path != "." && (strings.HasPrefix(base, ".") || base == "testdata" || base == "bin") {
			return filepath.SkipDir
		}
		p := packageIn(path)
		if p == nil {
			return nil
		}
		name := filepath.ToSlash(path)
		may, ok := allowed[name]
		if !ok {
			t.Errorf("package %s is not in the graph: add it with what it may import", name)
		}
		seen[name] = true
		for _, imported := range p.Imports {
			if ours, ok := strings.CutPrefix(imported, "glidepath/"); ok && !slices.Contains(may, ours) {
				t.Errorf("%s imports %s, against the arrows of the design", name, ours)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for name := range allowed {
		if !seen[name] {
			t.Errorf("the graph names %s, which is no package", name)
		}
	}
}
