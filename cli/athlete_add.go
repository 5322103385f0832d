package cli

import (
	"context"
	"errors"
	"maps"
	"slices"
	"strings"

	"charm.land/huh/v2"
	"github.com/goccy/go-yaml"
	"github.com/spf13/cobra"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/sheet"
)

type athleteOptions struct {
	file    string
	history bool
	text    map[string]*string // by the profile's own names
	lists   map[string]*[]string
}

// profileFlags are the parts of a profile that can be given by flag: the flag, the
// profile's name for it, and what to write.
var profileFlags = []struct{ flag, field, help string }{
	{"name", "name", "full `name`"},
	{"sex", "sex", "`sex` that the published equations need: female or male"},
	{"born", "birth_date", "birth `date`"},
	{"height", "height", "`height` with its unit, as in \"5 ft 6 in\" or \"168 cm\""},
	{"weight", "weight", "`weight` with its unit, as in \"143 lb\" or \"64.9 kg\""},
	{"weighed-on", "weighed_on", "`date` of that weight (default the date reckoned for)"},
	{"own-units", "units", "`system`, metric or imperial, that the athlete reads"},
	{"training-years", "training_years", "`years` of training"},
	{"steps", "steps_per_day", "habitual `steps` a day"},
	{"steps-max", "steps_per_day_max", "`steps` a day that they can keep up"},
	{"training-minutes", "training_minutes", "`minutes` of a lifting session"},
	{"cardio-minutes", "cardio_minutes_per_week", "present cardio, `minutes` a week"},
	{"cardio-max", "cardio_minutes_max", "most cardio, `minutes` a week"},
	{"maintenance", "maintenance_energy_kcal", "`energy` that holds their weight, if known, as in \"2600 kcal\""},
}

var profileLists = []struct{ flag, field, help string }{
	{"training-days", "training_days", "`days` of lifting, as in mon,tue,thu,fri"},
	{"cardio", "cardio", "`kinds` of cardio they have and bear, as in \"incline walking,cycling\""},
}

func (o *athleteOptions) flags(c *cobra.Command) *cobra.Command {
	o.text, o.lists = map[string]*string{}, map[string]*[]string{}
	f := c.Flags()
	f.StringVar(&o.file, "file", "", "`profile` in YAML or JSON (- is the standard input)")
	for _, p := range profileFlags {
		o.text[p.field] = f.String(p.flag, "", p.help)
	}
	for _, p := range profileLists {
		o.lists[p.field] = f.StringSlice(p.flag, nil, p.help)
	}
	return c
}

// overlay puts what the flags say over a profile as plain data. An empty text
// leaves the profile's own.
func (o *athleteOptions) overlay(profile map[string]any) {
	for field, v := range o.text {
		if *v == "" {
			continue
		}
		profile[field] = plain(*v)
		switch field { // with a unit, in place of the profile's own number
		case "height":
			delete(profile, "height_cm")
		case "weight":
			delete(profile, "weight_kg")
		}
	}
	for field, v := range o.lists {
		if len(*v) > 0 {
			profile[field] = *v
		}
	}
}

// plain turns digits into a number, as YAML would.
func plain(text string) any {
	var v any
	if err := yaml.Unmarshal([]byte(text), &v); err == nil {
		switch v.(type) {
		case int, int64, uint64, float64:
			return v
		}
	}
	return text
}

func (o *athleteOptions) given() bool {
	return slices.ContainsFunc(slices.Collect(maps.Values(o.text)), func(v *string) bool { return *v != "" }) ||
		slices.ContainsFunc(slices.Collect(maps.Values(o.lists)), func(v *[]string) bool { return len(*v) > 0 })
}

func newAthleteAdd(s *session) *cobra.Command {
	var o athleteOptions
	c := o.flags(&cobra.Command{
		Use:   "add [ID]",
		Short: "Add an athlete, by a file, by flags or by a form",
		Long: `Add an athlete to the roster: from a profile in YAML or JSON, from flags, or, on a
terminal, by a short form for what the flags leave out. The ID is short, of
lower-case letters, digits and hyphens. glidepath athlete view ID --yaml shows the
fields of a profile.

Put the health screening to the athlete before you plan a deficit: glidepath screen.`,
		Example: `  glidepath athlete add --file mara.yaml
  glidepath athlete add mara --name "Mara Lindqvist" --sex female --born 1994-05-17 \
      --height "5 ft 6 in" --weight "143 lb" --steps 9000 \
      --training-years 7 --training-days mon,tue,thu,fri --cardio "incline walking"
  glidepath athlete add mara            # asks for the rest on a terminal`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return s.runAthleteAdd(cmd.Context(), args, o) },
	})
	c.Flags().BoolVar(&o.history, "history", false, "take shows that are past, as the athlete's history")
	return c
}

