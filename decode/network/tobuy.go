package network

import "fmt"

// heatToBuy is the power in watts that what is to be bought has to bear by the
// voltage of its place, 0 if that is unknown.
func (line PlanLine) heatToBuy() float64 {
	if line.Buy != nil {
		return line.Need.heatIn(line.Buy.Nearest)
	}
	return line.Need.heatIn(line.Need.Value)
}

// wattsToBuy is the rating that what is to be bought needs: the one asked for or the
// one that its voltage calls for with the usual margin, whichever is more. 0 if
// neither is known.
func (line PlanLine) wattsToBuy() float64 {
	if usual := UsualMargin * line.heatToBuy(); tooLittle(line.Need.RatedWatts, usual) {
		return roundUp(usual)
	}
	return line.Need.RatedWatts
}

// RatingToBuy says in words how what is to be bought for what is missing has to be
// rated, naming the rating asked for too where the voltage calls for more, and the
// voltage itself where the smallest bodies do not bear it; "" if nothing is known of
// any.
func (line PlanLine) RatingToBuy() string {
	text := line.powerToBuy()
	if asksForLimit(line.Need.Volts) && text != "" {
		text += fmt.Sprintf(", bearing %s (limiting element voltage)", FormatQuantity(line.Need.Volts, Volt))
	}
	return text
}

// powerToBuy says in words which power rating what is to be bought has to have; "" if
// that is unknown.
func (line PlanLine) powerToBuy() string {
	asked := line.Need.RatedWatts
	switch heat := line.heatToBuy(); {
	case !tooLittle(asked, UsualMargin*heat) && asked == 0:
		return ""
	case !tooLittle(asked, UsualMargin*heat):
		return "rated " + FormatRating(asked)
	case asked == 0:
		return fmt.Sprintf("rated %s or more (%s)", FormatRating(line.BuyWatts), heatText(heat, line.Need.Volts))
	default:
		return fmt.Sprintf("rated %s or more (%s; the %s asked for are too little)", FormatRating(line.BuyWatts), heatText(heat, line.Need.Volts), FormatRating(asked))
	}
}
