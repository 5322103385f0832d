package chart

import "unicode/utf8"

// Advance widths of Source Sans 3 for U+0020 to U+007E, in thousandths of the
// type size, as Chromium 156 measures them from the font in package report. The
// digits all have one width.
var advanceRegular = [...]int16{
	200, 289, 426, 497, 497, 824, 609, 249, 303, 303, 418, 497, 249, 311, 249, 350,
	497, 497, 497, 497, 497, 497, 497, 497, 497, 497, 249, 249, 497, 497, 497, 425,
	847, 543, 588, 571, 615, 527, 494, 617, 652, 263, 479, 579, 486, 727, 647, 664,
	566, 664, 569, 534, 536, 645, 515, 786, 513, 476, 539, 303, 350, 303, 497, 500,
	542, 504, 553, 456, 555, 496, 292, 504, 544, 246, 247, 495, 255, 829, 547, 542,
	555, 555, 347, 419, 338, 544, 467, 719, 446, 467, 425, 303, 241, 303, 497,
}

// semibold is how much wider the titles' weight runs: the mean over the letters.
const semibold = 1.04

// textWidth estimates the width of a line of text at a type size. Letters
// beyond ASCII count as wide ones, so that the estimate errs to the safe side.
func textWidth(s string, size float64, bold bool) float64 {
	sum := 0
	for _, r := range s {
		switch {
		case r >= ' ' && r <= '~':
			sum += int(advanceRegular[r-' '])
		case r == '\u00a0':
			sum += int(advanceRegular[0])
		default:
			sum += 600
		}
	}
	w := float64(sum) * size / 1000
	if bold {
		w *= semibold
	}
	return w
}

// fitText shortens a line with an ellipsis to a width; "" where not even two
// letters fit.
func fitText(s string, width float64, bold bool) string {
	if textWidth(s, typeSize, bold) <= width {
		return s
	}
	for len(s) > 0 {
		_, n := utf8.DecodeLastRuneInString(s)
		s = s[:len(s)-n]
		if utf8.RuneCountInString(s) < 2 {
			return ""
		}
		if textWidth(s+"…", typeSize, bold) <= width {
			return s + "…"
		}
	}
	return ""
}