func (s *session) runAthleteAdd(ctx context.Context, args []string, o athleteOptions) error {
	on, err := s.asOf()
	if err != nil {
		return err
	}
	var profile athlete.Athlete
	if o.file != "" {
		if o.given() || len(args) > 0 {
			return usage("Give a file or flags, not both; an ID stands in the file.")
		}
		text, err := s.readFile(o.file)
		if err != nil {
			return err
		}
		if profile, err = sheet.ReadProfile(o.file, text); err != nil {
			return err
		}
	} else if profile, err = s.profileByFlags(args, o, on); err != nil {
		return err
	}
	a, err := s.openOrMake(ctx)
	if err != nil {
		return err
	}
	if err := a.AddAthlete(ctx, profile, on, o.history); err != nil {
		return err
	}
	s.about(profile.ID)
	if s.json {
		return s.emit(profile)
	}
	p := s.page()
	p.line("%s is on the roster as %s.", profile.Name, profile.ID)
	if profile.Screening.AnsweredOn.IsZero() {
		s.cautions(p, []string{"the health screening is not answered yet; put it to the athlete before you plan a deficit, with glidepath screen " + profile.ID})
	}
	if block := profile.DeficitBlock(on); block != nil {
		s.cautions(p, []string{plainFault(block)})
	}
	return p.flush()
}

// profileByFlags makes a profile of flags, and on a terminal asks for the rest.
func (s *session) profileByFlags(args []string, o athleteOptions, on civil.Date) (athlete.Athlete, error) {
	raw := map[string]any{"weighed_on": on.String()}
	o.overlay(raw)
	if len(args) > 0 {
		raw["id"] = args[0]
	}
	missing := missingParts(raw)
	if len(missing) > 0 {
		if !s.asks() {
			return athlete.Athlete{}, usage("Give an ID and %s; or a profile with --file.", join(missing))
		}
		if err := s.askProfile(raw); err != nil {
			return athlete.Athlete{}, err
		}
	}
	return profileOf("the profile", raw)
}

// needed are the parts that no default stands for.
var needed = []struct{ field, flag, title string }{
	{"id", "", "ID: short, lower-case letters, digits and hyphens"},
	{"name", "--name", "Full name"},
	{"sex", "--sex", "Sex (the published equations need it)"},
	{"birth_date", "--born", "Birth date, as 1994-05-17"},
	{"height", "--height", "Height with its unit, as 5 ft 6 in or 168 cm"},
	{"weight", "--weight", "Weight with its unit, as 143 lb or 64.9 kg"},
	{"training_years", "--training-years", "Years of training"},
	{"steps_per_day", "--steps", "Steps on a usual day"},
}

func missingParts(raw map[string]any) []string {
	var out []string
	for _, n := range needed {
		if raw[n.field] == nil && n.flag != "" {
			out = append(out, n.flag)
		}
	}
	if raw["id"] == nil && len(out) == 0 {
		out = append(out, "the flags")
	}
	return out
}

// askProfile is the form: what is missing, and the habits that matter most.
func (s *session) askProfile(raw map[string]any) error {
	values := map[string]*string{}
	var fields []huh.Field
	ask := func(field, title, offered string) {
		v := offered
		values[field] = &v
		if field == "sex" {
			fields = append(fields, huh.NewSelect[string]().Title(title).Options(huh.NewOptions("female", "male")...).Value(&v))
			return
		}
		fields = append(fields, huh.NewInput().Title(title).Value(&v).Validate(func(text string) error { return part(field, text) }))
	}
	for _, n := range needed {
		if raw[n.field] == nil {
			ask(n.field, n.title, "")
		}
	}
	ask("training_days", "Days of lifting, as mon, tue, thu, fri", "")
	ask("cardio", "Kinds of cardio they have and bear, as incline walking, cycling", "walking")
	ask("cardio_minutes_per_week", "Present cardio, minutes a week", "0")
	ask("cardio_minutes_max", "Most cardio, minutes a week", "240")
	if err := s.form(huh.NewGroup(fields...)); err != nil {
		return err
	}
	for field, v := range values {
		switch text := strings.TrimSpace(*v); {
		case text == "":
		case field == "training_days" || field == "cardio":
			raw[field] = splitList(text)
		default:
			raw[field] = plain(text)
		}
	}
	return nil
}

// part checks an answer of the form as it is given; the rest is checked with the
// whole profile.
func part(field, text string) error {
	text = strings.TrimSpace(text)
	if text == "" && slices.ContainsFunc(needed, func(n struct{ field, flag, title string }) bool { return n.field == field }) {
		return errors.New("this one is needed")
	}
	switch field {
	case "birth_date":
		if _, err := civil.Parse(text); err != nil {
			return errors.New("write it as 1994-05-17")
		}
	case "weight":
		if _, err := weightFlag(text); err != nil {
			return errors.New("write it with its unit, as 143 lb or 64.9 kg")
		}
	}
	return nil
}

func splitList(text string) []string {
	var out []string
	for part := range strings.SplitSeq(text, ",") {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}

// profileOf reads plain data as a profile file is read, so that units and errors
// are those of a file.
func profileOf(name string, raw map[string]any) (athlete.Athlete, error) {
	text, err := yaml.Marshal(raw)
	if err != nil {
		return athlete.Athlete{}, err
	}
	return sheet.ReadProfile(name, text)
}
