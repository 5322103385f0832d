package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/report"
)

// rosterPage is the list in order of need, or as the reader sorts it.
type rosterPage struct {
	Empty    bool // nobody at all, as opposed to nobody found
	Total    int
	Found    int
	Groups   []rosterGroup
	Query    url.Values
	Needs    []option
	Phases   []option
	Sorts    []option
	Pending  int       // rows that are being made
	Oldest   time.Time // of the rows shown that are up to date
	From, To int       // which of those found are on this page
	Previous string
	Next     string
}

type rosterGroup struct {
	Title string // "" where the reader sorts otherwise
	Rows  []rosterLine
}

// rosterLine is one athlete in words.
type rosterLine struct {
	listed
	Where  string
	Facts  []fact
	Silent string
}

// fact is a name and what is so.
type fact struct{ Name, Is string }

const perPage = 25

var phaseKinds = []athlete.PhaseKind{athlete.OffSeason, athlete.PrePrep, athlete.Prep, athlete.PeakWeek, athlete.ShowDay, athlete.Recovery}

// sorts are the orders that a roster can be put in. Where a number is not known
// the athlete comes last.
var sorts = []struct {
	name, text string
	less       func(x, y *listed) float64
}{
	{"need", "need", nil},
	{"show", "next show", func(x, y *listed) float64 { return known(float64(x.WeeksToShow)) - known(float64(y.WeeksToShow)) }},
	{"slack", "least slack", func(x, y *listed) float64 { return known(float64(x.SlackWeeks)) - known(float64(y.SlackWeeks)) }},
	{"target", "least likely on target", func(x, y *listed) float64 { return known(float64(x.OnTarget)) - known(float64(y.OnTarget)) }},
	{"rate", "fastest loss against the limit", func(x, y *listed) float64 { return overLimit(y) - overLimit(x) }},
	{"log", "longest silent", func(x, y *listed) float64 { return silence(y) - silence(x) }},
	{"strength", "least strength kept", func(x, y *listed) float64 { return known(float64(x.StrengthPct)) - known(float64(y.StrengthPct)) }},
	{"name", "name", nil},
}

const lastOfAll = 1e12

func known(v float64) float64 {
	if v != v { //nolint:gocritic // not a number
		return lastOfAll
	}
	return v
}

func overLimit(l *listed) float64 {
	if l.PermittedPct == 0 || l.RatePct.Value != l.RatePct.Value { //nolint:gocritic // not a number
		return -lastOfAll
	}
	return l.RatePct.Value - l.PermittedPct
}

func silence(l *listed) float64 {
	if l.DaysSinceLog < 0 {
		return lastOfAll
	}
	return float64(l.DaysSinceLog)
}

func showRoster(r *request) error {
	people, err := r.desk.app.Athletes(r.ctx())
	if err != nil {
		return err
	}
	people = slices.DeleteFunc(people, func(a athlete.Athlete) bool { return !r.mayTo(access.See, a.ID) })
	body := rosterPage{Total: len(people), Empty: len(people) == 0, Query: r.URL.Query()}
	body.Needs, body.Phases, body.Sorts = rosterChoices()
	rows, err := r.desk.roster(r.ctx(), people, r.asOf)
	if err != nil {
		return err
	}
	for i := range rows {
		if rows[i].Stale {
			body.Pending++
		} else if body.Oldest.IsZero() || rows[i].Made.Before(body.Oldest) {
			body.Oldest = rows[i].Made
		}
	}
	rows = filtered(rows, body.Query)
	sorted(rows, body.Query.Get("sort"))
	body.Found = len(rows)
	body.cut(&rows, r.URL.Path)
	body.group(rows)
	return r.page(http.StatusOK, "roster", page{Title: "Roster", Body: body, Tab: "roster"})
}

func rosterChoices() (needs, phases, orders []option) {
	needs, phases = []option{{"", "any need"}}, []option{{"", "any phase"}}
	for n := app.NeedSafety; n <= app.NeedNothing; n++ {
		needs = append(needs, option{strconv.Itoa(int(n) + 1), n.Title()})
	}
	for _, k := range phaseKinds {
		phases = append(phases, option{string(k), string(k)})
	}
	for _, s := range sorts {
		orders = append(orders, option{s.name, s.text})
	}
	return needs, phases, orders
}

