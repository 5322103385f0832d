package photo_test

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"runtime"
	"slices"
	"strings"
	"testing"

	"glidepath/fault"
	"glidepath/photo"
	"glidepath/photo/phototest"
)

// decoded is a kept picture, read by the standard library.
func decoded(t *testing.T, k *photo.Kept) image.Image {
	t.Helper()
	m, err := jpeg.Decode(bytes.NewReader(k.JPEG))
	if err != nil {
		t.Fatal(err)
	}
	if s := m.Bounds().Size(); s.X != k.Width || s.Y != k.Height {
		t.Errorf("it says %d by %d and is %v", k.Width, k.Height, s)
	}
	return m
}

// segments are the markers of a JPEG up to its picture (ITU-T T.81, annex B).
func segments(t *testing.T, file []byte) (markers []byte) {
	t.Helper()
	for i := 2; i+4 <= len(file); {
		if file[i] != 0xff {
			t.Fatalf("no marker at %d", i)
		}
		markers = append(markers, file[i+1])
		if file[i+1] == 0xda {
			return markers
		}
		i += 2 + int(binary.BigEndian.Uint16(file[i+2:]))
	}
	t.Fatal("the picture has no scan")
	return nil
}

// What a phone writes beside the picture is gone, wherever in the file it stood.
func TestMetadataIsGone(t *testing.T) {
	file := phototest.JPEG(400, 300, 1)
	for _, trace := range phototest.Traces {
		if !bytes.Contains(file, []byte(trace)) {
			t.Fatalf("%q is not in the file before: the test proves nothing", trace)
		}
	}
	kept, err := photo.Keep(file, 1600)
	if err != nil {
		t.Fatal(err)
	}
	for _, trace := range append([]string{"Exif", "GPS", "ICC_PROFILE", "http://"}, phototest.Traces...) {
		if bytes.Contains(kept.JPEG, []byte(trace)) {
			t.Errorf("%q is still in the picture", trace)
		}
	}
	for _, m := range segments(t, kept.JPEG) {
		if m >= 0xe0 && m <= 0xef || m == 0xfe {
			t.Errorf("the picture has a segment %#x beside itself", m)
		}
	}
	if end := kept.JPEG[len(kept.JPEG)-2:]; !bytes.Equal(end, []byte{0xff, 0xd9}) {
		t.Errorf("something follows the picture: it ends in %x", end)
	}
}

// Orientation is applied: whatever way the phone was held, red is at the top left
// (the eight values of Exif 2.32, 4.6.4.A, tag 274).
func TestUpright(t *testing.T) {
	for orientation := 1; orientation <= 8; orientation++ {
		kept, err := photo.Keep(phototest.JPEG(320, 200, orientation), 1600)
		if err != nil {
			t.Fatal(err)
		}
		m := decoded(t, kept)
		if m.Bounds().Dx() != 320 || m.Bounds().Dy() != 200 {
			t.Errorf("orientation %d: %v, not 320 by 200", orientation, m.Bounds().Size())
		}
		if r, g, b, _ := m.At(20, 20).RGBA(); r>>8 < 200 || g>>8 > 60 || b>>8 > 60 {
			t.Errorf("orientation %d: the top left is %d %d %d, not red", orientation, r>>8, g>>8, b>>8)
		}
		if r, g, b, _ := m.At(300, 20).RGBA(); g>>8 < 100 || r>>8 > 60 || b>>8 > 60 {
			t.Errorf("orientation %d: the top right is %d %d %d, not green", orientation, r>>8, g>>8, b>>8)
		}
	}
}

func TestSize(t *testing.T) {
	for _, c := range []struct{ w, h, longest, wantW, wantH int }{
		{2000, 1500, 1600, 1600, 1200}, {1500, 2000, 1600, 1200, 1600}, {300, 200, 1600, 300, 200}, {4000, 2, 1600, 1600, 1},
	} {
		kept, err := photo.Keep(phototest.JPEG(c.w, c.h, 1), c.longest)
		if err != nil {
			t.Fatal(err)
		}
		if decoded(t, kept); kept.Width != c.wantW || kept.Height != c.wantH {
			t.Errorf("%d by %d became %d by %d, not %d by %d", c.w, c.h, kept.Width, kept.Height, c.wantW, c.wantH)
		}
	}
}

