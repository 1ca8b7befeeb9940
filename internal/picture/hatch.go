package picture

// hatch is how an area is filled: a ground, and strokes on it that come again
// every w across and h down, counted from the drawing's corner. The strokes
// carry what the colors say, for those who print in black and white.
type hatch struct {
	name   string
	ground ink
	marks  ink
	w, h   float64
	lines  []hatchLine
	dots   []hatchDot
}

type hatchLine struct {
	from, to point
	weight   float64
}

// hatchDot is a round spot; weight 0 is a full one, else it is a ring.
type hatchDot struct {
	at        point
	r, weight float64
}

// patterned: it has strokes, and is not just a ground.
func (h *hatch) patterned() bool { return h != nil && h.w > 0 }

// plain is a ground without strokes.
func plain(c ink) *hatch { return &hatch{ground: c} }

// rising is one stroke from the left lower to the right upper corner of a
// tile, with the ends of its neighbors, so that tiles join.
func rising(w, h, weight float64) []hatchLine {
	return []hatchLine{
		{point{-w / 4, h / 4}, point{w / 4, -h / 4}, weight},
		{point{-w / 4, h + h/4}, point{w + w/4, -h / 4}, weight},
		{point{w - w/4, h + h/4}, point{w + w/4, h - h/4}, weight},
	}
}

// falling is rising seen in a mirror.
func falling(w, h, weight float64) []hatchLine {
	out := rising(w, h, weight)
	for i, l := range out {
		out[i] = hatchLine{point{w - l.from.x, l.from.y}, point{w - l.to.x, l.to.y}, weight}
	}
	return out
}

// hatches are the fills of the classes of coating. Grounds part in lightness
// where classes often lie on each other; strokes part everywhere.
var hatches = [roleCount]*hatch{
	roleMetal: {name: "metal", ground: ink{0xc4, 0xca, 0xd0}, marks: ink{0x2f, 0x37, 0x3e}, w: 7, h: 7, lines: rising(7, 7, 1.3)},
	rolePlastic: {name: "plastic", ground: ink{0xcd, 0xc6, 0xb6}, marks: ink{0x3c, 0x37, 0x2c}, w: 9, h: 9,
		lines: append(rising(9, 9, 1.1), falling(9, 9, 1.1)...)},
	roleFinish: {name: "finish", ground: ink{0xc0, 0xae, 0x94}, marks: ink{0x3f, 0x33, 0x22}, w: 12, h: 6,
		lines: []hatchLine{{point{0, 1.5}, point{7, 1.5}, 1.1}, {point{-2, 4.5}, point{1, 4.5}, 1.1}, {point{6, 4.5}, point{13, 4.5}, 1.1}}},
	rolePrimer: {name: "primer", ground: ink{0x93, 0xb0, 0x86}, marks: ink{0x1c, 0x33, 0x18}, w: 5, h: 5,
		dots: []hatchDot{{at: point{1.25, 1.25}, r: 0.8}, {at: point{3.75, 3.75}, r: 0.8}}},
	rolePromoter: {name: "promoter", ground: ink{0xf1, 0xea, 0xd6}, marks: ink{0x5a, 0x43, 0x12}, w: 9, h: 7,
		lines: []hatchLine{{point{2.5, 3.5}, point{6.5, 3.5}, 1.1}, {point{4.5, 1.5}, point{4.5, 5.5}, 1.1}}},
	roleSurfacer: {name: "surfacer", ground: ink{0xe8, 0xcd, 0x86}, marks: ink{0x5c, 0x43, 0x08}, w: 5, h: 5,
		lines: []hatchLine{{point{2.5, -1}, point{2.5, 6}, 1.1}}},
	roleFiller: {name: "filler", ground: ink{0xf3, 0xdd, 0xda}, marks: ink{0x6b, 0x2a, 0x2a}, w: 10, h: 8,
		dots: []hatchDot{{at: point{2.5, 2}, r: 1.5, weight: 0.9}, {at: point{7.5, 6}, r: 1.5, weight: 0.9}}},
	roleSeam: {name: "seam", ground: ink{0xe4, 0xdc, 0xe9}, marks: ink{0x3d, 0x2c, 0x4f}, w: 10, h: 6,
		lines: []hatchLine{{point{0, 5}, point{2.5, 1}, 1}, {point{2.5, 1}, point{5, 5}, 1}, {point{5, 5}, point{7.5, 1}, 1}, {point{7.5, 1}, point{10, 5}, 1}}},
	roleSealer: {name: "sealer", ground: ink{0xa9, 0xc1, 0xd9}, marks: ink{0x17, 0x31, 0x4c}, w: 8, h: 3.2,
		lines: []hatchLine{{point{-1, 1.6}, point{9, 1.6}, 1}}},
	roleColor: {name: "color", ground: ink{0x2c, 0x4f, 0x74}, marks: ink{0xe6, 0xee, 0xf6}, w: 7, h: 7, lines: falling(7, 7, 1)},
	roleClear: {name: "clear", ground: ink{0xf6, 0xfa, 0xfc}, marks: ink{0x5f, 0x77, 0x85}, w: 16, h: 9,
		lines: []hatchLine{{point{3, 7}, point{6, 3}, 0.9}, {point{5.5, 7}, point{8.5, 3}, 0.9}}},
	roleCoating: {name: "coating", ground: ink{0x5b, 0x56, 0x4c}, marks: ink{0xf2, 0xee, 0xe4}, w: 8, h: 8,
		dots: []hatchDot{{at: point{2, 2}, r: 1}, {at: point{6, 6}, r: 1}}},
}