func filtered(rows []listed, q url.Values) []listed {
	words := strings.Fields(strings.ToLower(q.Get("find")))
	need, phase := q.Get("need"), q.Get("phase")
	return slices.DeleteFunc(rows, func(l listed) bool {
		text := strings.ToLower(strings.Join([]string{l.Name, l.ID, l.Show, l.Division}, " "))
		for _, w := range words {
			if !strings.Contains(text, w) {
				return true
			}
		}
		return need != "" && (l.Made.IsZero() || need != strconv.Itoa(int(l.Need)+1)) || phase != "" && phase != string(l.Phase)
	})
}

func sorted(rows []listed, by string) {
	inOrder(rows)
	if by == "name" {
		slices.SortStableFunc(rows, func(x, y listed) int { return strings.Compare(x.Name, y.Name) })
		return
	}
	for _, s := range sorts {
		if s.name == by && s.less != nil {
			slices.SortStableFunc(rows, func(x, y listed) int {
				switch d := s.less(&x, &y); {
				case d < 0:
					return -1
				case d > 0:
					return 1
				}
				return 0
			})
		}
	}
}

// cut leaves the rows of one page.
func (p *rosterPage) cut(rows *[]listed, path string) {
	number, _ := strconv.Atoi(p.Query.Get("page")) // anything else is the first
	number = max(1, min(number, (p.Found+perPage-1)/perPage))
	from := (number - 1) * perPage
	to := min(p.Found, from+perPage)
	p.From, p.To = from+1, to
	address := func(n int) string {
		q := url.Values{}
		for key, values := range p.Query {
			if key != "page" && key != "done" {
				q[key] = values
			}
		}
		q.Set("page", strconv.Itoa(n))
		return path + "?" + q.Encode()
	}
	if number > 1 {
		p.Previous = address(number - 1)
	}
	if to < p.Found {
		p.Next = address(number + 1)
	}
	*rows = (*rows)[min(from, p.Found):to]
}

func (p *rosterPage) group(rows []listed) {
	byNeed := p.Query.Get("sort") == "" || p.Query.Get("sort") == "need"
	for i := range rows {
		title := ""
		if byNeed {
			title = rows[i].Need.Title()
			if rows[i].Made.IsZero() {
				title = "Being read"
			}
		}
		if n := len(p.Groups); n == 0 || p.Groups[n-1].Title != title {
			p.Groups = append(p.Groups, rosterGroup{Title: title})
		}
		g := &p.Groups[len(p.Groups)-1]
		g.Rows = append(g.Rows, lineOf(rows[i]))
	}
}

func lineOf(l listed) rosterLine {
	n := chart.Notation{Units: l.Units}
	out := rosterLine{listed: l}
	var where []string
	for _, s := range []string{string(l.Phase), l.Division} {
		if s != "" {
			where = append(where, s)
		}
	}
	if l.WeeksToShow.Known() {
		where = append(where, fmt.Sprintf("%s to %s, %s", weeks(float64(l.WeeksToShow)), l.Show, n.Date(l.ShowDate)))
	} else if !l.Made.IsZero() {
		where = append(where, "no show ahead")
	}
	out.Where = strings.Join(where, ", ")
	add := func(name, is string) { out.Facts = append(out.Facts, fact{name, is}) }
	if l.SlackWeeks.Known() {
		add("slack", weeks(float64(l.SlackWeeks)))
	}
	if l.OnTarget.Known() {
		add("on target", report.Percent(float64(l.OnTarget)))
	}
	if l.TrendKg.Value > 0 && l.DaysSinceLog >= 0 {
		rate := with(l.RatePct.Scale(-1), 2, "% a week")
		if l.RatePct.Value > 0 {
			rate += fmt.Sprintf(", limit %s", chart.Number(-l.PermittedPct, 2))
		}
		add("weight", rate)
	}
	if l.StrengthPct.Known() {
		add("strength", chart.Number(float64(l.StrengthPct), 0)+nbsp+"%")
	}
	switch {
	case l.Made.IsZero():
	case l.DaysSinceLog < 0:
		add("last log", "never")
	case l.DaysSinceLog == 0:
		add("last log", "today")
	case l.DaysSinceLog == 1:
		add("last log", "yesterday")
	default:
		add("last log", fmt.Sprintf("%d%sdays ago", l.DaysSinceLog, nbsp))
	}
	return out
}

const nbsp = "\u00a0"

// weeks writes a number of weeks.
func weeks(v float64) string { return chart.Number(v, 1) + nbsp + "weeks" }
