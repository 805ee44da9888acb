package spreadsheet

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestGuard(t *testing.T) {
	for _, c := range []struct{ text, cell string }{
		{"=1.jpg", "'=1.jpg"},
		{"+1.jpg", "'+1.jpg"},
		{"-1.jpg", "'-1.jpg"},
		{"@tin.jpg", "'@tin.jpg"},
		{"'tin'.jpg", "''tin'.jpg"},
		{"'", "''"},
		{"tin=1.jpg", "tin=1.jpg"},
		{"Ωtin.jpg", "Ωtin.jpg"},
		{"", ""},
	} {
		assert.Equal(t, c.cell, Guard(c.text))
		assert.Equal(t, c.text, Unguard(c.cell))
	}
}
