//go:build !matprofile

package bench

// openPictures is how many pictures are open, which gocv counts only with the tag
// matprofile.
func openPictures() int { return 0 }
