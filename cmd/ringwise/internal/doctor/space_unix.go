//go:build linux || darwin

package doctor

import "syscall"

// freeSpace is how much this user may still write in a folder, in bytes.
func freeSpace(folder string) (uint64, error) {
	var s syscall.Statfs_t
	if err := syscall.Statfs(folder, &s); err != nil {
		return 0, err
	}
	return s.Bavail * uint64(s.Bsize), nil
}
