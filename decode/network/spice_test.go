package network_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode/network"
	"ringwise/decode/series"
)

// simulate has ngspice, a general-purpose circuit simulator, work out the
// direct-current operating point of a netlist and returns the quantities asked
// for, by name. It skips the test where ngspice is not installed; cmd/setup
// installs it for testdata/check.
func simulate(t *testing.T, netlist []string, quantities []string) map[string]float64 {
	t.Helper()
	program, err := exec.LookPath("ngspice")
	if err != nil {
		t.Skip("ngspice is not installed")
	}
	var b strings.Builder
	b.WriteString("* resistors\n" + strings.Join(netlist, "\n") + "\n.control\nset numdgt=14\nop\n")
	for _, q := range quantities {
		fmt.Fprintf(&b, "print %s\n", q)
	}
	b.WriteString("quit\n.endc\n.end\n")
	path := filepath.Join(t.TempDir(), "resistors.cir")
	require.NoError(t, os.WriteFile(path, []byte(b.String()), 0o600))
	out, err := exec.Command(program, "-b", path).CombinedOutput()
	require.NoError(t, err, "%s", out)
	found := map[string]float64{}
	for _, m := range regexp.MustCompile(`(?m)^(\S+) = (\S+)$`).FindAllStringSubmatch(string(out), -1) {
		number, err := strconv.ParseFloat(m[2], 64)
		require.NoError(t, err)
		found[m[1]] = number
	}
	for _, q := range quantities {
		require.Contains(t, found, q, "%s", out)
	}
	return found
}

// netlist writes a circuit between two nodes, each part named by its place
// in Parts.
func netlist(c network.Circuit, name, from, to string) []string {
	var lines []string
	parts, nodes := 0, 0
	var write func(c network.Circuit, from, to string)
	write = func(c network.Circuit, from, to string) {
		switch c.Join {
		case network.Series:
			at := from
			for i, b := range c.Branches {
				next := to
				if i < len(c.Branches)-1 {
					nodes++
					next = fmt.Sprintf("%sn%d", name, nodes)
				}
				write(b, at, next)
				at = next
			}
		case network.Parallel:
			for _, b := range c.Branches {
				write(b, from, to)
			}
		default:
			lines = append(lines, fmt.Sprintf("R%sp%d %s %s %s", name, parts, from, to, c.Part.Value.Ohms))
			parts++
		}
	}
	write(c, from, to)
	return lines
}

// Circuits of every shape, against a circuit simulator: the current from the
// source and the power in every part.
func TestCircuitsAgainstSimulator(t *testing.T) {
	dice := rand.New(rand.NewPCG(5, 60063))
	stock := ofSeries(t, series.E24, "10", "910k")
	var lines, asked []string
	var circuits []network.Circuit
	for range 6 {
		target := network.About(30 * float64(1+dice.IntN(900)) * 1.0137)
		found := combine(t, network.CombineQuestion{Target: target, MostParts: 4, Best: 10}, stock)
		for _, group := range found.Counts {
			for _, c := range group.Best {
				name := fmt.Sprintf("c%d", len(circuits))
				circuits = append(circuits, c.Circuit)
				lines = append(lines, fmt.Sprintf("V%s %sin 0 DC 12", name, name))
				lines = append(lines, netlist(c.Circuit, name, name+"in", "0")...)
				asked = append(asked, fmt.Sprintf("i(v%s)", name))
				for i := range c.Circuit.Parts() {
					asked = append(asked, fmt.Sprintf("@r%sp%d[p]", name, i))
				}
			}
		}
	}
	got := simulate(t, lines, asked)
	shapes := map[string]bool{}
	for i, c := range circuits {
		name := fmt.Sprintf("c%d", i)
		assert.InEpsilon(t, c.Ohms(), -12/got[fmt.Sprintf("i(v%s)", name)], 1e-6, c)
		for k, load := range c.Loads(12, 1) {
			assert.InEpsilon(t, load.Watts, got[fmt.Sprintf("@r%sp%d[p]", name, k)], 1e-6, "part %d of %s", k+1, c)
		}
		shapes[regexp.MustCompile(`[0-9.]+ (k|M)?Ω`).ReplaceAllString(c.String(), "R")] = true
	}
	assert.Greater(t, len(shapes), 10, "of the 17 shapes")
}

// Dividers with source and load, against a circuit simulator: output, currents
// and powers.
func TestDividersAgainstSimulator(t *testing.T) {
	dice := rand.New(rand.NewPCG(6, 60063))
	stock := ofSeries(t, series.E24, "100", "1M")
	var lines, asked []string
	var dividers []network.Divider
	for range 25 {
		q := network.DividerQuestion{InVolts: 1 + 40*dice.Float64(), SourceOhms: 1 + 600*dice.Float64(), LoadOhms: 1e3 + 1e5*dice.Float64(), Best: 2}
		q.OutVolts = q.InVolts * (0.05 + 0.6*dice.Float64())
		q.MostAmps = 0.02
		for _, d := range divide(t, q, stock).Best {
			name := fmt.Sprintf("d%d", len(dividers))
			dividers = append(dividers, d)
			lines = append(lines,
				fmt.Sprintf("V%s %sin 0 DC %.15g", name, name, q.InVolts), fmt.Sprintf("Rs%s %sin %sa %.15g", name, name, name, q.SourceOhms),
				fmt.Sprintf("Ru%s %sa %sout %s", name, name, name, d.Upper.Part.Value.Ohms), fmt.Sprintf("Rl%s %sout 0 %s", name, name, d.Lower.Part.Value.Ohms),
				fmt.Sprintf("Rx%s %sout 0 %.15g", name, name, q.LoadOhms))
			for _, what := range []string{"v(%sout)", "i(v%s)", "@ru%s[p]", "@rl%s[p]", "@rx%s[i]"} {
				asked = append(asked, fmt.Sprintf(what, name))
			}
		}
	}
	got := simulate(t, lines, asked)
	for i, d := range dividers {
		name := fmt.Sprintf("d%d", i)
		assert.InEpsilon(t, d.OutVolts, got["v("+name+"out)"], 1e-6)
		assert.InEpsilon(t, d.Amps, -got["i(v"+name+")"], 1e-6)
		assert.InEpsilon(t, d.Upper.Watts, got["@ru"+name+"[p]"], 1e-6)
		assert.InEpsilon(t, d.Lower.Watts, got["@rl"+name+"[p]"], 1e-6)
		assert.InEpsilon(t, d.LoadAmps, got["@rx"+name+"[i]"], 1e-6)
	}
}
