package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestTagNamesWhatSurelyMixes(t *testing.T) {
	home := demoHome(t)
	for _, c := range []struct {
		args           []string
		topWith, other string
	}{
		{[]string{"D 01"}, "PR-SI50-20 (Si-OAT)", "distilled water"}, // flushed and topped right since
		{[]string{"D 02"}, "", "Ask the garage"},                     // two thirds went in before the log began
		{[]string{"D 04", "--circuit", "battery"}, "", "No water either"},
	} {
		a := answer(t, home, 0, append([]string{"vehicle", "tag"}, c.args...)...)
		if a["top_with"] != c.topWith || !strings.Contains(a["else"].(string), c.other) {
			t.Errorf("%v: %v, %v", c.args, a["top_with"], a["else"])
		}
	}
}

func TestTagIsACardThatNamesNobody(t *testing.T) {
	out := filepath.Join(t.TempDir(), "tag.html")
	if code, _, errs := call(t, "--home", demoHome(t), "vehicle", "tag", "D 01", "--out", out); code != 0 {
		t.Fatalf("%d %s", code, errs)
	}
	raw, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	page := string(raw)
	for _, want := range []string{"Si-OAT", "VS 77-C", "51 % strong", "2025-05-07", "2026-02-11", "PR-SI50-20", "Never open a hot cap", "92mm"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q in\n%s", want, page)
		}
	}
	for _, never := range []string{"D 01", "Z0XNR18B951000101", "<script", "http"} {
		if strings.Contains(page, never) {
			t.Errorf("%q in\n%s", never, page)
		}
	}
	if code, _, _ := call(t, "--home", demoHome(t), "vehicle", "tag", "D 01", "--out", out); code != 2 {
		t.Errorf("written over: %d", code)
	}
	if code, _, errs := call(t, "--home", demoHome(t), "vehicle", "tag", "D 04", "--out", out+"2"); code != 0 {
		t.Errorf("the only circuit that was filled is meant: %d %s", code, errs)
	}
	if code, _, errs := call(t, "--home", demoHome(t), "vehicle", "tag", "D 03", "--circuit", "heater", "--out", out+"3"); code != 2 || !strings.Contains(errs, "--circuit engine") {
		t.Errorf("%d %s", code, errs)
	}
}
