package sheet

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"glidepath/fault"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// encodings has the names that Options.Encoding takes.
var encodings = map[string]encoding.Encoding{
	"utf-8":        unicode.UTF8,
	"utf-16le":     unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM),
	"utf-16be":     unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM),
	"windows-1250": charmap.Windows1250,
	"windows-1251": charmap.Windows1251,
	"windows-1252": charmap.Windows1252,
	"windows-1253": charmap.Windows1253,
	"windows-1254": charmap.Windows1254,
	"iso-8859-1":   charmap.ISO8859_1,
	"iso-8859-2":   charmap.ISO8859_2,
	"iso-8859-15":  charmap.ISO8859_15,
	"macintosh":    charmap.Macintosh,
}

// Encodings lists the names that Options.Encoding takes.
func Encodings() []string {
	names := make([]string, 0, len(encodings))
	for n := range encodings {
		names = append(names, n)
	}
	slices.Sort(names)
	return names
}

var marks = []struct {
	bom  []byte
	name string
}{
	// UTF-32 before UTF-16, whose mark its own begins with.
	{[]byte{0xff, 0xfe, 0, 0}, "utf-32"},
	{[]byte{0, 0, 0xfe, 0xff}, "utf-32"},
	{[]byte{0xef, 0xbb, 0xbf}, "utf-8"},
	{[]byte{0xff, 0xfe}, "utf-16le"},
	{[]byte{0xfe, 0xff}, "utf-16be"},
}

// decode gives the text of a file, the name of its encoding and, where that is a
// guess, the reason. Without a mark, bytes that are UTF-8 are taken as UTF-8, and
// others as UTF-16 where zero bytes alternate, or else as Windows-1252.
func decode(data []byte, want string) (text, name, why string, err error) {
	name = strings.ToLower(strings.TrimSpace(want))
	if name != "" {
		if _, ok := encodings[name]; !ok {
			return "", "", "", fault.New(fault.Invalid, "the encoding %q is not known.", want).
				WithHint("Known are %s.", strings.Join(Encodings(), ", "))
		}
	}
	for _, m := range marks {
		if bytes.HasPrefix(data, m.bom) && (name == "" || name == m.name) {
			data, name = data[len(m.bom):], m.name
			break
		}
	}
	if name == "" {
		name, why = guessEncoding(data)
	}
	if name == "utf-32" {
		return "", "", "", notText("the file is in UTF-32, which is not read.")
	}
	if name == "utf-8" {
		text = string(data)
		if !utf8.ValidString(text) {
			text = strings.ToValidUTF8(text, "\ufffd")
			why = "bytes that are not UTF-8 were replaced"
		}
	} else {
		out, err := encodings[name].NewDecoder().Bytes(data)
		if err != nil {
			return "", "", "", notText(fmt.Sprintf("the file cannot be read as %s: %v.", name, err))
		}
		text = string(out)
	}
	if strings.IndexByte(text, 0) >= 0 {
		return "", "", "", notText("the file has zero bytes and is no text.")
	}
	return text, name, why, nil
}

func guessEncoding(data []byte) (name, why string) {
	sample := data[:min(len(data), 4096)]
	var zero [2]int
	for i, b := range sample {
		if b == 0 {
			zero[i%2]++
		}
	}
	half := len(sample) / 2
	switch {
	case half > 0 && zero[1] > half*6/10 && zero[0] < half/10+1:
		return "utf-16le", "every second byte is zero"
	case half > 0 && zero[0] > half*6/10 && zero[1] < half/10+1:
		return "utf-16be", "every second byte is zero"
	case utf8.Valid(data):
		return "utf-8", ""
	}
	return "windows-1252", "the bytes are not UTF-8, so it was read as Windows-1252; say the encoding if letters look wrong"
}

func notText(message string) *fault.Error {
	return fault.New(fault.Invalid, "%s", message).
		WithHint("Save the table as CSV in UTF-8, or as an Excel workbook (.xlsx).")
}
