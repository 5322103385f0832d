package api

import (
	"context"
	"net/http"
	"slices"
	"strings"

	"glidepath/access"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/photo"
)

// OfPhoto is the photo in a path.
type OfPhoto struct {
	OfAthlete
	Date string `path:"date" maxLength:"10" doc:"The date of the photo"`
	Pose string `path:"pose" enum:"front,side,back" doc:"How the athlete stands"`
}

// picture is an answer that is a JPEG. Like every answer it is not to be stored on
// the way.
type picture struct {
	ContentType string `header:"Content-Type"`
	Body        []byte
}

const typeJPEG = "image/jpeg"

func (s *server) photos() {
	at := "/athletes/{athlete}/photos"
	one := at + "/{date}/{pose}"
	add(s, route{
		method: http.MethodGet, path: at, id: "list-photos", summary: "List the photos of some dates, without the pictures",
		do: access.SeeOwn, words: "listed the photos",
	}, s.listPhotos)
	add(s, route{
		method: http.MethodPost, path: one, id: "add-photo",
		summary: "Add a photo, in the place of the one there; it is kept small, and nothing that the file tells besides the picture is",
		status:  http.StatusCreated, do: access.Log, words: "added a photo", most: photo.MaxBytes, takes: []string{typeJPEG, "image/png"},
	}, s.addPhoto)
	add(s, route{
		method: http.MethodGet, path: one, id: "get-photo", summary: "The picture of a photo",
		do: access.SeeOwn, words: "saw a photo", gives: typeJPEG,
	}, func(ctx context.Context, _ *visit, in *OfPhoto) (*picture, error) {
		on, err := s.date("date", in.Date, 0)
		if err != nil {
			return nil, err
		}
		jpeg, err := s.app.Picture(ctx, in.Athlete, on, athlete.Pose(in.Pose))
		if err != nil {
			return nil, err
		}
		return &picture{typeJPEG, jpeg}, nil
	})
	add(s, route{
		method: http.MethodDelete, path: one, id: "remove-photo", summary: "Remove a photo, for good", status: http.StatusNoContent,
		do: access.Log, words: "removed a photo",
	}, func(ctx context.Context, _ *visit, in *OfPhoto) (*nothing, error) {
		on, err := s.date("date", in.Date, 0)
		if err != nil {
			return nil, err
		}
		return &nothing{}, s.app.RemovePhoto(ctx, in.Athlete, on, athlete.Pose(in.Pose))
	})
}

func (s *server) listPhotos(ctx context.Context, _ *visit, in *listing) (*listed[athlete.Photo], error) {
	from, to, err := s.dates(in.InSpan)
	if err != nil {
		return nil, err
	}
	all, err := s.app.Photos(ctx, in.Athlete, to)
	if err != nil {
		return nil, err
	}
	all = slices.DeleteFunc(all, func(p athlete.Photo) bool { return p.Date < from })
	return page(in.OnPage, "/api/v1/athletes/"+in.Athlete+"/photos", query("from", in.From, "to", in.To), all,
		func(p *athlete.Photo) string { return p.Date.String() }), nil
}

func (s *server) addPhoto(ctx context.Context, _ *visit, in *struct {
	OfPhoto
	RawBody []byte
},
) (*made[athlete.Photo], error) {
	on, err := s.date("date", in.Date, 0)
	if err != nil {
		return nil, err
	}
	if err := s.logged("date", on); err != nil {
		return nil, err
	}
	kept, err := s.develop(ctx, in.RawBody)
	if err != nil {
		return nil, err
	}
	p := athlete.Photo{Date: on, Pose: athlete.Pose(in.Pose), Width: kept.Width, Height: kept.Height}
	if err := s.app.AddPhoto(ctx, in.Athlete, p, kept.JPEG); err != nil {
		return nil, err
	}
	p, err = s.photo(ctx, in.Athlete, on, p.Pose)
	if err != nil {
		return nil, err
	}
	return &made[athlete.Photo]{strings.Join([]string{"/api/v1/athletes", in.Athlete, "photos", on.String(), in.Pose}, "/"), p}, nil
}

// develop makes a file fit to be kept.
func (s *server) develop(ctx context.Context, file []byte) (*photo.Kept, error) {
	leave, err := s.enterDarkroom(ctx)
	if err != nil {
		return nil, err
	}
	defer leave()
	return photo.Keep(file, athlete.MaxPhotoSide)
}

// enterDarkroom waits for the turn to make photos small, one at a time, since a large
// one takes much memory meanwhile.
func (s *server) enterDarkroom(ctx context.Context) (leave func(), err error) {
	select {
	case s.darkroom <- struct{}{}:
		return func() { <-s.darkroom }, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// photo is one of the list.
func (s *server) photo(ctx context.Context, id string, on civil.Date, pose athlete.Pose) (athlete.Photo, error) {
	all, err := s.app.Photos(ctx, id, on)
	if err != nil {
		return athlete.Photo{}, err
	}
	i := slices.IndexFunc(all, func(p athlete.Photo) bool { return p.Date == on && p.Pose == pose })
	if i < 0 {
		return athlete.Photo{}, fault.New(fault.NotFound, "the photo was removed again.")
	}
	return all[i], nil
}
