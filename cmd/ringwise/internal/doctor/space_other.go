//go:build !linux && !darwin

package doctor

import "errors"

// freeSpace is not measured on this system.
func freeSpace(string) (uint64, error) { return 0, errors.ErrUnsupported }
