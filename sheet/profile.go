package sheet

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"glidepath/athlete"
	"glidepath/fault"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// Limits on a profile: people write a page or two.
const (
	maxProfileBytes = 1 << 20
	maxProfileDepth = 20
)

// ReadProfile reads an athlete's profile from YAML (or JSON, which is read as
// YAML), and checks it. Fields are those of athlete.Athlete by their names there;
// one that is not known is an error with its line and column. The error joins a
// fault for each thing wrong.
//
// Fields whose names end in _kg, _cm, _mm or _kcal, and the sites of girths and
// skinfolds, take a number in that unit or a text with its own: "182 lb",
// "5 ft 10 in", "9800 kJ". In place of weight_kg and height_cm may stand weight
// and height, always with a unit. A date is YYYY-MM-DD (ISO 8601). For example,
// of an invented athlete:
//
//	id: mara
//	name: Mara Lindqvist
//	sex: female                # female or male: the published equations need it
//	birth_date: 1994-05-17
//	height: 5 ft 6 in          # or height_cm: 167.6
//	weight: 143 lb             # or weight_kg: 64.9
//	weighed_on: 2025-01-06
//	training_years: 7
//	steps_per_day: 9000
//	training_days: [monday, tuesday, thursday, friday]
//	cardio: [incline walking, cycling]
//	cardio_minutes_per_week: 60
//	cardio_minutes_max: 300
//	menstrual_cycle: true
//	body_fat:
//	  - {date: 2025-01-06, method: calipers 7-site, by: coach, body_fat_pct: 22}
//	screening:
//	  answered_on: 2025-01-06
//	shows:
//	  - id: harbour
//	    name: Harbour Classic
//	    date: 2025-06-14
//	    division: figure
//	    target_body_fat_pct: 12
//
// testdata/profile.yaml has every field.
func ReadProfile(name string, data []byte) (athlete.Athlete, error) {
	a, err := readProfile(data)
	if err == nil {
		err = a.Validate()
	}
	if err != nil {
		for _, e := range fault.All(err) {
			e.File = filepath.Base(name)
		}
		return athlete.Athlete{}, err
	}
	return a, nil
}

func readProfile(data []byte) (a athlete.Athlete, err error) {
	// The parser is given files from strangers; a panic in it is a bad file.
	defer func() {
		if p := recover(); p != nil {
			a, err = athlete.Athlete{}, fault.New(fault.Invalid, "the profile cannot be read: %s.", clip(fmt.Sprint(p)))
		}
	}()
	if len(data) > maxProfileBytes {
		return a, fault.New(fault.Invalid, "the profile is larger than %d MB.", maxProfileBytes>>20)
	}
	text, _, _, err := decode(data, "")
	if err != nil {
		for _, e := range fault.All(err) {
			e.Hint = "Save the profile as text in UTF-8."
		}
		return a, err
	}
	if tooDeep(text) {
		return a, fault.New(fault.Invalid, "the profile is nested more than %d deep.", maxProfileDepth)
	}
	file, err := parser.ParseBytes([]byte(jsonTabs(text)), 0)
	if err != nil {
		return a, yamlFault(err)
	}
	var docs []*ast.DocumentNode
	for _, d := range file.Docs {
		if d.Body != nil {
			docs = append(docs, d)
		}
	}
	switch len(docs) {
	case 0:
		return a, fault.New(fault.Invalid, "the profile is empty.")
	case 1:
	default:
		return a, fault.New(fault.Invalid, "the file has more than one profile.").WithHint("Give each its own file.")
	}
	v := &unitVisitor{}
	ast.Walk(v, docs[0].Body)
	v.unknown(docs[0].Body, reflect.TypeFor[athlete.Athlete]())
	if len(v.faults) > 0 {
		return a, errors.Join(v.faults...)
	}
	if err := yaml.NewDecoder(bytes.NewReader(nil), yaml.DisallowUnknownField()).DecodeFromNode(docs[0].Body, &a); err != nil {
		return athlete.Athlete{}, yamlFault(err)
	}
	return a, nil
}

