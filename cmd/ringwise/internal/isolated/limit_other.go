//go:build !linux

package isolated

import "os"

// limit leaves memory unbound on this system; time is bound by whoever started
// the process.
func limit(memory, seconds uint64) error { return nil }

// ownProgram is the file of this program.
func ownProgram() (string, error) { return os.Executable() }
