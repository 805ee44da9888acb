package stock

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

func TestUndoAndRedoEachAction(t *testing.T) {
	s := newStock(t)
	for name, do := range map[string]func() error{
		"confirm": func() error { _, err := s.Confirm(bg, fullPart(t)); return err },
		"take":    func() error { _, err := s.Take(bg, 1, 2); return err },
		"put":     func() error { _, err := s.Put(bg, 2, 2); return err },
		"remove":  func() error { return s.Remove(bg, 1) },
		"amend": func() error {
			p, err := s.Part(bg, 1)
			require.NoError(t, err)
			p.Kind, p.KindBasis = decode.KindOxide, Said
			_, err = s.Amend(bg, p)
			return err
		},
	} {
		s = newStock(t)
		confirmed(t, s, fullPart(t))
		_, err := s.Take(bg, confirmed(t, s, fromRings(t, "BN BK RD GD", 3)).ID, 2)
		require.NoError(t, err, name)
		before := export(t, s)
		require.NoError(t, do(), name)
		after := export(t, s)
		assert.NotEqual(t, before, after, name)
		step, err := s.Undo(bg)
		require.NoError(t, err, name)
		assert.True(t, step.Undone)
		assert.Equal(t, before, export(t, s), name)
		again, err := s.Redo(bg)
		require.NoError(t, err, name)
		assert.Equal(t, step.What, again.What)
		assert.Equal(t, after, export(t, s), name)
		sound(t, s.Path())
	}
}

func TestUndoEndsAtTheBeginning(t *testing.T) {
	s := newStock(t)
	_, err := s.Undo(bg)
	assert.ErrorIs(t, err, ErrNothingToUndo)
	_, err = s.Redo(bg)
	assert.ErrorIs(t, err, ErrNothingToRedo)
	id := confirmed(t, s, fromRings(t, "BN BK RD GD", 1)).ID
	_, err = s.Undo(bg)
	require.NoError(t, err)
	next := confirmed(t, s, fromRings(t, "BN BK RD GD", 1))
	assert.Greater(t, next.ID, id, "no number is given twice")
	_, err = s.Redo(bg)
	assert.ErrorIs(t, err, ErrNothingToRedo, "something was done since")
	sound(t, s.Path())
}

func TestUndoStepOnlyTheLast(t *testing.T) {
	s := newStock(t)
	first := confirmed(t, s, fromRings(t, "BN BK RD GD", 1))
	second := confirmed(t, s, fromRings(t, "RD RD RD GD", 1))
	_, err := s.UndoStep(bg, first.Step)
	assert.ErrorContains(t, err, "something else was done since: confirmed #2, 1 of 2.2 kΩ ±5 %")
	_, err = s.UndoStep(bg, second.Step)
	require.NoError(t, err)
	_, err = s.UndoStep(bg, first.Step)
	require.NoError(t, err)
	assert.Empty(t, counts(t, s))

	_, err = s.RedoStep(bg, second.Step)
	assert.ErrorContains(t, err, "something else was undone since: confirmed #1, 1 of 1 kΩ ±5 %")
	for _, step := range []int64{first.Step, second.Step} {
		_, err = s.RedoStep(bg, step)
		require.NoError(t, err)
	}
	assert.Len(t, counts(t, s), 2)
}

// Whatever is done, undoing all of it leads back through every state to the
// empty stock, and redoing all of it to the last.
func TestUndoEverything(t *testing.T) {
	rows := []string{"BN BK RD GD", "GN BU RD GD", "YE VT BK BN BN", "RD RD RD RD", "BK"}
	for seed := range uint64(8) {
		dice := rand.New(rand.NewPCG(seed, 1))
		s := newStock(t)
		states := [][]string{counts(t, s)}
		for range 25 {
			parts, err := s.Parts(bg, Filter{Empty: true})
			require.NoError(t, err)
			what := dice.IntN(6)
			if len(parts) == 0 || what < 2 {
				confirmed(t, s, fromRings(t, rows[dice.IntN(len(rows))], 1+dice.IntN(4)))
				states = append(states, counts(t, s))
				continue
			}
			p := parts[dice.IntN(len(parts))]
			switch what {
			case 2:
				_, err = s.Take(bg, p.ID, 1)
				if p.Count == 0 {
					require.Error(t, err)
					continue
				}
			case 3:
				count := 1 + dice.IntN(2)
				out, e := s.Out(bg, p)
				require.NoError(t, e)
				_, err = s.Put(bg, p.ID, count)
				if count > out {
					require.ErrorContains(t, err, "cannot be put back")
					continue
				}
			case 4:
				err = s.Remove(bg, p.ID)
			case 5:
				p.Count++
				_, err = s.Amend(bg, p)
			}
			require.NoError(t, err)
			states = append(states, counts(t, s))
		}
		for i := len(states) - 2; i >= 0; i-- {
			_, err := s.Undo(bg)
			require.NoError(t, err)
			require.Equal(t, states[i], counts(t, s), "seed %d, back to state %d", seed, i)
		}
		_, err := s.Undo(bg)
		require.ErrorIs(t, err, ErrNothingToUndo)
		for i := 1; i < len(states); i++ {
			_, err := s.Redo(bg)
			require.NoError(t, err)
			require.Equal(t, states[i], counts(t, s), "seed %d, on to state %d", seed, i)
		}
		sound(t, s.Path())
	}
}
