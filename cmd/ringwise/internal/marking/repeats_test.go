package marking

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestRepeats(t *testing.T) {
	assert.Equal(t, []Repeat{{"Bela", []int{3, 5, 9}}, {"Cora", []int{4, 8}}}, Repeats([]Learner{
		{Name: "Ada", Line: 2}, {Name: "Bela", Line: 3}, {Name: "Cora", Line: 4}, {Name: "bela", Line: 5}, {Name: "Cora", Line: 8}, {Name: "Bela", Line: 9}}))
	assert.Empty(t, Repeats([]Learner{{Name: "Ada", Line: 2}, {Name: "Bela", Line: 3}}))
}
