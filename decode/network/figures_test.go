package network_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ringwise/decode/network"
)

// Rounding must not hide that a bound is passed.
func TestFormatOffFrom(t *testing.T) {
	for _, tt := range []struct {
		percent, bound float64
		want           string
	}{
		{9.996, 10, "10 % too high"},
		{10, 10, "10 % too high"},
		{10.04, 10, "10.04 % too high"},
		{-10.04, 10, "10.04 % too low"},
		{-10.00002, 10, "10.00002 % too low"},
		{10.06, 10, "10.1 % too high"},
		{12.34, 10, "12.3 % too high"},
		{0.0000001, 0, "0.0000001 % too high"},
		{0, 0, "exact"},
	} {
		assert.Equal(t, tt.want, network.FormatOffFrom(tt.percent, tt.bound))
	}
}
