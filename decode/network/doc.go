// Package network knows what resistors do in a circuit. It reads no files and
// knows nothing of where parts are kept: whoever calls it hands over the parts
// there are.
//
//	SpreadOf       what a marked value may really be, and a meter reading of it
//	MayStandIn     whether one part may stand in for another; RankStandIns and
//	               SeriesChoices look for one
//	Combine        parts that join in series and parallel to a value
//	Divide         pairs that divide a voltage
//	PowerOf        what a resistor bears, and the rating it needs; Solve for
//	               Ohm's law alone
//	PlanProject    where the parts of a project's list come from; ParseList
//	               reads the list
//
// Resistances and percentages as marked are exact decimals (Value). What is
// worked out of several parts is float64, good to about twelve figures, which
// is far beyond any part. Questions and answers are plain structs with names
// for JSON; an answer can always be written as JSON. Amounts of parts that are
// handed over must be finite.
//
// Nothing here makes a circuit safe. The conditions and cautions that come with
// answers are for people and must be shown to them.
package network
