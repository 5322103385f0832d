package web

import (
	"cmp"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"glidepath/athlete"
	"glidepath/fault"
	"glidepath/phrase"
)

// exercisesPage is the desk's catalogue of lifts.
type exercisesPage struct {
	Query             url.Values
	Found, Total, Own int
	Rows              []exerciseRow
	Muscles, Patterns []option
	Equipment         []option
	Names             []nameRow
	Form              form // of a name to settle
	Lifts             []string
	CanEdit           bool
}

type exerciseRow struct {
	Name, Also, Direct, Assists, With, Loads string
	Own                                      bool
}

// nameRow is a name that was settled; Means is empty for a lift of its own.
type nameRow struct{ Typed, Means string }

func showExercises(r *request) error { return r.exercises(http.StatusOK, form{}, nil) }

// exercises writes the list, with what was typed to settle a name.
func (r *request) exercises(code int, typed form, wrong error) error {
	known, err := r.desk.app.Catalogue(r.ctx())
	if err != nil {
		return err
	}
	own, err := r.desk.app.Exercises(r.ctx())
	if err != nil {
		return err
	}
	names, err := r.desk.app.ExerciseNames(r.ctx())
	if err != nil {
		return err
	}
	q := r.URL.Query()
	body := exercisesPage{
		Query: q, Own: len(own), Form: typed, CanEdit: r.visitor.CheckAdd() == nil,
		Muscles: optionsOf("any muscle", athlete.Muscles()), Patterns: optionsOf("any movement", athlete.Patterns()), Equipment: optionsOf("anything", athlete.AllEquipment()),
	}
	for _, e := range known.Exercises() {
		body.Total++
		body.Lifts = append(body.Lifts, e.Name)
		if fitsQuery(&e, q) {
			mine := slices.ContainsFunc(own, func(o athlete.Exercise) bool { return o.Name == e.Name })
			body.Rows = append(body.Rows, exerciseRowOf(&e, mine))
		}
	}
	body.Found = len(body.Rows)
	for _, n := range names {
		body.Names = append(body.Names, nameRow{n.Typed, n.Exercise})
	}
	p := page{Title: "Exercises", Tab: "exercises"}
	if wrong != nil {
		body.Form.Wrong, p.Faults = wrongIn(wrong, map[string]string{"typed": "typed", "exercise": "exercise"})
	}
	p.Body = body
	return r.page(code, "exercises", p)
}

// optionsOf are the values of a list, after one for all of them.
func optionsOf[T ~string](all string, values []T) []option {
	out := []option{{"", all}}
	for _, v := range values {
		out = append(out, option{string(v), string(v)})
	}
	return out
}

func fitsQuery(e *athlete.Exercise, q url.Values) bool {
	if m := q.Get("muscle"); m != "" && !slices.ContainsFunc(e.Muscles, func(s athlete.Share) bool { return string(s.Muscle) == m }) {
		return false
	}
	if p := q.Get("pattern"); p != "" && string(e.Pattern) != p {
		return false
	}
	if with := q.Get("equipment"); with != "" && string(e.Equipment) != with {
		return false
	}
	find := strings.ToLower(strings.TrimSpace(q.Get("find")))
	return find == "" || slices.ContainsFunc(append([]string{e.Name}, e.Aliases...), func(name string) bool {
		return strings.Contains(strings.ToLower(name), find)
	})
}

func exerciseRowOf(e *athlete.Exercise, own bool) exerciseRow {
	out := exerciseRow{Name: e.Name, Also: strings.Join(e.Aliases, ", "), With: string(e.Equipment), Own: own}
	var direct, assists, loads []string
	for _, s := range e.Muscles {
		switch s.Share {
		case 1:
			direct = append(direct, string(s.Muscle))
		case assisting:
			assists = append(assists, string(s.Muscle))
		default:
			assists = append(assists, fmt.Sprintf("%s %s", s.Muscle, figure(s.Share)))
		}
	}
	for _, l := range e.Loads {
		loads = append(loads, string(l))
	}
	out.Direct, out.Assists, out.Loads = strings.Join(direct, ", "), strings.Join(assists, ", "), strings.Join(loads, ", ")
	return out
}

// assisting is the share of a set that usually counts for a muscle that assists.
const assisting = 0.5

// exercisePage is the form of one exercise.
type exercisePage struct {
	Form      form
	Was       string // its name as it is kept; "" is a new one
	Own       bool   // kept by this desk, so that it can be taken out
	Muscles   []shareField
	Patterns  []option
	Equipment []option
	Steady    []option
	Regions   []athlete.Region
}

// shareField asks what a set counts for a muscle.
type shareField struct {
	Muscle  athlete.Muscle
	Value   string
	Options []option
}

var stabilityWords = map[athlete.Stability]string{
	athlete.Guided: "guided: the machine keeps the path", athlete.Supported: "supported: the body is held", athlete.FreeStanding: "free standing: nothing is held",
}

func showExercise(r *request) error {
	name := r.URL.Query().Get("name")
	typed := url.Values{"name": {r.URL.Query().Get("as")}}
	if name != "" {
		e, err := r.exercise(name)
		if err != nil {
			return err
		}
		typed = exerciseValues(e)
	}
	return r.exercisePage(http.StatusOK, name, typed, nil)
}

