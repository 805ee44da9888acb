package isolated

import (
	"fmt"
	"os"
	"syscall"
)

// mostSeconds is the CPU time that decoding may take, over all cores.
const mostSeconds = 60

// limit binds this process: so many bytes of memory beyond what is mapped
// already, a bound on CPU time, no core file, and no file may be written.
func limit(memory uint64) error {
	mapped, err := mapped()
	if err != nil {
		return err
	}
	for resource, most := range map[int]uint64{
		syscall.RLIMIT_AS:    mapped + memory,
		syscall.RLIMIT_CPU:   mostSeconds,
		syscall.RLIMIT_CORE:  0,
		syscall.RLIMIT_FSIZE: 0,
	} {
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
