package api

import (
	"net/url"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The pages of any list, keys shared or not, make up the list.
func TestPagesMakeUpTheList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := rapid.SliceOfN(rapid.StringMatching(`[a-c]{1,2}`), 0, 40).Draw(t, "keys")
		slices.Sort(all)
		in := OnPage{Limit: rapid.IntRange(1, 7).Draw(t, "limit")}
		got := []string{}
		for range len(all) + 1 {
			p := page(in, "/x", query("from", "y"), all, func(s *string) string { return *s })
			if len(p.Body) > in.Limit {
				t.Fatalf("a page of %d has %d", in.Limit, len(p.Body))
			}
			got = append(got, p.Body...)
			if p.Link == "" {
				break
			}
			link, err := url.Parse(strings.TrimSuffix(strings.TrimPrefix(p.Link, "<"), `>; rel="next"`))
			if err != nil || link.Query().Get("from") != "y" {
				t.Fatalf("the link is %s: %v", p.Link, err)
			}
			in.After = link.Query().Get("after")
		}
		if !slices.Equal(got, all) {
			t.Fatalf("the pages have %v, the list %v", got, all)
		}
	})
}