// exercise is one of the catalogue by its name.
func (r *request) exercise(name string) (*athlete.Exercise, error) {
	known, err := r.desk.app.Catalogue(r.ctx())
	if err != nil {
		return nil, err
	}
	for _, e := range known.Exercises() {
		if e.Name == name {
			return &e, nil
		}
	}
	return nil, fault.New(fault.NotFound, "There is no exercise %q in the catalogue.", name)
}

func exerciseValues(e *athlete.Exercise) url.Values {
	v := url.Values{
		"name": {e.Name}, "aliases": {strings.Join(e.Aliases, "\n")}, "pattern": {string(e.Pattern)}, "equipment": {string(e.Equipment)}, "stability": {string(e.Stability)},
	}
	for _, s := range e.Muscles {
		v.Set("muscle_"+string(s.Muscle), figure(s.Share))
	}
	for _, l := range e.Loads {
		v.Add("loads", string(l))
	}
	if e.Big {
		v.Set("big", "yes")
	}
	if e.BodyLoad {
		v.Set("body", "yes")
	}
	return v
}

// exercisePage writes the form of one with what was typed.
func (r *request) exercisePage(code int, was string, typed url.Values, wrong error) error {
	own, err := r.desk.app.Exercises(r.ctx())
	if err != nil {
		return err
	}
	body := exercisePage{
		Form: form{Values: typed}, Was: was, Own: slices.ContainsFunc(own, func(e athlete.Exercise) bool { return e.Name == was }),
		Patterns: optionsOf("choose", athlete.Patterns()), Equipment: optionsOf("choose", athlete.AllEquipment()), Steady: []option{{"", "choose"}}, Regions: athlete.Regions(),
	}
	for _, s := range athlete.Stabilities() {
		body.Steady = append(body.Steady, option{string(s), stabilityWords[s]})
	}
	for _, m := range athlete.Muscles() {
		f := shareField{Muscle: m, Value: typed.Get("muscle_" + string(m)), Options: []option{{"", "not"}, {"1", "directly: a whole set"}, {"0.5", "assists: half a set"}}}
		if !slices.ContainsFunc(f.Options, func(o option) bool { return o.Value == f.Value }) {
			f.Options = append(f.Options, option{f.Value, f.Value + " of a set"})
		}
		body.Muscles = append(body.Muscles, f)
	}
	p := page{Title: cmp.Or(phrase.Capital(was), "A new exercise"), Tab: "exercises"}
	if wrong != nil {
		body.Form.Wrong, p.Faults = wrongIn(wrong, map[string]string{
			"name": "name", "aliases": "aliases", "pattern": "pattern", "equipment": "equipment", "stability": "stability", "muscles": "muscles",
		})
	}
	p.Body = body
	return r.page(code, "exercise", p)
}

// exerciseIn reads the form of one.
func exerciseIn(typed url.Values) (athlete.Exercise, error) {
	e := athlete.Exercise{
		Name: strings.ToLower(typed.Get("name")), Pattern: athlete.Pattern(typed.Get("pattern")), Equipment: athlete.Equipment(typed.Get("equipment")),
		Stability: athlete.Stability(typed.Get("stability")), Big: typed.Get("big") != "", BodyLoad: typed.Get("body") != "",
	}
	for line := range strings.Lines(typed.Get("aliases")) {
		if a := strings.TrimSpace(line); a != "" {
			e.Aliases = append(e.Aliases, a)
		}
	}
	for _, m := range athlete.Muscles() {
		text := typed.Get("muscle_" + string(m))
		if text == "" {
			continue
		}
		share, err := strconv.ParseFloat(text, 64)
		if err != nil || !finite(share) {
			return e, fault.New(fault.Invalid, "%q is no share of a set.", text).WithField("muscles")
		}
		e.Muscles = append(e.Muscles, athlete.Share{Muscle: m, Share: share})
	}
	for _, l := range typed["loads"] {
		e.Loads = append(e.Loads, athlete.Region(l))
	}
	return e, e.Validate()
}

func keepExercise(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	was := typed.Get("was")
	e, err := exerciseIn(typed)
	if err == nil {
		err = r.desk.app.RenameExercise(r.ctx(), was, e)
	}
	if err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		return r.exercisePage(status(err), was, typed, err)
	}
	return r.done(at("/exercises", "find", e.Name), "exercise")
}

func removeExercise(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	if err := r.desk.app.RemoveExercise(r.ctx(), typed.Get("name")); err != nil {
		return err
	}
	return r.done("/exercises", "exercise-removed")
}

func settleName(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	n := athlete.ExerciseName{Typed: typed.Get("typed"), Exercise: strings.ToLower(typed.Get("exercise"))}
	if err := r.desk.app.SettleName(r.ctx(), n); err != nil {
		if fault.KindOf(err) == "" {
			return err
		}
		return r.exercises(status(err), form{Values: typed}, err)
	}
	return r.done("/exercises#names", "settled")
}
