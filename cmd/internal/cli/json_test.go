package cli

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// Other programs rely on these keys; dots go down, [] takes the first entry.
func TestAnswersCarryTheirKeys(t *testing.T) {
	sheet := filepath.Join(t.TempDir(), "list.csv")
	if err := os.WriteFile(sheet, []byte("number,type,price,engine,shelf no.\nA-1,stat,\"1,50\",ZQ9,7\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for command, keys := range map[string][]string{
		"find thermostat TKV38": {"query", "read_as", "total", "hits[].supplier", "hits[].number", "hits[].type", "hits[].description", "hits[].price",
			"hits[].score", "hits[].why", "facets.type", "facets.engine", "facets.supplier"},
		"fit TKV38 --type thermostat": {"engine", "type", "answers[].supplier", "answers[].number", "answers[].description", "answers[].outcome",
			"answers[].findings[].check", "answers[].findings[].outcome", "answers[].findings[].grade", "answers[].findings[].says",
			"answers[].findings[].origin[].sheet", "answers[].findings[].origin[].line", "answers[].findings[].origin[].sha256",
			"answers[].findings[].origin[].text", "answers[].ask"},
		"mix --engine VSR18 --fill green --add PR-SI50-20 --add-volume 2.5L --fill-strength 50": {"outcome", "findings[].check", "findings[].outcome", "findings[].grade",
			"findings[].says", "findings[].origin[].title", "settle[].test", "settle[].tells", "result.glycol", "result.strength_vol_pct", "result.freeze_c",
			"result.boil_open_c", "result.boil_capped_c", "result.foreign_share_pct", "result.service_months", "ladder[].up_to_l", "ladder[].outcome",
			"ladder[].why", "before.outcome", "not_checked", "get_home", "candidates", "cautions"},
		"flush --engine VSR18 --from green --to PR-SIC-5": {"rounds[].drain_l", "rounds[].refill", "rounds[].refill_l", "rounds[].old_left_pct", "final_strength_vol_pct",
			"reachable", "outcome", "findings[].says", "steps", "cautions", "nearest[].flag", "engine", "from", "to"},
		"suppliers": {"as_of", "type", "suppliers[].supplier", "suppliers[].sold", "suppliers[].faulty", "suppliers[].rate_pct.est", "suppliers[].rate_pct.low",
			"suppliers[].rate_pct.high", "suppliers[].within_days[].days", "suppliers[].within_days[].est", "suppliers[].relative.est", "suppliers[].expected_failures",
			"suppliers[].p_worse_than_rest", "suppliers[].expected_rank", "suppliers[].group", "suppliers[].words", "suppliers[].not_their_fault", "suppliers[].unmatched",
			"suppliers[].cost_per_job", "suppliers[].trend.words", "getting_worse"},
		"import " + sheet + " --supplier Brackwell": {"status", "open[].question", "open[].choices", "open[].command", "sheet", "supplier", "kind",
			"rows_read", "rows_taken", "rows_held", "rows_skipped", "columns", "held", "changes.added", "changes.changed", "changes.unchanged", "changes.withdrawn"},
		"fit NOSUCH": {"error", "hint"},
		"frobnicate": {"error", "hint"},
	} {
		_, out, _ := call(t, append([]string{"--home", demoHome(t), "--json"}, strings.Fields(command)...)...)
		var a any
		if err := json.Unmarshal([]byte(out), &a); err != nil {
			t.Errorf("%s: %v in\n%s", command, err, out)
			continue
		}
		for _, k := range keys {
			if !hasKey(a, strings.Split(k, ".")) {
				t.Errorf("%s: no key %s", command, k)
			}
		}
	}
}

// hasKey looks for a path in any entry of the lists on the way.
func hasKey(v any, path []string) bool {
	if len(path) == 0 {
		return true
	}
	m, ok := v.(map[string]any)
	if !ok {
		return false
	}
	name, list := strings.CutSuffix(path[0], "[]")
	next, ok := m[name]
	if !ok || !list {
		return ok && hasKey(next, path[1:])
	}
	entries, _ := next.([]any)
	for _, e := range entries {
		if hasKey(e, path[1:]) {
			return true
		}
	}
	return false
}

// Quantities in JSON never follow the unit settings.
func TestJSONKeepsItsUnits(t *testing.T) {
	question := strings.Fields("mix --engine VSR18 --fill si-oat --fill-strength 50 --add PR-SI50-20 --add-volume 0.5L --coldest -12C")
	number := func(system string) any {
		_, out, _ := call(t, append([]string{"--home", demoHome(t), "--json", "--units", system}, question...)...)
		var a struct{ Result map[string]any }
		if err := json.Unmarshal([]byte(out), &a); err != nil {
			t.Fatal(err)
		}
		return a.Result["freeze_c"]
	}
	metric, us := number("metric"), number("us")
	if metric == nil || metric != us {
		t.Errorf("freeze_c is %v and %v", metric, us)
	}
	_, text, _ := call(t, append([]string{"--home", demoHome(t), "--units", "us"}, question...)...)
	if !strings.Contains(text, "°F") || strings.Contains(text, "°C") {
		t.Errorf("us units show\n%s", text)
	}
}

func TestEveryCommandPrintsItsExitCodes(t *testing.T) {
	var walk func(*cobra.Command)
	walk = func(c *cobra.Command) {
		for _, sub := range c.Commands() {
			walk(sub)
		}
		if c.Runnable() && c.HasParent() && !c.Hidden && !strings.Contains(c.Long, "Exit codes:") {
			t.Errorf("%s lists no exit codes", c.CommandPath())
		}
	}
	walk(newRoot(&env{}, ""))
}

func TestWrongUsageSaysWhatToDo(t *testing.T) {
	for command, want := range map[string]struct {
		exit int
		text string
	}{
		"fit":                          {exitUsage, "usage: fitfill fit ENGINE"},
		"fit TKV38 --typ thermostat":   {exitUsage, "--type"},
		"find":                         {exitUsage, "usage: fitfill find"},
		"fit NOSUCH":                   {exitCannotSay, "known are"},
		"fit TKV38 --part NOSUCH":      {exitCannotSay, "fitfill find NOSUCH"},
		"fit TKV83":                    {exitCannotSay, `"TKV38"`},
		"find stat --type o-ringg":     {exitUsage, "o-ringg"},
		"find stat --limit 0":          {exitUsage, "--limit"},
		"suppliers --as-of 2030-01-01": {exitUsage, "last row on file"},
		"suppliers --explain Ostrell":  {exitUsage, `"Ostrel"`},
		"suppliers --compare Ostrel":   {exitUsage, "--compare A B"},
		"suppliers Ostrel":             {exitUsage, "--compare A B"},
		"suppliers --compare Grauvelt GVT --labour-rate 60":                 {exitUsage, "Grauvelt"},
		"suppliers --compare Pindle&Rook Quillmar --labour-rate 60":         {exitUsage, "no part type"},
		"suppliers --type pump --compare Ostrel Quillmar --labour-rate 60":  {exitUsage, "unit_price"},
		"suppliers --type cap --compare Ostrel Quillmar --labour-rate 6GBP": {exitUsage, "state it in EUR"},
		"suppliers --labour-rate dear":                                      {exitUsage, "labour_rate"},
		"suppliers --since 2020-01-01":                                      {exitUsage, "name a day between"},
		"suppliers --since then":                                            {exitUsage, "YYYY-MM-DD"},
		"suppliers --bought-from 2030-01-01":                                {exitUsage, "last purchase"},
		"suppliers --days 0":                                                {exitUsage, "--days"},
		"fit TKV38 --year 19":                                               {exitUsage, "--year"},
		"fit TKV38 --vin8 1M8GDM9A":                                         {exitUsage, "--vin8"},
		"mix --fill iat --add oat --look mouldy":                            {exitUsage, "oily"},
		"mix --fill iat --add water --hardness 18clark":                     {exitUsage, "mg/L"},
		"mix --engine HSM25 --circuit boot --fill oat --add oat":            {exitUsage, "inverter"},
		"frobnicate":                                                           {exitUsage, "frobnicate"},
		"find zzzzzz":                                                          {exitCannotSay, ""},
		"find A1 --supplier Ostrell":                                           {exitUsage, `"Ostrel"`},
		"mix --fill iat":                                                       {exitUsage, "--add"},
		"mix --fill iatt --add oat":                                            {exitUsage, `"iat"`},
		"mix --fill factory --add oat":                                         {exitUsage, "--engine"},
		"mix --fill iat --add OS1955":                                          {exitUsage, "no coolant"},
		"flush --from iat --to oat":                                            {exitUsage, "--volume"},
		"flush --from iat --to oat --volume 8L --drain 9L":                     {exitUsage, "cannot drain"},
		"flush --from iat --to oat --volume 8 --drain 4L":                      {exitUsage, "--volume"},
		"flush --from iat --to green --volume 8L --drain 4L":                   {exitUsage, "one known coolant"},
		"flush --from iat --to oat --volume 8L --drain-with straw":             {exitUsage, "block-plug"},
		"flush --from iat --to oat --volume 8L --drain 4L --residue 0":         {exitUsage, "--residue"},
		"flush --from iat --to oat --volume 8L --drain 3.6L --strength 50":     {exitNo, "rinse water stays"},
		"flush --from iat --to oat --volume 8L --drain 4L --cleaner PR-SI50-1": {exitUsage, "no cleaner"},
		"flush --engine HSM25 --from factory --to PR-PP50-5":                   {exitCannotSay, "battery"},
		"import nosuch.csv":                                                    {exitUsage, "nosuch.csv"},
		"import --supplier X":                                                  {exitUsage, "usage: fitfill import"},
		"suppliers --as-of yesterday":                                          {exitUsage, "YYYY-MM-DD"},
		"suppliers alias NoSuch Other":                                         {exitUsage, "NoSuch"},
		"sheets template cars":                                                 {exitUsage, "cars"},
		"mix --fill iat --add oat --cap big":                                   {exitUsage, "cap_pressure"},
	} {
		code, out, errs := call(t, append([]string{"--home", demoHome(t)}, strings.Fields(command)...)...)
		said := strings.Join(strings.Fields(out+errs), " ") // lines are broken at 80 columns
		if code != want.exit || !strings.Contains(said, want.text) {
			t.Errorf("%s: exit code %d, want %d with %q:\n%s%s", command, code, want.exit, want.text, out, errs)
		}
	}
}
