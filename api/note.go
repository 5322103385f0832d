package api

import (
	"context"
	"net/http"
	"slices"

	"glidepath/access"
	"glidepath/athlete"
	"glidepath/civil"
)

// NoteWritten is what the coach's side writes down about a date.
type NoteWritten struct {
	Date civil.Date `json:"date"`
	Text string     `json:"text"`
}

// notes are the routes to the coach's notes, which athletes do not see.
func (s *server) notes() {
	at := "/athletes/{athlete}/notes"
	add(s, route{
		method: http.MethodGet, path: at, id: "list-notes", summary: "List the coach's notes that are about some dates",
		do: access.See, words: "read the notes",
	}, s.listNotes)
	add(s, route{
		method: http.MethodPost, path: at, id: "add-note", summary: "Write down a note, which the athlete does not see",
		status: http.StatusCreated, do: access.Draft, words: "wrote a note",
	}, func(ctx context.Context, v *visit, in *struct {
		OfAthlete
		Body NoteWritten
	},
	) (*told[athlete.Note], error) {
		if err := s.logged("date", in.Body.Date); err != nil {
			return nil, err
		}
		n, err := s.app.AddNote(ctx, in.Athlete, athlete.Note{Date: in.Body.Date, Text: in.Body.Text, Who: v.by()})
		if err != nil {
			return nil, err
		}
		return &told[athlete.Note]{*n}, nil
	})
	add(s, route{
		method: http.MethodDelete, path: at + "/{number}", id: "remove-note", summary: "Remove a note, for good", status: http.StatusNoContent,
		do: access.Decide, words: "removed a note",
	}, func(ctx context.Context, _ *visit, in *struct {
		OfAthlete
		Number int `path:"number" minimum:"1" doc:"The note's number"`
	},
	) (*nothing, error) {
		return &nothing{}, s.app.RemoveNote(ctx, in.Athlete, in.Number)
	})
}

func (s *server) listNotes(ctx context.Context, _ *visit, in *listing) (*listed[athlete.Note], error) {
	from, to, err := s.dates(in.InSpan)
	if err != nil {
		return nil, err
	}
	all, err := s.app.Notes(ctx, in.Athlete, to)
	if err != nil {
		return nil, err
	}
	all = slices.DeleteFunc(all, func(n athlete.Note) bool { return n.Date < from })
	return page(in.OnPage, "/api/v1/athletes/"+in.Athlete+"/notes", query("from", in.From, "to", in.To), all,
		func(n *athlete.Note) string { return n.Date.String() }), nil
}
