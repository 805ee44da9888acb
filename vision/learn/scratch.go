package main

import "gonum.org/v1/gonum/blas/blas32"

// A scratch lends matrices that are all given back at once, so that learning
// keeps to the same memory.
type scratch struct {
	lent [][]float32
	next int
}

// matrix lends a matrix of zeros.
func (m *scratch) matrix(rows, columns int) blas32.General {
	out := m.unset(rows, columns)
	clear(out.Data)
	return out
}

// unset lends a matrix to be filled, with whatever was in it.
func (m *scratch) unset(rows, columns int) blas32.General {
	n := rows * columns
	if m.next == len(m.lent) {
		m.lent = append(m.lent, nil)
	}
	if cap(m.lent[m.next]) < n {
		m.lent[m.next] = make([]float32, n)
	}
	data := m.lent[m.next][:n]
	m.next++
	return blas32.General{Rows: rows, Cols: columns, Stride: columns, Data: data}
}

// giveBack takes all matrices back.
func (m *scratch) giveBack() { m.next = 0 }
