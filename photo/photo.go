// Package photo makes a picture from a phone fit to be kept: small enough, upright,
// and without anything that the file told besides the picture.
package photo

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"slices"

	"github.com/kovidgoyal/imaging"

	"glidepath/fault"
)

// Bounds of what is taken in.
const (
	MaxBytes = 12 << 20
	// maxPixels keeps a small file that says it is huge from filling the memory: it
	// is looked at before anything is decoded. Phones make up to 50 megapixels.
	maxPixels    = 51_000_000
	maxPixelsPNG = 20_000_000 // a screenshot; PNG takes more memory a pixel
	quality      = 85
)

// Kept is a picture as it is kept: a baseline JPEG in sRGB with no metadata.
type Kept struct {
	JPEG          []byte
	Width, Height int // pixels
}

// Keep reads a JPEG or PNG file, turns it upright, makes its longest side at most
// longest pixels (a smaller picture stays as it is), and encodes it anew, so that
// place, time and camera are not in it. Another kind of file, or one too large, is
// a fault of kind Invalid.
func Keep(file []byte, longest int) (*Kept, error) {
	if len(file) > MaxBytes {
		return nil, invalid("the photo is larger than %d MB.", MaxBytes>>20).WithHint("Send a smaller one.")
	}
	if err := look(file); err != nil {
		return nil, err
	}
	picture, err := decode(file, longest)
	if err != nil {
		return nil, unreadable()
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, picture, &jpeg.Options{Quality: quality}); err != nil {
		return nil, err
	}
	size := picture.Bounds().Size()
	return &Kept{b.Bytes(), size.X, size.Y}, nil
}

// decode takes a picture whose description of itself is broken without it. What
// the decoders make of a hostile file is an error, a panic of theirs too.
func decode(file []byte, longest int) (picture image.Image, err error) {
	defer func() {
		if v := recover(); v != nil {
			err = fmt.Errorf("photo: decoding panicked: %v", v)
		}
	}()
	smaller := func(w, h int) (int, int) {
		most := max(w, h)
		if most <= longest {
			return w, h
		}
		return max(1, w*longest/most), max(1, h*longest/most)
	}
	if bytes.HasPrefix(file, pngSignature) {
		return decodePNG(file, smaller)
	}
	options := []imaging.DecodeOption{
		imaging.Backends(imaging.GO_IMAGE), // no other program
		imaging.Background(color.White), imaging.ResizeCallback(smaller),
	}
	picture, err = imaging.Decode(bytes.NewReader(file), options...)
	if err != nil {
		options = append(options, imaging.AutoOrientation(false), imaging.ColorSpace(imaging.NO_CHANGE_OF_COLORSPACE))
		picture, err = imaging.Decode(bytes.NewReader(file), options...)
	}
	return picture, err
}

// decodePNG reads the picture alone, with the standard library: a profile of its
// own in a PNG is compressed, and may be huge when it is not; and a PNG can have
// thousands of frames. The picture is laid on white.
func decodePNG(file []byte, smaller func(w, h int) (int, int)) (image.Image, error) {
	m, err := png.Decode(bytes.NewReader(file))
	if err != nil {
		return nil, err
	}
	w, h := smaller(m.Bounds().Dx(), m.Bounds().Dy())
	m = imaging.Resize(m, w, h, imaging.Lanczos)
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(out, out.Bounds(), image.White, image.Point{}, draw.Src)
	draw.Draw(out, out.Bounds(), m, m.Bounds().Min, draw.Over)
	return out, nil
}

var pngSignature = []byte("\x89PNG\r\n\x1a\n")

// look checks the kind of file and its size in pixels before it is decoded.
func look(file []byte) error {
	var c image.Config
	var err error
	most := maxPixels
	switch {
	case bytes.HasPrefix(file, []byte("\xff\xd8\xff")):
		c, err = jpeg.DecodeConfig(bytes.NewReader(file))
	case bytes.HasPrefix(file, pngSignature):
		c, err = png.DecodeConfig(bytes.NewReader(file))
		most = maxPixelsPNG
	case isHEIC(file):
		return invalid("this photo is a HEIC file, which cannot be read here.").
			WithHint("Choose JPEG in the camera’s settings (often called “most compatible”), or send a screenshot of the photo.")
	default:
		return invalid("this file is not a JPEG or PNG picture.").WithHint("Send a photo as the camera makes it.")
	}
	if err != nil {
		return unreadable()
	}
	if c.Width < 1 || c.Height < 1 || c.Width > most/c.Height {
		return invalid("the photo has %d by %d pixels, more than can be taken in.", c.Width, c.Height).
			WithHint("Send one of at most %d megapixels.", most/1_000_000)
	}
	return nil
}

// isHEIC knows the brands of HEIF files (ISO/IEC 23008-12, annex B).
func isHEIC(file []byte) bool {
	if len(file) < 12 || string(file[4:8]) != "ftyp" {
		return false
	}
	return slices.Contains([]string{"heic", "heix", "hevc", "hevx", "heim", "heis", "mif1", "msf1", "avif"}, string(file[8:12]))
}

func unreadable() *fault.Error {
	return invalid("this picture is damaged, or cut short on the way.").WithHint("Send it again.")
}

func invalid(format string, args ...any) *fault.Error {
	return fault.New(fault.Invalid, format, args...).WithField("photo")
}
