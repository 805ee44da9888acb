package network

import "fmt"

// heatIn is the power in watts that the voltage of the place makes in a
// resistance (U²/R); 0 where no voltage is named, and for a link.
func (n Need) heatIn(v Value) float64 {
	if !v.Ohms.IsPositive() {
		return 0
	}
	return n.Volts * n.Volts / v.ohms()
}

// heatText says why a rating is needed: the usual margin above the heat of a voltage.
func heatText(watts, volts float64) string {
	return fmt.Sprintf("%d times the %s that %s across it make", UsualMargin, FormatQuantity(watts, Watt), FormatQuantity(volts, Volt))
}

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

// tooLittle reports whether a rating, 0 for none, is below what is needed, but for
// rounding.
func tooLittle(ratedWatts, neededWatts float64) bool {
	return neededWatts > 0 && (ratedWatts == 0 || tooWeak(ratedWatts, neededWatts, 1))
}

// RatingToBuy says in words how what is to be bought for what is missing has to be
// rated, naming the rating asked for too where the voltage calls for more; "" if
// nothing is known of either.
func (line PlanLine) RatingToBuy() string {
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