// tooDeep counts brackets that are open at once, and steps of indentation.
func tooDeep(text string) bool {
	open := 0
	for line := range strings.SplitSeq(text, "\n") {
		body := strings.TrimLeft(line, " ")
		dashes := 0
		for rest := body; strings.HasPrefix(rest, "- ") || strings.HasPrefix(rest, "? "); rest = strings.TrimLeft(rest[2:], " ") {
			dashes++
		}
		if len(line)-len(body) > 8*maxProfileDepth || dashes > maxProfileDepth {
			return true
		}
		for i := range len(line) {
			switch line[i] {
			case '[', '{':
				open++
			case ']', '}':
				open = max(0, open-1)
			}
			if open > maxProfileDepth {
				return true
			}
		}
	}
	return false
}

// jsonTabs turns the tabs that JSON may be indented with into spaces, which YAML
// wants, one for one so that columns stay right.
func jsonTabs(text string) string {
	if !strings.HasPrefix(strings.TrimSpace(text), "{") {
		return text
	}
	return strings.ReplaceAll(text, "\t", " ")
}

// unitVisitor turns quantities written with a unit into numbers, and notes what
// a profile must not have.
type unitVisitor struct{ faults []error }

// Visit implements ast.Visitor.
func (v *unitVisitor) Visit(n ast.Node) ast.Visitor {
	switch n := n.(type) {
	case *ast.AnchorNode, *ast.AliasNode, *ast.MergeKeyNode, *ast.TagNode:
		v.fail(n.GetToken(), "anchors, aliases and tags are not read in a profile.", "Write the value out.")
		return nil
	case *ast.MappingValueNode:
		v.value(n)
	}
	return v
}

func (v *unitVisitor) fail(t *token.Token, message, hint string) {
	v.faults = append(v.faults, fault.New(fault.Invalid, "%s%s", place(t), message).WithHint("%s", hint))
}

// siteKeys are fields whose entries are all in one unit.
var siteKeys = map[string]Unit{"folds_mm": Mm, "girths_cm": Cm}

func (v *unitVisitor) value(n *ast.MappingValueNode) {
	key := n.Key.GetToken().Value
	if unit, ok := siteKeys[key]; ok {
		switch sites := n.Value.(type) {
		case *ast.MappingNode:
			for _, one := range sites.Values {
				v.number(one, unit)
			}
		case *ast.MappingValueNode:
			v.number(sites, unit)
		}
		return
	}
	if key == "weight" || key == "height" {
		unit, name := Kg, "weight_kg"
		if key == "height" {
			unit, name = Cm, "height_cm"
		}
		if isNumber(n.Value) {
			v.fail(n.Value.GetToken(), fmt.Sprintf("%s has no unit.", key), fmt.Sprintf("Write it with one, or as %s.", name))
			return
		}
		renamed := n.Key.GetToken().Clone()
		renamed.Value, renamed.Origin = name, name
		v.number(n, unit)
		n.Key = ast.String(renamed)
		return
	}
	for suffix, unit := range map[string]Unit{"_kg": Kg, "_cm": Cm, "_mm": Mm, "_kcal": Kcal} {
		if strings.HasSuffix(key, suffix) {
			v.number(n, unit)
		}
	}
}

func isNumber(n ast.Node) bool {
	switch n.(type) {
	case *ast.IntegerNode, *ast.FloatNode:
		return true
	}
	return false
}

