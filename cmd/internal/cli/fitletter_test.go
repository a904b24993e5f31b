package cli

import (
	"strings"
	"testing"
)

// A VIN that speaks of another engine takes every yes away, also from lists that
// name no letter.
func TestTheVINSpeaksOfAnotherEngine(t *testing.T) {
	code, out, _ := call(t, "--home", demoHome(t), "fit", "TKV30", "--vin8", "B", "--type", "thermostat")
	if code != exitNo || strings.Contains(out, "\n+ ") || !strings.Contains(strings.Join(strings.Fields(out), " "), "TKV30 has T at place 8 of its VIN by your own sheet: B is another engine") {
		t.Errorf("exit code %d:\n%s", code, out)
	}
	if code, out, _ := call(t, "--home", demoHome(t), "fit", "TKV30", "--vin8", "t", "--type", "thermostat"); code != exitYes || strings.Contains(out, "another engine") {
		t.Errorf("exit code %d:\n%s", code, out)
	}
}

func TestAJobForAnotherEngineByTheVIN(t *testing.T) {
	code, out, _ := call(t, "--home", demoHome(t), "job", "TKV30", "thermostat", "--vin8", "B")
	if code != exitCannotSay || strings.Contains(out, "\n+ thermostat") || !strings.Contains(strings.Join(strings.Fields(out), " "), "B is another engine") {
		t.Errorf("exit code %d:\n%s", code, out)
	}
}
