package paper

// A Block is something of a known size that can be drawn anywhere. Sizes and
// places are in millimetres, from the top left corner.
type Block struct {
	Width, Height float64
	Draw          func(x, y float64)
}

// Space is an empty block.
func Space(height float64) Block {
	return Block{Height: height, Draw: func(x, y float64) {}}
}

// Stack puts blocks below each other, with gaps.
func Stack(gap float64, blocks ...Block) Block {
	var whole Block
	for i, b := range blocks {
		if i > 0 {
			whole.Height += gap
		}
		whole.Height += b.Height
		whole.Width = max(whole.Width, b.Width)
	}
	whole.Draw = func(x, y float64) {
		for _, b := range blocks {
			b.Draw(x, y)
			y += b.Height + gap
		}
	}
	return whole
}

// Row puts blocks beside each other, tops level, with gaps.
func Row(gap float64, blocks ...Block) Block {
	var whole Block
	for i, b := range blocks {
		if i > 0 {
			whole.Width += gap
		}
		whole.Width += b.Width
		whole.Height = max(whole.Height, b.Height)
	}
	whole.Draw = func(x, y float64) {
		for _, b := range blocks {
			b.Draw(x, y)
			x += b.Width + gap
		}
	}
	return whole
}

// Rows puts blocks into rows of at most the width.
func Rows(gap, width float64, blocks ...Block) []Block {
	var rows []Block
	var row []Block
	used := 0.0
	for _, b := range blocks {
		if len(row) > 0 && used+gap+b.Width > width+1e-9 {
			rows = append(rows, Row(gap, row...))
			row, used = nil, 0
		}
		if len(row) > 0 {
			used += gap
		}
		row, used = append(row, b), used+b.Width
	}
	if len(row) > 0 {
		rows = append(rows, Row(gap, row...))
	}
	return rows
}

// Indent puts a block so far to the right.
func Indent(by float64, b Block) Block {
	return Block{b.Width + by, b.Height, func(x, y float64) { b.Draw(x+by, y) }}
}