// number replaces a text with a unit by the number in the field's own unit.
func (v *unitVisitor) number(n *ast.MappingValueNode, base Unit) {
	text, ok := n.Value.(*ast.StringNode)
	if !ok {
		return
	}
	family := map[Unit][]Unit{Kg: {Kg, Pound, Stone}, Cm: {Cm, Inch, Mm}, Mm: {Mm}, Kcal: {Kcal, KJ}}[base]
	accepts := func(u Unit) bool { return slices.Contains(family, u) }
	x, bad := quantity(text.Value, "", base, '.', accepts)
	x = math.Round(x*1e9) / 1e9 // parts of a compound add up with noise
	if base == Cm && strings.Contains(text.Value, "mm") {
		x, bad = 0, &cellError{"it is in millimetres.", "Write it in cm."}
	}
	if bad != nil {
		why := strings.TrimPrefix(bad.why, "it ")
		v.fail(text.GetToken(), fmt.Sprintf("%s: %s %s", n.Key.GetToken().Value, quote(text.Value), why),
			fmt.Sprintf("Write a number, or one with a unit such as \"82.5 %s\".", base))
		return
	}
	t := text.GetToken().Clone()
	t.Value = strconv.FormatFloat(x, 'f', -1, 64)
	if !strings.Contains(t.Value, ".") {
		t.Value += ".0" // else the parser takes it for an integer
	}
	t.Origin, t.Type = t.Value, token.FloatType
	n.Value = ast.Float(t)
}

// place says where a token stands.
func place(t *token.Token) string {
	if t == nil || t.Position == nil {
		return ""
	}
	return fmt.Sprintf("line %d, column %d: ", t.Position.Line, t.Position.Column)
}

// yamlFault puts a parser's error into a fault with line and column.
func yamlFault(err error) error {
	e, ok := errors.AsType[yaml.Error](err)
	if !ok {
		return fault.New(fault.Invalid, "the profile cannot be read: %s.", clip(err.Error()))
	}
	f := fault.New(fault.Invalid, "%s%s.", place(e.GetToken()), strings.TrimSuffix(clip(e.GetMessage()), "."))
	f.Cause = err
	return f
}

// unknown names every field that the type has not. The decoder is strict too,
// but stops at the first.
func (v *unitVisitor) unknown(n ast.Node, t reflect.Type) {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch n := n.(type) {
	case *ast.SequenceNode:
		if t.Kind() == reflect.Slice {
			for _, one := range n.Values {
				v.unknown(one, t.Elem())
			}
		}
	case *ast.MappingNode:
		for _, one := range n.Values {
			v.unknown(one, t)
		}
	case *ast.MappingValueNode:
		if t.Kind() != reflect.Struct {
			return
		}
		key := n.Key.GetToken()
		fields := yamlFields(t)
		if ft, ok := fields[key.Value]; ok {
			v.unknown(n.Value, ft)
			return
		}
		hint := ""
		if near := nearest(key.Value, fields); near != "" {
			hint = fmt.Sprintf("Is it %s?", near)
		}
		v.fail(key, fmt.Sprintf("the field %s is not known.", quote(key.Value)), hint)
	}
}

// yamlFields has the fields of a struct by their names in a file.
func yamlFields(t reflect.Type) map[string]reflect.Type {
	fields := make(map[string]reflect.Type, t.NumField())
	for i := range t.NumField() {
		if name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ","); name != "" && name != "-" {
			fields[name] = t.Field(i).Type
		}
	}
	return fields
}

// nearest finds the field whose name is closest to a misspelt one.
func nearest(name string, fields map[string]reflect.Type) string {
	best, near := 4, ""
	for _, known := range slices.Sorted(maps.Keys(fields)) {
		if d := editDistance(name, known); len(name) < 60 && d < best && d*2 < len(known) {
			best, near = d, known
		}
	}
	return near
}

// WriteProfile gives a profile as YAML that ReadProfile reads back the same.
func WriteProfile(a athlete.Athlete) ([]byte, error) {
	out, err := yaml.MarshalWithOptions(a, yaml.IndentSequence(true), yaml.AutoInt())
	if err != nil {
		return nil, fmt.Errorf("writing the profile of %s: %w", a.ID, err)
	}
	plain, err := json.MarshalIndent(a, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("writing the profile of %s: %w", a.ID, err)
	}
	// The library loses some line breaks in texts. JSON, which is YAML too, keeps
	// them; it is less pleasant to edit.
	back, err := readProfile(out)
	if err == nil && sameJSON(back, plain) {
		return out, nil
	}
	return append(plain, '\n'), nil
}

func sameJSON(a athlete.Athlete, want []byte) bool {
	got, err := json.MarshalIndent(a, "", "  ")
	return err == nil && bytes.Equal(got, want)
}
