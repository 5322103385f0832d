// Package phototest makes pictures as a phone does, for tests.
package phototest

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
)

// Traces are what a picture of JPEG tells besides itself: camera, place, comment,
// and what some phones put behind the end. All of it is invented.
var Traces = []string{"Invented Camera 7", ";\x00\x00\x00\x01\x00\x00\x00\x14\x00\x00\x00", "taken at home", "xmp-place-59.33", "trailing video"}

// JPEG is a picture that is w by h when it is upright, red at the top left and
// green at the top right, stored the way the orientation (1 to 8, Exif 2.32 tag
// 274) says.
func JPEG(w, h, orientation int) []byte {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, stored(w, h, orientation), &jpeg.Options{Quality: 90}); err != nil {
		panic(err) // a buffer takes everything
	}
	plain := b.Bytes()
	out := append([]byte{}, plain[:2]...)
	out = append(out, segment(0xe1, append([]byte("Exif\x00\x00"), tiff(orientation)...))...)
	out = append(out, segment(0xe1, []byte("http://ns.adobe.com/xap/1.0/\x00"+Traces[3]))...)
	out = append(out, segment(0xfe, []byte(Traces[2]))...)
	out = append(out, plain[2:]...)
	return append(out, Traces[4]...)
}

func segment(marker byte, data []byte) []byte {
	return append(binary.BigEndian.AppendUint16([]byte{0xff, marker}, uint16(len(data)+2)), data...)
}

// stored turns the upright picture to how it lies in the file.
func stored(w, h, orientation int) image.Image {
	sw, sh := w, h
	if orientation >= 5 {
		sw, sh = h, w
	}
	m := image.NewRGBA(image.Rect(0, 0, sw, sh))
	for y := range sh {
		for x := range sw {
			m.Set(x, y, upright(x, y, w, h, orientation))
		}
	}
	return m
}

// upright is the colour that a stored pixel has in the upright picture.
func upright(x, y, w, h, orientation int) color.Color {
	u, v := x, y
	switch orientation {
	case 2:
		u = w - 1 - x
	case 3:
		u, v = w-1-x, h-1-y
	case 4:
		v = h - 1 - y
	case 5:
		u, v = y, x
	case 6:
		u, v = w-1-y, x
	case 7:
		u, v = w-1-y, h-1-x
	case 8:
		u, v = y, h-1-x
	}
	switch {
	case v < h/2 && u < w/2:
		return color.RGBA{230, 20, 20, 255}
	case v < h/2:
		return color.RGBA{20, 160, 20, 255}
	case u < w/2:
		return color.RGBA{40, 40, 200, 255}
	}
	return color.RGBA{240, 240, 240, 255}
}

// tiff is an Exif block with camera, orientation and place.
func tiff(orientation int) []byte {
	le := binary.LittleEndian
	out := append([]byte("II"), 42, 0, 8, 0, 0, 0)
	entry := func(tag, kind uint16, count, value uint32) {
		out = le.AppendUint16(le.AppendUint16(out, tag), kind)
		out = le.AppendUint32(le.AppendUint32(out, count), value)
	}
	const camera, gps = 8 + 2 + 3*12 + 4, 8 + 2 + 3*12 + 4 + 20
	out = le.AppendUint16(out, 3)
	entry(0x010f, 2, uint32(len(Traces[0])+1), camera)
	entry(0x0112, 3, 1, uint32(orientation))
	entry(0x8825, 4, 1, gps)
	out = le.AppendUint32(out, 0)
	out = append(out, append([]byte(Traces[0]), make([]byte, 20-len(Traces[0]))...)...)
	const latitude = gps + 2 + 2*12 + 4
	out = le.AppendUint16(out, 2)
	entry(1, 2, 2, 'N')
	entry(2, 5, 3, latitude)
	out = le.AppendUint32(out, 0)
	for _, v := range []uint32{59, 1, 20, 1, 5, 1} { // 59 degrees 20 minutes 5 seconds
		out = le.AppendUint32(out, v)
	}
	return out
}
