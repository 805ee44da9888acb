package main

import "fmt"

// A split is what a share of the generated scenes is for. No seed is in two
// splits: what was used to fit a reader cannot tell how well it reads.
type split struct {
	name string
	use  string
	sets []set
}

// A set is scored by itself.
type set struct {
	name string
	runs []run
}

// A run is a number of scenes whose seeds follow each other.
type run struct {
	style   string
	first   uint64 // seed
	count   int
	objects int     // the run ends once that many parts and things are shown, 0 for no limit
	size    float64 // scale of the photos' sides
}

// splits are all splits; report comes first.
var splits = []split{
	{"report", "never used to fit anything: for the figures that are told", []set{
		{"scenes", []run{{style: "mixed", first: 50000, count: 120, size: 1}}},
		{"heaps", []run{{style: "heap", first: 79000, count: 16, size: 1}}},
		{"other things", []run{{style: "negatives", first: 41000, count: 60, objects: 300, size: 1}}},
		{"without rings", []run{{style: "uncoded", first: 44000, count: 20, objects: 100, size: 1}}},
	}},
	{"tune", "used to fit how confidence follows from likelihood", []set{
		{"scenes", []run{{style: "mixed", first: 30000, count: 60, size: 1}, {style: "mixed", first: 63000, count: 60, size: 1}, {style: "mixed", first: 70001, count: 100, size: 1}}},
	}},
	{"fit", "used to teach the networks", []set{
		{"scenes", []run{
			{style: "mixed", first: 2000, count: 50, size: 1},
			{style: "mixed", first: 9500, count: 64, size: 1},
			{style: "mixed", first: 9700, count: 64, size: 1},
			{style: "mixed", first: 9800, count: 62, size: 1},
			{style: "mixed", first: 30060, count: 270, size: 1},
			{style: "mixed", first: 61000, count: 297, size: 1},
			{style: "mixed", first: 62000, count: 236, size: 1},
			{style: "mixed", first: 64000, count: 310, size: 1},
			{style: "mixed", first: 66000, count: 2000, size: 1}, // of these, some whose bodies touch
			{style: "mixed", first: 68000, count: 32, size: 1},
			{style: "mixed", first: 76000, count: 178, size: 1},
			{style: "heap", first: 77000, count: 48, size: 1},
		}},
	}},
}

// large are scenes as phones take them, of 12 megapixels and 12 parts each, to
// measure the cost of reading. They are in no split.
var large = set{"large photos", []run{
	{style: "hobby", first: 42005, count: 1, size: 2.5},
	{style: "hobby", first: 42008, count: 1, size: 2.5},
}}

// splitNamed returns the split of that name.
func splitNamed(name string) (split, error) {
	for _, s := range splits {
		if s.name == name {
			return s, nil
		}
	}
	return split{}, fmt.Errorf("there is no split %q: use report, tune or fit", name)
}

// last is the seed of the run's last scene, if no number of objects ends it.
func (r run) last() uint64 { return r.first + uint64(r.count) - 1 }

// fewer is the run with at most so many scenes, all of them for 0.
func (r run) fewer(most int) run {
	if most > 0 && r.count > most {
		r.count = most
	}
	return r
}

// String tells the seeds.
func (r run) String() string {
	if r.objects > 0 {
		return fmt.Sprintf("%s, seeds from %d on until %d things are shown", r.style, r.first, r.objects)
	}
	return fmt.Sprintf("%s, seeds %d to %d", r.style, r.first, r.last())
}
