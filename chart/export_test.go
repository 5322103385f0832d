package chart

// For the tests of the layout.
var (
	TextWidth = textWidth
	Spread    = spread
	Ticks     = ticks
	WeekMeans = weekMeans
)

const TypeSize = typeSize
