package api

import (
	"reflect"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"glidepath/athlete"
	"glidepath/numeric"
)

// aliases have the schema of types that write themselves in their own way.
var aliases = map[reflect.Type]reflect.Type{
	reflect.TypeFor[numeric.OrNull]():  reflect.TypeFor[orNullSchema](),
	reflect.TypeFor[athlete.Weekday](): reflect.TypeFor[weekdaySchema](),
	reflect.TypeFor[athlete.Sign]():    reflect.TypeFor[signSchema](),
}

const datePattern = `^(\d{4}-\d{2}-\d{2})?$`

type dateSchema struct{}

// Schema implements huma.SchemaProvider.
func (dateSchema) Schema(huma.Registry) *huma.Schema {
	return &huma.Schema{
		Type: huma.TypeString, Pattern: datePattern,
		Description: "A date, YYYY-MM-DD; empty where there is none.",
	}
}

type orNullSchema struct{}

// Schema implements huma.SchemaProvider.
func (orNullSchema) Schema(huma.Registry) *huma.Schema {
	return &huma.Schema{Type: huma.TypeNumber, Nullable: true, Description: "Null where the question does not arise."}
}

type weekdaySchema struct{}

// Schema implements huma.SchemaProvider.
func (weekdaySchema) Schema(huma.Registry) *huma.Schema {
	s := &huma.Schema{Type: huma.TypeString}
	for d := time.Sunday; d <= time.Saturday; d++ {
		s.Enum = append(s.Enum, athlete.Weekday(d).String())
	}
	return s
}

type signSchema struct{}

// Schema implements huma.SchemaProvider.
func (signSchema) Schema(huma.Registry) *huma.Schema {
	s := &huma.Schema{Type: huma.TypeString}
	for _, sign := range athlete.Signs(athlete.Female) { // every one there is
		s.Enum = append(s.Enum, string(sign))
	}
	return s
}

// The most that one text, list or table in a request or answer may hold. The longest
// text that the domain takes is that of a check-in; a picture in an archive is bounded
// with the whole.
const (
	maxText = 8000
	maxList = 20_000
)

// boundTexts bounds every text and list, so that no request can fill the data file
// with one.
func boundTexts(r huma.Registry) {
	seen := map[*huma.Schema]bool{}
	for _, s := range r.Map() {
		bound(s, seen)
	}
}

func bound(s *huma.Schema, seen map[*huma.Schema]bool) {
	if s == nil || seen[s] {
		return
	}
	seen[s] = true
	switch s.Type {
	case huma.TypeString:
		if s.MaxLength == nil && len(s.Enum) == 0 && s.Format == "" && s.ContentEncoding == "" {
			s.MaxLength = new(maxText)
		}
	case huma.TypeArray:
		if s.MaxItems == nil {
			s.MaxItems = new(maxList)
		}
	}
	for _, p := range s.Properties {
		bound(p, seen)
	}
	bound(s.Items, seen)
	if more, ok := s.AdditionalProperties.(*huma.Schema); ok {
		bound(more, seen)
	}
	s.PrecomputeMessages()
}
