package main

import (
	"os"
	"syscall"
)

// peak is the most memory a process had, in kB.
func peak(s *os.ProcessState) int64 {
	if u, ok := s.SysUsage().(*syscall.Rusage); ok {
		return u.Maxrss
	}
	return 0
}
