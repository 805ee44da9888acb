package stock

import (
	"slices"

	"ringwise/decode/network"
)

// Cautions are what the reading and the kind of a part warn of.
func (p Part) Cautions() []string {
	list := slices.Clone(p.Reading.Cautions)
	if caution := p.Kind.Caution(); caution != "" && !slices.Contains(list, caution) {
		list = append(list, caution)
	}
	return list
}

// CautionsBeforeUse are what to say where a part goes into a circuit: those of
// Cautions, and those of any work on a circuit: heat, mains, stored charge,
// parts that are replaced only with their like.
func (p Part) CautionsBeforeUse() []string {
	list := append(p.Cautions(), network.CautionHeat, network.CautionMains, network.CautionCharge)
	if !slices.Contains(list, network.CautionSpecial) {
		list = append(list, network.CautionSpecial)
	}
	return list
}
