package vision

// Photos are pictures of some megabytes that come and go. Left alone, the GNU C
// library soon gives the memory of each back to the system, which clears that of the
// next page by page: with small photos this took longer than opening them. So it is
// told to keep some, before anything else runs.

/*
#include <stdlib.h>
#ifdef __GLIBC__
#include <malloc.h>

// See mallopt(3).
__attribute__((constructor)) static void keepFreedMemory(void) {
	const int megabyte = 1 << 20;
	mallopt(M_MMAP_THRESHOLD, 32 * megabyte); // the most it takes: larger ones are given back at once
	mallopt(M_TRIM_THRESHOLD, 128 * megabyte);
	mallopt(M_ARENA_MAX, 2); // heaps that each keep what they freed
}
#endif
*/
import "C"
