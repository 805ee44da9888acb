package isolated

import (
	"os"
	"syscall"

	"golang.org/x/sys/unix"

	"ringwise/vision"
)

// mostShared is how much memory a child shares, in bytes: the largest picture.
// Only what is written takes room.
const mostShared = 3 * vision.MaxPixels

// sharedFile is the number under which a child has the shared memory.
const sharedFile = 3

// A memory is shared with one child.
type memory struct {
	file   *os.File
	mapped []byte
}

// newMemory makes memory to share. Its size is sealed, so that a child cannot
// take away what its parent is reading (memfd_create(2), fcntl(2)).
func newMemory() (*memory, error) {
	fd, err := unix.MemfdCreate("pixels", unix.MFD_CLOEXEC|unix.MFD_ALLOW_SEALING)
	if err != nil {
		return nil, os.NewSyscallError("memfd_create", err)
	}
	m := &memory{file: os.NewFile(uintptr(fd), "pixels")}
	if err = m.file.Truncate(mostShared); err == nil {
		_, err = unix.FcntlInt(uintptr(fd), unix.F_ADD_SEALS, unix.F_SEAL_SHRINK|unix.F_SEAL_GROW|unix.F_SEAL_SEAL)
	}
	if err == nil {
		m.mapped, err = syscall.Mmap(fd, 0, mostShared, syscall.PROT_READ, syscall.MAP_SHARED)
	}
	if err != nil {
		m.file.Close()
		return nil, os.NewSyscallError("shared memory", err)
	}
	return m, nil
}

// sharedByParent is the memory that the parent shares.
func sharedByParent() ([]byte, error) {
	b, err := syscall.Mmap(sharedFile, 0, mostShared, syscall.PROT_READ|syscall.PROT_WRITE, syscall.MAP_SHARED)
	return b, os.NewSyscallError("shared memory", err)
}

func (m *memory) bytes() []byte     { return m.mapped }
func (m *memory) files() []*os.File { return []*os.File{m.file} }

func (m *memory) free() {
	syscall.Munmap(m.mapped)
	m.file.Close()
}
