package compat_test

import (
	"encoding/json"
	"testing"

	"fitfill/compat"
)

func TestZeroOutcomeIsCannotSay(t *testing.T) {
	var o compat.Outcome
	if o != compat.CannotSay || compat.Worst() != compat.CannotSay {
		t.Fatalf("an outcome that nobody set is %v", o)
	}
}

func TestWorstFollowsTheOrder(t *testing.T) {
	order := []compat.Outcome{compat.No, compat.CannotSay, compat.Caution, compat.Yes}
	for i, worse := range order {
		for _, better := range order[i+1:] {
			if got := compat.Worst(better, worse); got != worse {
				t.Errorf("worst of %v and %v is %v", better, worse, got)
			}
			if !worse.Worse(better) || better.Worse(worse) {
				t.Errorf("%v should be worse than %v", worse, better)
			}
		}
	}
}

func TestOutcomeTextRoundTrip(t *testing.T) {
	for _, o := range []compat.Outcome{compat.No, compat.CannotSay, compat.Caution, compat.Yes} {
		b, err := json.Marshal(o)
		if err != nil {
			t.Fatal(err)
		}
		var back compat.Outcome
		if err := json.Unmarshal(b, &back); err != nil || back != o {
			t.Errorf("%s came back as %v (%v)", b, back, err)
		}
	}
	var o compat.Outcome
	if err := json.Unmarshal([]byte(`"perhaps"`), &o); err == nil {
		t.Error("an unknown outcome was read without an error")
	}
}
