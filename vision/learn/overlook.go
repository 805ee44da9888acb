package main

import (
	"ringwise/vision/bodies"
	"ringwise/vision/layers"

	"gonum.org/v1/gonum/blas/blas32"
)

// A view keeps what went through the network.
type view struct {
	first, last pass
	levels      []levelView
	grid        // of the cells
	said        blas32.General
}

type levelView struct {
	from, to pass
	down, up []pass
}

// overlook sends a scene through the network.
func overlook(m *scratch, n *bodies.Net, s *scene) *view {
	v := &view{}
	g := grid{window, window}
	coarser := func(l *layers.Layer, x blas32.General) (blas32.General, pass) {
		y, p := send(m, l, x, g)
		g = layer{l}.after(g)
		return y, p
	}
	var x blas32.General
	x, v.first = coarser(n.First, part(s.lab, 0, g.places(), 3))
	var kept []blas32.General
	var grids []grid
	for i := range n.Levels {
		l := &n.Levels[i]
		var lv levelView
		x, lv.from = coarser(l.From, rectified(m, x))
		lv.down = addTo(m, x, l.Down, g)
		kept, grids = append(kept, x), append(grids, g)
		v.levels = append(v.levels, lv)
	}
	for i := len(n.Levels) - 1; i >= 0; i-- {
		if next := i + 1; next < len(n.Levels) {
			y, p := send(m, n.Levels[next].To, rectified(m, x), grids[next])
			v.levels[next].to = p
			x = copied(m, kept[i])
			add(x, spread(m, y, grids[next]))
		}
		v.levels[i].up = addTo(m, x, n.Levels[i].Up, grids[i])
	}
	v.grid = grids[0]
	v.said, v.last = send(m, n.Last, rectified(m, x), v.grid)
	return v
}

// addTo adds to what is known of each place what one layer after another says of it.
func addTo(m *scratch, x blas32.General, blocks []*layers.Layer, g grid) (passes []pass) {
	for _, b := range blocks {
		y, p := send(m, b, rectified(m, x), g)
		passes = append(passes, p)
		add(x, y)
	}
	return passes
}

// backFrom is addTo backwards: it adds to the slope of what is known.
func backFrom(m *scratch, d blas32.General, passes []pass, blocks, slopes []*layers.Layer) {
	for i := len(blocks) - 1; i >= 0; i-- {
		add(d, passes[i].back(m, blocks[i], slopes[i], d))
	}
}

func copied(m *scratch, x blas32.General) blas32.General {
	out := m.unset(x.Rows, x.Cols)
	copy(out.Data, x.Data)
	return out
}

// corners calls each with every place of a grid and corner of it, and the place
// that this corner is in a grid twice as fine.
func corners(g grid, each func(from, corner, to int)) {
	for r := range g.rows {
		for c := range g.columns {
			for corner := range 4 {
				each(r*g.columns+c, corner, (2*r+corner/2)*2*g.columns+2*c+corner%2)
			}
		}
	}
}

// spread lays a quarter of each place's channels at each of its corners.
func spread(m *scratch, x blas32.General, g grid) blas32.General {
	channels := x.Cols / 4
	out := m.unset(4*x.Rows, channels)
	corners(g, func(from, corner, to int) {
		copy(out.Data[to*channels:][:channels], x.Data[from*x.Cols+corner*channels:])
	})
	return out
}

// folded is spread backwards.
func folded(m *scratch, d blas32.General, g grid) blas32.General {
	out := m.unset(d.Rows/4, 4*d.Cols)
	corners(g, func(from, corner, to int) {
		copy(out.Data[from*out.Cols+corner*d.Cols:][:d.Cols], d.Data[to*d.Cols:])
	})
	return out
}

// back adds the slopes of the weights to slope, given that of what was said.
func (v *view) back(m *scratch, n *bodies.Net, d blas32.General, slope *bodies.Net) {
	d = v.last.back(m, n.Last, slope.Last, d)
	kept := make([]blas32.General, len(n.Levels)) // the slopes of what was kept on the way down
	for i := range n.Levels {
		backFrom(m, d, v.levels[i].up, n.Levels[i].Up, slope.Levels[i].Up)
		kept[i] = d
		if i < len(n.Levels)-1 {
			to := v.levels[i+1].to
			d = to.back(m, n.Levels[i+1].To, slope.Levels[i+1].To, folded(m, d, to.grid))
		}
	}
	for i := len(n.Levels) - 1; i >= 0; i-- {
		l, lv := &n.Levels[i], &v.levels[i]
		if i < len(n.Levels)-1 {
			add(d, kept[i])
		}
		backFrom(m, d, lv.down, l.Down, slope.Levels[i].Down)
		d = lv.from.back(m, l.From, slope.Levels[i].From, d)
	}
	layer{n.First}.backward(m, d, v.first.seen, layer{slope.First}, v.first.grid)
}
