package app

import (
	"os"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// The test itself must not fall behind, so another process gives way and lists
// how far each of its threads stands back.
func TestAllThreadsGiveWay(t *testing.T) {
	const child = "FITFILL_TEST_GIVES_WAY"
	if os.Getenv(child) != "" {
		if err := GiveWay(); err != nil {
			t.Fatal(err)
		}
		threads, err := os.ReadDir("/proc/self/task")
		if err != nil {
			t.Fatal(err)
		}
		for _, th := range threads {
			stat, err := os.ReadFile("/proc/self/task/" + th.Name() + "/stat")
			if err != nil {
				continue // it has ended
			}
			_, rest, _ := strings.Cut(string(stat), ") ")
			t.Logf("nice %s", strings.Fields(rest)[16]) // proc(5): field 19, nice
		}
		return
	}
	c := exec.Command(os.Args[0], "-test.run", "^TestAllThreadsGiveWay$", "-test.v")
	c.Env = append(os.Environ(), child+"=1")
	says, err := c.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, says)
	}
	threads := regexp.MustCompile(`nice (-?\d+)`).FindAllStringSubmatch(string(says), -1)
	for _, th := range threads {
		if n, err := strconv.Atoi(th[1]); err != nil || n < niceness {
			t.Errorf("a thread stands back by %s only", th[1])
		}
	}
	if len(threads) < 2 {
		t.Errorf("the threads are not listed: %s", says)
	}
}
