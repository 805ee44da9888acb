package main

import (
	"errors"
	"flag"
	"strconv"
	"strings"
)

// marginHelp describes the option of marginOption, for the help of commands.
const marginHelp = `  --margin       how many times the power a rating is to be; 2 without it
                 (common practice)
`

// marginOption adds an option that reads how many times the power a rating is to
// be.
func marginOption(set *flag.FlagSet, to *float64) {
	set.Func("margin", "", func(text string) error {
		times, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
		if err != nil || !(times >= 1 && times <= 100) {
			return errors.New("it must be how many times the power a rating is to be, 1 to 100")
		}
		*to = times
		return nil
	})
}
