//go:build matprofile

package bench

import "gocv.io/x/gocv"

// openPictures is how many pictures are open.
func openPictures() int { return gocv.MatProfile.Count() }
