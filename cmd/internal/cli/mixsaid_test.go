package cli

import (
	"strings"
	"testing"
)

// A fluid is understood as the bay says it; what is no fluid is told what to say.
func TestFluidsAsPeopleSayThem(t *testing.T) {
	t.Setenv("FITFILL_HOUSE_COOLANT", "PR-SI50-20")
	mix := func(fill, add string, more ...string) (int, string) {
		code, out, errs := call(t, append([]string{"--home", demoHome(t), "mix", "--engine", "VSR18", "--fill", fill, "--add", add, "--add-volume", "0,5 L"}, more...)...)
		return code, strings.Join(strings.Fields(out+errs), " ")
	}
	for _, same := range [][2][2]string{
		{{"grün", "our house coolant"}, {"green", "PR-SI50-20"}},
		{{"Never opened", "house"}, {"factory", "PR-SI50-20"}},
		{{"si-oat", "Tap water"}, {"si-oat", "water"}},
		{{"don't know", "house"}, {"unknown", "PR-SI50-20"}},
		{{"rosa", "leitungswasser"}, {"pink", "water"}},
	} {
		said, _ := mix(same[0][0], same[0][1])
		meant, _ := mix(same[1][0], same[1][1])
		if said != meant || said == exitUsage {
			t.Errorf("%q: exit %d; %q: exit %d", same[0], said, same[1], meant)
		}
	}
	for args, want := range map[[2]string]string{
		{"oily", "house"}:     "--fill unknown --look oily",
		{"zzqy", "house"}:     "factory (never opened), unknown",
		{"green", "blurqlee"}: "fitfill find blurqlee --type coolant",
	} {
		if code, out := mix(args[0], args[1]); code != exitUsage || !strings.Contains(out, want) {
			t.Errorf("%q: exit code %d, no %q in %s", args, code, want, out)
		}
	}
	t.Setenv("FITFILL_HOUSE_COOLANT", "")
	if code, out := mix("green", "house"); code != exitUsage || !strings.Contains(out, "house_coolant =") {
		t.Errorf("no house coolant is set: exit code %d: %s", code, out)
	}
}

// What water does to a fill of which nobody knows the strength is open below the
// amount that is proved too weak, and the first line and the ladder say so.
func TestWaterIntoTheUnknownPromisesNothing(t *testing.T) {
	_, out, _ := call(t, "--home", demoHome(t), "mix", "--engine", "VSR18", "--fill", "unknown", "--add", "water", "--coldest", "-12C")
	flat := strings.Join(strings.Fields(out), " ")
	for _, want := range []string{"mixes, but surely too weak for -12 °C, above 3.57 L", "up to 3.57 L: mixes; nobody knows how cold it then holds"} {
		if !strings.Contains(flat, want) {
			t.Errorf("no %q in %s", want, out)
		}
	}
	_, out, _ = call(t, "--home", demoHome(t), "mix", "--vehicle", "D11", "--add", "water", "--add-volume", "0.3L", "--coldest", "-12C")
	if first, _, _ := strings.Cut(out, "\n"); !strings.Contains(first, "its strength is not known") {
		t.Errorf("first line %q", first)
	}
	// How much the truck holds nobody knows: an amount is for each litre in it.
	_, out, _ = call(t, "--home", demoHome(t), "mix", "--vehicle", "D09", "--add", "PR-IHC-5G", "--add-volume", "2L")
	if first, _, _ := strings.Cut(out, "\n"); !strings.Contains(first, "above 0.11 L a litre") {
		t.Errorf("first line %q", first)
	}
}
