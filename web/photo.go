package web

import (
	"fmt"
	"io"
	"net/http"
	"slices"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/photo"
)

// photosPage sets the photos of two days side by side.
type photosPage struct {
	Base       string // address of the photos
	Own        bool
	Dates      []option
	From, To   civil.Date
	FromWords  string
	ToWords    string
	Poses      []posePair
	Pose       string // "" is all
	PoseChoice []option
}

// posePair is one pose on two days; an address is "" where there is no photo.
type posePair struct {
	Pose     athlete.Pose
	From, To string
}

func (r *request) photosBase() string {
	if r.isOwn() {
		return "/photos"
	}
	return "/athletes/" + r.id() + "/photos"
}

func showPhotos(r *request) error {
	a, err := r.athlete()
	if err != nil {
		return err
	}
	all, err := r.desk.app.Photos(r.ctx(), a.ID, r.asOf.AddDays(1))
	if err != nil {
		return err
	}
	n := notation(a)
	body := photosPage{Base: r.photosBase(), Own: r.isOwn(), PoseChoice: []option{{"", "every pose"}}}
	var dates []civil.Date
	for _, p := range all {
		if !slices.Contains(dates, p.Date) {
			dates = append(dates, p.Date)
			body.Dates = append(body.Dates, option{p.Date.String(), n.Date(p.Date)})
		}
	}
	if len(dates) > 0 {
		body.From, body.To = dates[0], dates[len(dates)-1]
	}
	query := r.URL.Query()
	for name, to := range map[string]*civil.Date{"from": &body.From, "to": &body.To} {
		if on, err := civil.Parse(query.Get(name)); err == nil && slices.Contains(dates, on) {
			*to = on
		}
	}
	body.FromWords, body.ToWords, body.Pose = n.Date(body.From), n.Date(body.To), query.Get("pose")
	address := func(on civil.Date, pose athlete.Pose) string {
		if !slices.ContainsFunc(all, func(p athlete.Photo) bool { return p.Date == on && p.Pose == pose }) {
			return ""
		}
		return fmt.Sprintf("%s/%s/%s", body.Base, on, pose)
	}
	for _, pose := range athlete.Poses() {
		body.PoseChoice = append(body.PoseChoice, option{string(pose), string(pose)})
		pair := posePair{Pose: pose, From: address(body.From, pose), To: address(body.To, pose)}
		if (body.Pose == "" || body.Pose == string(pose)) && pair.From+pair.To != "" {
			body.Poses = append(body.Poses, pair)
		}
	}
	p := page{Title: "Photos", Tab: "photos", Body: body}
	if !body.Own {
		p.Athlete, p.Tab = a, "check-ins"
	}
	return r.page(http.StatusOK, "photos", p)
}

// addPhoto takes in a photo of today, or of the date that the form names.
func addPhoto(r *request) error {
	kept, p, err := r.photoSent()
	if err == nil {
		err = r.desk.app.AddPhoto(r.ctx(), r.id(), p, kept.JPEG)
	}
	if r.scripted() && err != nil {
		return r.refuse(err)
	}
	if err != nil {
		return err
	}
	if r.scripted() {
		return r.json(http.StatusOK, photoKept{Address: fmt.Sprintf("/photos/%s/%s", p.Date, p.Pose)})
	}
	return r.done("/check-in", "photo")
}

// photoKept is the answer to a script that sent a photo.
type photoKept struct {
	Address string `json:"address"`
}

func (r *request) photoSent() (*photo.Kept, athlete.Photo, error) {
	var p athlete.Photo
	const inMemory = 1 << 20
	if err := r.ParseMultipartForm(inMemory); err != nil {
		if status(err) == http.StatusRequestEntityTooLarge {
			return nil, p, err
		}
		return nil, p, fault.New(fault.Invalid, "the photo did not arrive whole.").WithHint("Send it again.")
	}
	defer func() { _ = r.MultipartForm.RemoveAll() }() // the system's own to clean
	p.Date, p.Pose = r.desk.Today(), athlete.Pose(r.PostFormValue("pose"))
	if !slices.Contains(athlete.Poses(), p.Pose) {
		return nil, p, fault.New(fault.Invalid, "choose front, side or back.").WithField("pose")
	}
	file, _, err := r.FormFile("photo")
	if err != nil {
		return nil, p, fault.New(fault.Invalid, "choose a photo first.").WithField("photo")
	}
	defer func() { _ = file.Close() }()
	data, err := io.ReadAll(io.LimitReader(file, photo.MaxBytes+1))
	if err != nil {
		return nil, p, err
	}
	// One at a time, since a large photo takes much memory while it is made small.
	select {
	case r.s.darkroom <- struct{}{}:
		defer func() { <-r.s.darkroom }()
	case <-r.ctx().Done():
		return nil, p, r.ctx().Err()
	}
	kept, err := photo.Keep(data, athlete.MaxPhotoSide)
	if err != nil {
		return nil, p, err
	}
	p.Width, p.Height = kept.Width, kept.Height
	return kept, p, nil
}

func removePhoto(r *request) error {
	typed, err := r.form()
	if err != nil {
		return err
	}
	on, err := civil.Parse(typed.Get("date"))
	if err != nil {
		return noPage()
	}
	if err := r.desk.app.RemovePhoto(r.ctx(), r.id(), on, athlete.Pose(typed.Get("pose"))); err != nil {
		return err
	}
	return r.done("/photos", "photo-removed")
}

// showPicture gives the picture itself; like every page it is not to be stored on
// the way.
func showPicture(r *request) error {
	on, err := civil.Parse(r.PathValue("date"))
	if err != nil {
		return noPage()
	}
	jpeg, err := r.desk.app.Picture(r.ctx(), r.id(), on, athlete.Pose(r.PathValue("pose")))
	if err != nil {
		return err
	}
	r.w.Header().Set("Content-Type", "image/jpeg")
	_, _ = r.w.Write(jpeg) // the reader may have gone
	return nil
}
