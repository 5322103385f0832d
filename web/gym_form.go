package web

import (
	"cmp"
	"errors"
	"fmt"
	"net/url"
	"strconv"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/fault"
)

// gymForm is a whole session as it was typed in a browser without script. A list has
// a place for each exercise, or for each set.
type gymForm struct {
	values        url.Values
	exercises     []string
	rows          []typedSet
	take, takeOut int // the set whose offer is taken, or that is taken out; -1 is none
}

// typedSet is a row of it.
type typedSet struct {
	setParts
	group, order    int
	as, seen, offer string
}

func atoi(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil {
		return -1
	}
	return n
}

func readGymForm(values url.Values) (*gymForm, error) {
	f := &gymForm{values: values, exercises: values["exercise"], take: atoi(values.Get("take")), takeOut: atoi(values.Get("remove"))}
	n := len(values["weight"])
	list := func(name string, i int) string { return values[name][i] }
	for _, name := range []string{"reps", "effort", "side", "note", "group", "order", "as", "seen", "offer"} {
		if len(values[name]) != n {
			return nil, fault.New(fault.Invalid, "the form could not be read.").WithHint("Open the session again and send it anew.")
		}
	}
	for i := range n {
		s := typedSet{
			setParts: setParts{list("weight", i), list("reps", i), list("effort", i), list("side", i), list("note", i)},
			group:    atoi(list("group", i)), order: atoi(list("order", i)), as: list("as", i), seen: list("seen", i), offer: list("offer", i),
		}
		if s.group < 0 || s.group >= len(f.exercises) {
			return nil, fault.New(fault.Invalid, "the form could not be read.").WithHint("Open the session again and send it anew.")
		}
		f.rows = append(f.rows, s)
	}
	return f, nil
}

// change is what the form changes of a log.
func (f *gymForm) change(a *athlete.Athlete, now *app.GymLog) (c app.GymChange, err error) {
	var wrong []error
	for i := range f.rows {
		wrong = append(wrong, f.set(&c, a, i, now))
	}
	if f.values.Has("base_session") {
		p := sessionParts{f.values.Get("minutes"), f.values.Get("rpe")}
		err := amendSession(&c, p.text(), f.values["base_session"], now.Session)
		wrong = append(wrong, placed(err, "The session", p.text()))
	}
	for _, name := range painFields {
		field, _ := fieldNamed(name)
		if !f.values.Has("base_" + name) {
			continue
		}
		gone, err := field.amend(&c.Day, f.values.Get(name), f.values["base_"+name], &now.Day, a.Units)
		if gone {
			c.DropDay = append(c.DropDay, name)
		}
		wrong = append(wrong, placed(err, field.label, f.values.Get(name)))
	}
	return c, errors.Join(wrong...)
}

// set adds one row to the change. A set that is kept stays under its name; one that
// is not goes under what the exercise is called now.
func (f *gymForm) set(c *app.GymChange, a *athlete.Athlete, i int, now *app.GymLog) error {
	s := f.rows[i]
	exercise := cmp.Or(s.as, f.exercises[s.group])
	switch i {
	case f.takeOut:
		s.setParts = setParts{}
	case f.take:
		if o, u, err := readSet(s.offer); err == nil && o != nil {
			s.Weight, s.Reps, s.Side = cmp.Or(s.Weight, gymWeight(o.WeightKg, u)), cmp.Or(s.Reps, strconv.Itoa(o.Reps)), cmp.Or(s.Side, o.Side)
		}
		f.rows[i].setParts = s.setParts // shown again, should it not be kept
	}
	text := s.text(a.Units, a.Effort)
	if text == "" && s.seen == "" {
		return nil
	}
	err := amendSet(c, a, exercise, s.order, text, []string{s.seen}, now.Sets)
	return placed(err, fmt.Sprintf("Set %d of %s", f.number(i), exercise), text)
}

// number is a row's place in its exercise.
func (f *gymForm) number(i int) int {
	n := 0
	for j := range i + 1 {
		if f.rows[j].group == f.rows[i].group {
			n++
		}
	}
	return n
}

// placed says where in a form something is wrong, and a clash in words.
func placed(err error, where, text string) error {
	if c, ok := errors.AsType[*clash](err); ok {
		present, text := cmp.Or(c.present, "nothing"), cmp.Or(text, "nothing")
		return fault.New(fault.Conflict, "%s: “%s” is kept since you opened the page, and you typed “%s”.", where, present, text).
			WithHint("Open the session again to see it, or send it again to keep yours.")
	}
	for _, one := range fault.All(err) {
		one.Message = where + ": " + one.Message
	}
	return err
}