// A PNG is laid on white, and what it tells in its own chunks is gone.
func TestPNG(t *testing.T) {
	m := image.NewNRGBA(image.Rect(0, 0, 40, 30)) // transparent
	m.Set(0, 0, color.NRGBA{A: 255})
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	text := chunk("tEXt", []byte("Comment\x00"+phototest.Traces[0]))
	file := append(append(bytes.Clone(b.Bytes()[:33]), text...), b.Bytes()[33:]...) // after IHDR
	kept, err := photo.Keep(file, 1600)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(kept.JPEG, []byte(phototest.Traces[0])) {
		t.Error("the comment is still there")
	}
	if r, _, _, _ := decoded(t, kept).At(30, 20).RGBA(); r>>8 < 250 {
		t.Errorf("the ground is %d, not white", r>>8)
	}
}

func chunk(kind string, data []byte) []byte {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	body := append([]byte(kind), data...)
	return binary.BigEndian.AppendUint32(append(out, body...), crc32.ChecksumIEEE(body))
}

// bomb is a PNG of a few bytes that says it has w by h pixels.
func bomb(w, h uint32) []byte {
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)
	head = append(head, 8, 6, 0, 0, 0)
	return append(append([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", head)...), chunk("IDAT", nil)...)
}

// A PNG may have a colour profile that is small as long as it is compressed; it is
// never unpacked.
func TestCompressedProfile(t *testing.T) {
	const huge = 48 << 20
	var profile bytes.Buffer
	profile.WriteString("profile\x00\x00")
	z := zlib.NewWriter(&profile)
	zeros := make([]byte, 1<<20)
	for range huge / len(zeros) {
		_, _ = z.Write(zeros) // a buffer takes everything
	}
	_ = z.Close()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewNRGBA(image.Rect(0, 0, 40, 30))); err != nil {
		t.Fatal(err)
	}
	file := slices.Concat(b.Bytes()[:33], chunk("iCCP", profile.Bytes()), b.Bytes()[33:])
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	if _, err := photo.Keep(file, 1600); err != nil {
		t.Fatal(err)
	}
	if runtime.ReadMemStats(&after); after.TotalAlloc-before.TotalAlloc > huge/8 {
		t.Errorf("a picture of 40 by 30 took %d MB", (after.TotalAlloc-before.TotalAlloc)>>20)
	}
}

func TestRefused(t *testing.T) {
	whole := phototest.JPEG(400, 300, 1)
	for name, c := range map[string]struct {
		file []byte
		says string
	}{
		"HEIC":      {append([]byte("\x00\x00\x00\x18ftypheic"), make([]byte, 40)...), "HEIC"},
		"nothing":   {nil, "not a JPEG or PNG"},
		"text":      {[]byte("<svg onload=alert(1)>"), "not a JPEG or PNG"},
		"a GIF":     {[]byte("GIF89a..........."), "not a JPEG or PNG"},
		"a bomb":    {bomb(60000, 60000), "more than can be taken in"},
		"overflow":  {bomb(1<<31-1, 1<<31-1), "damaged"},
		"cut short": {whole[:len(whole)/2], "damaged"},
		"head only": {[]byte("\xff\xd8\xff\xe0"), "damaged"},
		"too large": {make([]byte, photo.MaxBytes+1), "larger than"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := photo.Keep(c.file, 1600)
			if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), c.says) {
				t.Errorf("%v", err)
			}
		})
	}
}

func FuzzKeep(f *testing.F) {
	f.Add(phototest.JPEG(16, 12, 6))
	f.Add(bomb(20, 20))
	f.Fuzz(func(t *testing.T, file []byte) {
		kept, err := photo.Keep(file, 64)
		if err != nil {
			if fault.KindOf(err) != fault.Invalid {
				t.Fatal(err)
			}
			return
		}
		decoded(t, kept)
	})
}
