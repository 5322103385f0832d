package cli

import (
	"context"
	"encoding/json"
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/decision"
	"glidepath/phrase"
	"glidepath/season"
)

func newReview(s *session) *cobra.Command {
	return s.athleteArg(&cobra.Command{
		Use:   "review ATHLETE",
		Short: "Make the weekly review and keep it until it is decided on",
		Long: `Re-plan the season from what is known and propose this week's smallest sufficient
change of the least tiring lever, or to hold. The proposal is kept under its date;
nothing changes for the athlete until you decide on it with glidepath decide.`,
		Example: `  glidepath review aroha --as-of 2026-03-02     # a little behind
  glidepath review lucia --as-of 2026-03-02     # the scale has jumped by water
  glidepath review dmitri --as-of 2026-03-02 --json`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runReview(cmd.Context(), args[0]) },
	})
}

// reviewResult is a review as JSON.
type reviewResult struct {
	Athlete    who                   `json:"athlete"`
	AsOf       civil.Date            `json:"as_of"`
	Proposal   *decision.Proposal    `json:"proposal"`
	Draft      *athlete.Prescription `json:"draft,omitempty"`
	Decision   app.Decision          `json:"decision,omitempty"` // made earlier under this date
	CannotTell []string              `json:"cannot_tell,omitempty"`
}

// who names an athlete in JSON.
type who struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

func whoOf(a *athlete.Athlete) who { return who{a.ID, a.Name} }

func reviewOf(d *app.Dossier) *reviewResult {
	r := &reviewResult{Athlete: whoOf(&d.Athlete), AsOf: d.AsOf, Proposal: d.Proposal, Draft: d.Draft, CannotTell: d.Cannot}
	if v := decided(d); v != nil {
		r.Decision = v.Decision
	}
	return r
}

// decided is the review of the date where somebody has decided on it.
func decided(d *app.Dossier) *app.Review {
	for i := range d.Reviews {
		if r := &d.Reviews[i]; r.Date == d.AsOf && r.Decision != app.Undecided {
			return r
		}
	}
	return nil
}

func (s *session) runReview(ctx context.Context, name string) error {
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	o, err := s.options()
	if err != nil {
		return err
	}
	d, err := at.Review(ctx, at.athlete.ID, at.on, o)
	if err != nil {
		return err
	}
	if d.Blocked != nil {
		return d.Blocked
	}
	if s.json {
		return s.emit(reviewOf(d))
	}
	p := s.page()
	s.head(p, d)
	p.gap()
	s.showReview(p, d)
	p.gap()
	if v := decided(d); v != nil {
		p.line("The review of this date was %s by %s already; that stands.", v.Decision, v.Who)
		return p.flush()
	}
	p.line("It waits for your decision:")
	p.raw(fmt.Sprintf("  glidepath decide accept %s --as-of %s --who NAME", d.Athlete.ID, d.AsOf))
	return p.flush()
}

// head says whom and which date a page is about.
func (s *session) head(p *page, d *app.Dossier) {
	p.line("%s on %s: %s.", d.Athlete.Name, longDate(d.AsOf), whereabouts(d))
}

// whereabouts says where in the season an athlete is.
func whereabouts(d *app.Dossier) string {
	text := string(d.Phase)
	if sh := d.Show; sh != nil {
		text += fmt.Sprintf(", %s to %s on %s", weeks(float64(sh.Date.DaysSince(d.AsOf))/7), sh.Name, date(sh.Date))
		if sh.Division != "" {
			text += " (" + sh.Division + ")"
		}
	}
	return text
}

func (s *session) showReview(p *page, d *app.Dossier) {
	v := d.Proposal
	if v == nil {
		p.line("There is nothing to review.")
		p.list(d.Cannot)
		return
	}
	p.line("%s", phrase.Sentence(v.Sentence))
	s.cautions(p, v.Cautions)
	p.gap()
	showLevers(p, v.From, v.To)
	section(p, "Why", v.Reasons)
	section(p, "What it expects", v.Expects)
	if v.Action == decision.Change {
		p.heading("How sure: the direction is %s to be right.", likelyWord(v.Sure))
	}
	section(p, "What would change its mind", v.ChangesMind)
	section(p, "To ask", v.Questions)
	if d.Draft != nil {
		p.heading("What accepting it would prescribe from %s", longDate(d.Draft.From))
		p.gap()
		s.showPrescription(p, d.Draft)
	}
	section(p, "What could not be reckoned", d.Cannot)
}

// likelyWord fits "the direction is ... to be right".
func likelyWord(p float64) string {
	if p >= 0.33 && p < 0.66 {
		return "as likely as not (" + percent(p) + ")"
	}
	return chance(p)
}

func section(p *page, heading string, items []string) {
	if len(items) == 0 {
		return
	}
	p.heading("%s", heading)
	p.list(items)
}

// cautions are plain sentences where the risk is.
func (s *session) cautions(p *page, items []string) {
	for _, c := range items {
		p.gap()
		p.hanging("Caution: ", phrase.Sentence(c))
	}
}

func showLevers(p *page, from, to season.Instruction) {
	row := func(name string, old, new float64) []string {
		change := "as it is"
		if d := new - old; math.Abs(d) >= 0.5 {
			change = signed(d)
		}
		return []string{name, whole(old), whole(new), change}
	}
	p.table([]column{{head: "", left: true}, {head: "Now"}, {head: "Proposed"}, {head: "Change"}}, [][]string{
		row("Food, kcal a day on average", from.EnergyKcal, to.EnergyKcal),
		row("Steps a day", from.StepsPerDay, to.StepsPerDay),
		row("Cardio, minutes a week", from.CardioMinutes, to.CardioMinutes),
	})
}

func signed(v float64) string {
	if v > 0 {
		return "+" + whole(v)
	}
	return whole(v)
}

// reviewed is what a stored review holds.
func reviewed(r *app.Review) (app.Reviewed, error) {
	var out app.Reviewed
	err := json.Unmarshal(r.Proposal, &out)
	return out, err
}
