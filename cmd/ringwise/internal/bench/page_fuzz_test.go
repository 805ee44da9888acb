package bench

import (
	"context"
	"encoding/json"
	"net"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
)

// questions are the places that take JSON, with a question that each of them takes.
var questions = []struct{ path, body string }{
	{"/undo", `{"undo":1}`},
	{"/photos/1/1", `{"version":0,"do":"confirm"}`},
	{"/photos/1/2", `{"version":0,"do":"colour","ring":1,"colour":"violet"}`},
	{"/photos/1/3", `{"version":0,"do":"move","ring":2,"by":0.04}`},
	{"/photos/1/4", `{"version":0,"do":"meter","meter":"1.01k","inCircuit":true}`},
	{"/photos/1/5", `{"version":0,"do":"facts","facts":{"kind":"metal film","kindBasis":"said","size":"0207","sizeBasis":"estimated","rating":"1/4 W","ratingBasis":"said","count":3,"note":"from the green set"}}`},
	{"/photos/1/light", `{"white":[0.5,0.25]}`},
	{"/photos/1/light", `{"same":true}`},
	{"/by-hand", `{"value":"5K6","tolerance":"J","facts":{"count":2},"photo":1,"part":5,"version":0}`},
	{"/bins/1", `{"do":"take","step":1,"count":1,"facts":{}}`},
	{"/use/spread", `{"of":{"entry":1,"step":1},"low":"-10","high":"70","tempco":"100","measured":"5.58k","inCircuit":false}`},
	{"/use/stand-in", `{"of":{"photo":1,"part":2,"version":0},"value":"47k","tolerance":"5","power":"1/4","voltage":"100 V","kind":"ordinary"}`},
	{"/use/power", `{"of":{"entry":1},"at":"12 V","ambient":"40","margin":"2","rated":"1/2"}`},
	{"/find/combine", `{"choice":{"from":"E6","least":"1k","most":"10k","tolerance":"5","power":"1/4"},"target":"5.23k","tolerance":"5","parts":2,"at":"12 V"}`},
	{"/find/divider", `{"choice":{"from":"E6","least":"1k","most":"10k"},"in":"12 V","out":"3.3 V","load":"10k","source":"50","current":"5 mA"}`},
	{"/find/project", `{"list":"reference,value\nR1,5k6\n"}`},
	{"/find/take", `{"takes":[{"entry":1,"step":1,"count":1}]}`},
	{"/join", `{"secret":"guess"}`},
	{"/sheets", `{"from":"stock","kinds":["value"],"level":1,"count":"0","variants":"1","paper":"A4","seed":"7"}`},
}

// FuzzPage sends any text to every place of the bench that takes JSON, as the
// page itself would. It is answered with JSON and a code that says whose fault it
// is, in good time; and nothing comes into the stock or leaves it but by one of
// the questions that are for that.
func FuzzPage(f *testing.F) {
	ctx := context.Background()
	store, err := stock.Open(ctx, filepath.Join(f.TempDir(), "stock.db"))
	require.NoError(f, err)
	defer store.Close()
	_, err = store.Confirm(ctx, stock.Part{Key: "kept", Count: 3, Origin: stock.ByHand, Reading: decode.Reading{Ohms: decimal.New(5600, 0)}})
	require.NoError(f, err)
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(f, err)
	defer listener.Close()
	s, err := New(store, listener, Options{})
	require.NoError(f, err)
	s.port = "7350"
	handler, drawn := s.handler(), drawnPhoto(f, "tin.jpg")

	for i, q := range questions {
		f.Add(uint8(i), q.body)
	}
	f.Add(uint8(0), `{"undo":1}{"undo":2}`)
	f.Add(uint8(3), `{"version":0,"do":"move","by":1e308}`)
	f.Add(uint8(6), `{"white":[1e300,-1e300]}`)
	codes := []int{200, 400, 403, 404, 409, 422, 429}
	f.Fuzz(func(t *testing.T, which uint8, body string) {
		q := questions[int(which)%len(questions)]
		again := *drawn
		again.parts = nil
		for _, p := range drawn.parts {
			p := *p
			again.parts = append(again.parts, &p)
		}
		s.tray.photos, s.tray.done, s.tray.confirmed, s.tray.lastID, s.tray.lastDeed = nil, nil, nil, 0, 0
		require.NoError(t, s.tray.add(&again))
		s.door, s.made = newDoor(), newMade()
		before, err := store.Revision(ctx)
		require.NoError(t, err)

		limited, stop := context.WithTimeout(ctx, 200*time.Millisecond)
		defer stop()
		got := httptest.NewRecorder()
		handler.ServeHTTP(got, own(http.MethodPost, q.path, body).WithContext(limited))
		require.Contains(t, codes, got.Code, got.Body)
		require.True(t, json.Valid(got.Body.Bytes()), got.Body)
		if got.Code != 200 {
			var told struct{ Error string }
			require.NoError(t, json.Unmarshal(got.Body.Bytes(), &told))
			require.NotEmpty(t, told.Error)
			require.NotContains(t, told.Error, "\n")
		}
		require.NotEmpty(t, encode("bench", s.tray.view()), "what lies on the bench can be told")

		after, err := store.Revision(ctx)
		require.NoError(t, err)
		if after == before {
			return
		}
		require.Equal(t, 200, got.Code, "refused, and done all the same: %s", got.Body)
		var asked struct{ Do string }
		require.NoError(t, json.Unmarshal([]byte(body), &asked))
		keeps := slices.Contains([]string{"/by-hand", "/bins/1", "/find/take"}, q.path) || asked.Do == "confirm"
		require.True(t, keeps, "%s %q changed the stock", q.path, body)
		require.NoError(t, undoAll(ctx, store))
	})
}

// undoAll takes back all but the first step.
func undoAll(ctx context.Context, store *stock.Store) error {
	for {
		steps, err := store.Steps(ctx, 20)
		if err != nil {
			return err
		}
		steps = slices.DeleteFunc(steps, func(s stock.Step) bool { return s.Undone })
		if len(steps) < 2 {
			return nil
		}
		if _, err := store.UndoStep(ctx, steps[0].ID); err != nil {
			return err
		}
	}
}
