package network

// A shape is a way to join parts. The last two parts, c and d, of all shapes
// but that of a single part are a pair in series or in parallel, taken from a
// list of all such pairs; a and b, where the shape has them, stand before.
//
// These are all series-parallel circuits of one to four parts: 1, 2, 4 and 10
// (J. Riordan and C. E. Shannon, The number of two-terminal series-parallel
// networks, 1942, from memory). A circuit of fewer than five parts that is
// not series-parallel does not exist: a bridge has five.
type shape struct {
	parts int
	pair  Join
	// resistance is that of the whole with the pair's x. It rises with x.
	resistance func(a, b, x float64) float64
	// ordered reports whether the parts, by the rank of their values, stand
	// in the one order of all that make the same circuit. nil: always.
	ordered func(a, b, c, d int) bool
	build   func(p []Circuit) Circuit
}

func side(a, b float64) float64 { return a * b / (a + b) }

var shapes = []shape{
	// Two parts.
	{2, Series, func(_, _, x float64) float64 { return x }, nil,
		func(p []Circuit) Circuit { return InSeries(p...) }},
	{2, Parallel, func(_, _, x float64) float64 { return x }, nil,
		func(p []Circuit) Circuit { return InParallel(p...) }},

	// Three parts.
	{3, Series, func(a, _, x float64) float64 { return a + x },
		func(a, _, c, _ int) bool { return a <= c },
		func(p []Circuit) Circuit { return InSeries(p...) }},
	{3, Parallel, func(a, _, x float64) float64 { return side(a, x) },
		func(a, _, c, _ int) bool { return a <= c },
		func(p []Circuit) Circuit { return InParallel(p...) }},
	{3, Parallel, func(a, _, x float64) float64 { return a + x }, nil,
		func(p []Circuit) Circuit { return InSeries(p[0], InParallel(p[1], p[2])) }},
	{3, Series, func(a, _, x float64) float64 { return side(a, x) }, nil,
		func(p []Circuit) Circuit { return InParallel(p[0], InSeries(p[1], p[2])) }},

	// Four parts, in series at the outside.
	{4, Series, func(a, b, x float64) float64 { return a + b + x },
		func(a, b, c, _ int) bool { return a <= b && b <= c },
		func(p []Circuit) Circuit { return InSeries(p...) }},
	{4, Parallel, func(a, b, x float64) float64 { return a + b + x },
		func(a, b, _, _ int) bool { return a <= b },
		func(p []Circuit) Circuit { return InSeries(p[0], p[1], InParallel(p[2], p[3])) }},
	{4, Parallel, func(a, b, x float64) float64 { return side(a, b) + x },
		func(a, b, c, d int) bool { return a <= b && (a < c || a == c && b <= d) },
		func(p []Circuit) Circuit { return InSeries(InParallel(p[0], p[1]), InParallel(p[2], p[3])) }},
	{4, Parallel, func(a, b, x float64) float64 { return a + side(b, x) },
		func(_, b, c, _ int) bool { return b <= c },
		func(p []Circuit) Circuit { return InSeries(p[0], InParallel(p[1], p[2], p[3])) }},
	{4, Series, func(a, b, x float64) float64 { return a + side(b, x) }, nil,
		func(p []Circuit) Circuit { return InSeries(p[0], InParallel(p[1], InSeries(p[2], p[3]))) }},

	// Four parts, in parallel at the outside.
	{4, Parallel, func(a, b, x float64) float64 { return side(side(a, b), x) },
		func(a, b, c, _ int) bool { return a <= b && b <= c },
		func(p []Circuit) Circuit { return InParallel(p...) }},
	{4, Series, func(a, b, x float64) float64 { return side(side(a, b), x) },
		func(a, b, _, _ int) bool { return a <= b },
		func(p []Circuit) Circuit { return InParallel(p[0], p[1], InSeries(p[2], p[3])) }},
	{4, Series, func(a, b, x float64) float64 { return side(a+b, x) },
		func(a, b, c, d int) bool { return a <= b && (a < c || a == c && b <= d) },
		func(p []Circuit) Circuit { return InParallel(InSeries(p[0], p[1]), InSeries(p[2], p[3])) }},
	{4, Series, func(a, b, x float64) float64 { return side(a, b+x) },
		func(_, b, c, _ int) bool { return b <= c },
		func(p []Circuit) Circuit { return InParallel(p[0], InSeries(p[1], p[2], p[3])) }},
	{4, Parallel, func(a, b, x float64) float64 { return side(a, b+x) }, nil,
		func(p []Circuit) Circuit { return InParallel(p[0], InSeries(p[1], InParallel(p[2], p[3]))) }},
}
