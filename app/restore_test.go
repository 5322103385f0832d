package app_test

import (
	"bytes"
	"context"
	"image/jpeg"
	"strings"
	"testing"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
	"glidepath/photo/phototest"
)

// Whoever wrote an archive may have put a picture in that was never exported: what
// it tells besides itself does not come in by that way either.
func TestRestoreMakesPhotosAnew(t *testing.T) {
	a, asOf := demo(t)
	ctx := context.Background()
	archive := exported(t, a, "aroha-jensen", "restored")
	archive.Photos = []app.ArchivedPhoto{
		// Says that it is small, and lies on its side.
		{Photo: athlete.Photo{Date: asOf, Pose: athlete.FromFront, Width: 1, Height: 1}, JPEG: phototest.JPEG(2000, 1500, 6)},
	}
	if err := a.Restore(ctx, archive, app.Source{Name: "test"}); err != nil {
		t.Fatal(err)
	}
	kept, err := a.Photos(ctx, "restored", asOf)
	if err != nil || len(kept) != 1 || kept[0].Width != 1600 || kept[0].Height != 1200 {
		t.Fatalf("the photos are %+v (%v)", kept, err)
	}
	picture, err := a.Picture(ctx, "restored", asOf, athlete.FromFront)
	if err != nil {
		t.Fatal(err)
	}
	for _, trace := range phototest.Traces {
		if bytes.Contains(picture, []byte(trace)) {
			t.Errorf("the picture has %q in it", trace)
		}
	}
	if m, err := jpeg.Decode(bytes.NewReader(picture)); err != nil || m.Bounds().Dx() != 1600 {
		t.Errorf("the picture does not open: %v", err)
	}
}

// A file that is no picture undoes the whole, and is named.
func TestRestoreRefusesWhatIsNoPicture(t *testing.T) {
	a, asOf := demo(t)
	ctx := context.Background()
	archive := exported(t, a, "aroha-jensen", "restored")
	archive.Photos = []app.ArchivedPhoto{
		{Photo: athlete.Photo{Date: asOf.AddDays(-7), Pose: athlete.FromFront, Width: 40, Height: 30}, JPEG: phototest.JPEG(40, 30, 1)},
		{Photo: athlete.Photo{Date: asOf, Pose: athlete.FromSide, Width: 40, Height: 30}, JPEG: []byte("<script>alert(1)</script>")},
	}
	err := a.Restore(ctx, archive, app.Source{Name: "test"})
	if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), "the side photo of 2026-03-02 cannot be taken in: this file is not a JPEG or PNG picture.") {
		t.Errorf("the archive gave %v", err)
	}
	if _, err := a.Athlete(ctx, "restored"); fault.KindOf(err) != fault.NotFound {
		t.Errorf("a part of it was kept: %v", err)
	}
}

// Notes go with an athlete: out, in again, and away.
func TestNotes(t *testing.T) {
	a, asOf := demo(t)
	ctx := context.Background()
	add := func(on civil.Date, text string) *athlete.Note {
		n, err := a.AddNote(ctx, "aroha-jensen", athlete.Note{Date: on, Text: text, Who: "Wren"})
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	late, early := add(asOf, "flat on stage practice"), add(asOf.AddDays(-3), "asked about her knee")
	if late.At.IsZero() || late.Number == early.Number {
		t.Errorf("the notes are %+v and %+v", late, early)
	}
	if _, err := a.AddNote(ctx, "aroha-jensen", athlete.Note{Date: asOf, Text: strings.Repeat("x", athlete.MaxNote+1), Who: "Wren"}); fault.KindOf(err) != fault.Invalid {
		t.Errorf("a note without end gave %v", err)
	}
	archive := exported(t, a, "aroha-jensen", "restored")
	if err := a.Restore(ctx, archive, app.Source{Name: "test"}); err != nil {
		t.Fatal(err)
	}
	back, err := a.Notes(ctx, "restored", asOf)
	if err != nil || len(back) != 2 || back[0].Text != early.Text || back[1].Who != "Wren" || !back[1].At.Equal(late.At) {
		t.Errorf("the restored notes are %+v (%v)", back, err)
	}
	if err := a.RemoveNote(ctx, "restored", early.Number); fault.KindOf(err) != fault.NotFound {
		t.Errorf("another's note was removed: %v", err)
	}
	if err := a.RemoveNote(ctx, "aroha-jensen", early.Number); err != nil {
		t.Error(err)
	}
	if left, err := a.Notes(ctx, "aroha-jensen", asOf); err != nil || len(left) != 1 || left[0].Number != late.Number {
		t.Errorf("left are %+v (%v)", left, err)
	}
}

// exported is an athlete's archive under another ID, so that it can be restored
// beside them.
func exported(t *testing.T, a *app.App, id, as string) *app.Archive {
	t.Helper()
	archive, err := a.Export(context.Background(), id)
	if err != nil {
		t.Fatal(err)
	}
	archive.Athlete.ID = as
	return archive
}
