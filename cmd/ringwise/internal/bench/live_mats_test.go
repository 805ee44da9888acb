//go:build matprofile && linux

package bench

import "gocv.io/x/gocv"

func init() { openMats = gocv.MatProfile.Count }
