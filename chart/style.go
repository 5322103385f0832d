package chart

import _ "embed"

//go:embed style.css
var style string

// Style is the style sheet that every drawing needs: the custom properties of
// the palette, for light, dark and print, and the classes of the marks. Series
// colours are from Okabe and Ito's palette (Wong 2011, Nature Methods 8:441).
func Style() string { return style }
