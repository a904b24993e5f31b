package app

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// haveOpen names another process that has a file open, where this user may see
// it; "" where none is seen.
func haveOpen(path string) string {
	path, err := filepath.EvalSymlinks(path)
	if err != nil {
		return ""
	}
	handles, _ := filepath.Glob("/proc/[0-9]*/fd/*") // the pattern is a sound one
	for _, h := range handles {
		if to, err := os.Readlink(h); err != nil || to != path {
			continue
		}
		process := strings.Split(h, "/")[2]
		if process == fmt.Sprint(os.Getpid()) {
			continue
		}
		command, err := os.ReadFile(filepath.Join("/proc", process, "cmdline"))
		if err != nil {
			continue
		}
		words := strings.Split(strings.TrimRight(string(command), "\x00"), "\x00")
		words[0] = filepath.Base(words[0])
		return fmt.Sprintf("process %s (%s)", process, strings.Join(words, " "))
	}
	return ""
}
