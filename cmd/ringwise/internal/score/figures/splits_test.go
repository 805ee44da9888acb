package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a reader was fitted to cannot tell how well it reads: no seed may be in
// two runs, whatever they are for.
func TestNoSeedTwice(t *testing.T) {
	of := map[uint64]string{}
	claim := func(name string, r run) {
		require.Positive(t, r.count)
		for seed := r.first; seed <= r.last(); seed++ {
			assert.Empty(t, of[seed], "seed %d is in %s too", seed, name)
			of[seed] = name
		}
	}
	for _, split := range splits {
		for _, set := range split.sets {
			for _, r := range set.runs {
				claim(split.name, r)
			}
		}
	}
	for _, r := range large.runs {
		claim(large.name, r)
	}
}

// The seeds as they were given to whoever fitted the reader.
func TestSplits(t *testing.T) {
	for _, c := range []struct {
		name  string
		first [][2]uint64 // first and last seed of each run
	}{
		{"report", [][2]uint64{{50000, 50119}, {79000, 79015}, {41000, 41059}, {44000, 44019}}},
		{"tune", [][2]uint64{{30000, 30059}, {63000, 63059}, {70001, 70100}}},
		{"fit", [][2]uint64{{2000, 2049}, {9500, 9563}, {9700, 9763}, {9800, 9861}, {30060, 30329}, {61000, 61296}, {62000, 62235}, {64000, 64309}, {66000, 67999}, {68000, 68031}, {76000, 76177}, {77000, 77047}}},
	} {
		split, err := splitNamed(c.name)
		require.NoError(t, err)
		var seeds [][2]uint64
		for _, set := range split.sets {
			for _, r := range set.runs {
				seeds = append(seeds, [2]uint64{r.first, r.last()})
			}
		}
		assert.Equal(t, c.first, seeds, c.name)
	}
	_, err := splitNamed("test")
	assert.ErrorContains(t, err, `there is no split "test": use report, tune or fit`)
}

func TestRun(t *testing.T) {
	r := run{style: "mixed", first: 50000, count: 120, size: 1}
	assert.Equal(t, "mixed, seeds 50000 to 50119", r.String())
	assert.Equal(t, "mixed-50000", r.folder())
	assert.Equal(t, r, r.fewer(0))
	assert.Equal(t, r, r.fewer(200))
	assert.Equal(t, "mixed, seeds 50000 to 50003", r.fewer(4).String())

	r = run{style: "negatives", first: 41000, count: 60, objects: 300, size: 2.5}
	assert.Equal(t, "negatives, seeds from 41000 on until 300 things are shown", r.String())
	assert.Equal(t, "negatives-41000-times-2.5", r.folder())
}
