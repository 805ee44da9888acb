package isolated

import (
	"fmt"
	"os"
	"syscall"
)

// limit binds this process: so many bytes of memory beyond what is mapped
// already, so many seconds of CPU time over all cores, no core file, and no file
// may be written. 0 seconds are no bound.
func limit(memory, seconds uint64) error {
	mapped, err := mapped()
	if err != nil {
		return err
	}
	limits := map[int]uint64{
		syscall.RLIMIT_AS:    mapped + memory,
		syscall.RLIMIT_CORE:  0,
		syscall.RLIMIT_FSIZE: 0,
	}
	if seconds > 0 {
		limits[syscall.RLIMIT_CPU] = seconds
	}
	for resource, most := range limits {
		if err := syscall.Setrlimit(resource, &syscall.Rlimit{Cur: most, Max: most}); err != nil {
			return err
		}
	}
	return nil
}

// mapped is the size of this process's address space in bytes: the first field
// of statm, in pages (proc(5)).
func mapped() (uint64, error) {
	text, err := os.ReadFile("/proc/self/statm")
	if err != nil {
		return 0, err
	}
	var pages uint64
	if _, err := fmt.Sscan(string(text), &pages); err != nil {
		return 0, err
	}
	return pages * uint64(os.Getpagesize()), nil
}

// ownProgram is the file of this program, even if it was replaced or deleted
// since it was started (proc(5)).
func ownProgram() (string, error) { return "/proc/self/exe", nil }
