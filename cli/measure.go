package cli

import (
	"context"
	"strings"

	"github.com/spf13/cobra"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/sheet"
)

type measureOptions struct {
	on, method, by, bodyFat, weight, note string
	folds, girths                         []string
}

func newMeasure(s *session) *cobra.Command {
	var o measureOptions
	c := s.athleteArg(&cobra.Command{
		Use:   "measure ATHLETE",
		Short: "Keep a measurement of body fat, skinfolds or girths",
		Long: `Keep a measurement. Say how it was made and by whose hands or which device: a method
in one pair of hands has a lasting bias of its own, which is reckoned with.

Methods: ` + strings.Join(methods(), ", ") + `.
Skinfolds: ` + strings.Join(athlete.FoldSites(), ", ") + `.
Girths: ` + strings.Join(athlete.GirthSites(), ", ") + `.`,
		Example: `  glidepath measure priya --method eye --by Wren --body-fat 17.5 --on 2026-03-01
  glidepath measure hana --method "calipers 3-site" --by Wren --fold triceps=9 --fold thigh=12 --fold suprailium=7
  glidepath measure marcus --method tape --by Wren --girth neck="17.5 in" --girth abdomen="38 in"`,
		RunE: func(cmd *cobra.Command, args []string) error { return s.runMeasure(cmd.Context(), args[0], o) },
	})
	f := c.Flags()
	f.StringVar(&o.on, "on", "", "`date` (default the date reckoned for)")
	f.StringVar(&o.method, "method", "", "`how` it was measured")
	f.StringVar(&o.by, "by", "", "`whose` hands, or which device")
	f.StringVar(&o.bodyFat, "body-fat", "", "body fat, per `cent`")
	f.StringArrayVar(&o.folds, "fold", nil, "skinfold `site=mm`; may be repeated")
	f.StringArrayVar(&o.girths, "girth", nil, "girth `site=cm`, or with its unit; may be repeated")
	f.StringVar(&o.weight, "weight", "", "`weight` with its unit")
	f.StringVar(&o.note, "note", "", "a `word` on it")
	return c
}

func methods() []string {
	var out []string
	for _, m := range athlete.Methods() {
		out = append(out, string(m))
	}
	return out
}

func (o *measureOptions) measurement() (m athlete.Measurement, err error) {
	m = athlete.Measurement{Method: athlete.Method(o.method), By: o.by, Note: o.note}
	if m.WeightKg, err = weightFlag(o.weight); err != nil {
		return m, err
	}
	if o.bodyFat != "" {
		v, err := sheet.ReadQuantity(sheet.Measurements, sheet.FieldBodyFat, o.bodyFat, sheet.Percent)
		if err != nil {
			return m, err
		}
		m.BodyFatPct = &v
	}
	if m.FoldsMm, err = sites("fold", o.folds, athlete.FoldSites(), sheet.Mm); err != nil {
		return m, err
	}
	m.GirthsCm, err = sites("girth", o.girths, athlete.GirthSites(), sheet.Cm)
	return m, err
}

// sites reads "thigh=12" for each site.
func sites(flag string, pairs, known []string, bare sheet.Unit) (map[string]float64, error) {
	if len(pairs) == 0 {
		return nil, nil
	}
	out := make(map[string]float64, len(pairs))
	for _, pair := range pairs {
		site, text, ok := strings.Cut(pair, "=")
		if !ok {
			return nil, usage("--%s takes site=value, not %q.", flag, pair)
		}
		at := -1
		for i, k := range known {
			if strings.EqualFold(k, strings.TrimSpace(site)) {
				at = i
			}
		}
		if at < 0 {
			return nil, usage("There is no %s %q. Known are %s.", flag, site, strings.Join(known, ", "))
		}
		v, err := sheet.ReadQuantity(sheet.Measurements, sheet.Field(flag+"."+known[at]), text, bare)
		if err != nil {
			return nil, err
		}
		out[known[at]] = v
	}
	return out, nil
}

func (s *session) runMeasure(ctx context.Context, name string, o measureOptions) error {
	if o.method == "" {
		return usage("Say how it was measured with --method.")
	}
	m, err := o.measurement()
	if err != nil {
		return err
	}
	at, err := s.withAthlete(ctx, name)
	if err != nil {
		return err
	}
	m.Date = at.on
	if o.on != "" {
		if m.Date, err = dateFlag("on", o.on); err != nil {
			return err
		}
	}
	done, err := at.Record(ctx, at.athlete.ID, app.Batch{Measurements: []athlete.Measurement{m}}, s.source("form"))
	if err != nil {
		return err
	}
	if s.json {
		return s.emit(map[string]any{"athlete": whoOf(at.athlete), "measurement": m, "recorded": done})
	}
	p := s.page()
	switch {
	case done.Measurements.Same > 0:
		p.line("That measurement of %s was there already; nothing was changed.", at.athlete.Name)
	case done.Measurements.Corrected > 0:
		p.line("The measurement of %s on %s is changed; the older values are kept.", at.athlete.Name, longDate(m.Date))
	default:
		p.line("The measurement of %s on %s is kept.", at.athlete.Name, longDate(m.Date))
	}
	return p.flush()
}
