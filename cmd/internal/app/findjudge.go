package app

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/bleveindex"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/words"
	"fitfill/compat"
)

// judgedHits is how many hits are judged and counted by outcome.
const judgedHits = 50

// judged is the verdict on a part for one engine.
type judged struct {
	part    *catalog.Part
	outcome compat.Outcome
	first   string
	engine  string
}

// judge asks for the parts of a type (of all types where it is empty) for an
// engine, as `fit` answers it: best first.
func (f *finder) judge(ctx context.Context, e EngineMeant, partType, number string) ([]judged, error) {
	q := FitQuestion{Engine: e.Engine, Type: partType, Part: number, With: f.r.With, Without: f.r.Without, Circuit: f.circuit}
	if len(f.r.Years) == 1 {
		q.Year = strconv.Itoa(f.r.Years[0])
	}
	if f.a.VIN != nil {
		q.VIN8 = f.a.VIN.VIN8
		if len(f.a.VIN.Years) == 1 && f.a.VIN.reading.YearBound {
			q.Year = strconv.Itoa(f.a.VIN.Years[0])
		}
	}
	ask, err := f.s.readAsked(q)
	if err != nil {
		return nil, err
	}
	family := e.known()
	byType, joined, err := f.s.candidates(ctx, f.v, ask, e.keys, &family)
	if err != nil {
		return nil, err
	}
	var a FitAnswer
	if err := f.s.judgeFit(ctx, f.v, ask, family, byType, joined, &a); err != nil {
		return nil, err
	}
	var list []judged
	for i := range a.Answers {
		p := &a.Answers[i]
		list = append(list, judged{p.part, p.Outcome, p.First, e.Engine})
	}
	return list, nil
}

// forEngines answers with the parts for the engines in question, in the order
// of the judgement; of several engines the best outcome places a part, and the
// engine that it is for is said.
func (f *finder) forEngines(ctx context.Context) error {
	all, err := f.judgeAll(ctx)
	if err != nil {
		return err
	}
	supplier, err := f.supplierOf()
	if err != nil {
		return err
	}
	all = slices.DeleteFunc(all, func(j judged) bool { return supplier != "" && j.part.Supplier != supplier })
	all = f.matching(all)
	found, parts, engines := f.perPart(all)
	f.countParts(parts, engines)
	f.countOutcomes(found)
	return f.show(ctx, found, 0)
}

// perPart puts the verdicts on each part together. While several engines can be
// meant, a part is right only if it is for all of them, and wrong only if it is
// for none: anything else cannot be said before it is known which.
func (f *finder) perPart(all []judged) (found []placed, parts []sqlite.PartHead, engines map[string]int) {
	engines = map[string]int{}
	at := map[int64]int{}
	var verdicts [][]judged
	for _, j := range all {
		engines[j.engine]++
		i, seen := at[j.part.ID]
		if !seen {
			i = len(verdicts)
			at[j.part.ID] = i
			verdicts, parts = append(verdicts, nil), append(parts, sqlite.PartHead{ID: j.part.ID, Supplier: j.part.Supplier, Number: j.part.Number, Key: j.part.Key, Type: j.part.Type.Value})
		}
		verdicts[i] = append(verdicts[i], j)
	}
	for i, of := range verdicts {
		outcome, why := f.together(of)
		found = append(found, placed{id: parts[i].ID, score: scoreFits, why: why, outcome: &outcome, engine: of[0].engine})
	}
	return found, parts, engines
}

func (f *finder) together(of []judged) (compat.Outcome, string) {
	if len(f.engines) == 1 {
		return of[0].outcome, of[0].engine + ": " + of[0].first
	}
	outcome := of[0].outcome
	var why []string
	for _, j := range of {
		if j.outcome != outcome {
			outcome = compat.CannotSay
		}
		why = append(why, "if it is "+j.engine+": "+j.first)
	}
	if len(of) < len(f.engines) {
		outcome = compat.CannotSay
	}
	return outcome, strings.Join(why, "; ")
}

// judgeAll judges the parts of the types for every engine in question and puts
// the best first.
func (f *finder) judgeAll(ctx context.Context) ([]judged, error) {
	types := f.types
	if len(types) == 0 {
		types = []string{""}
	}
	var all []judged
	for _, e := range f.engines {
		for _, t := range types {
			list, err := f.judge(ctx, e, t, "")
			if err != nil {
				return nil, err
			}
			all = append(all, list...)
		}
	}
	slices.SortStableFunc(all, func(a, b judged) int {
		switch {
		case b.outcome.Worse(a.outcome):
			return -1
		case a.outcome.Worse(b.outcome):
			return 1
		}
		return cmp.Compare(slices.Index(f.types, a.part.Type.Value), slices.Index(f.types, b.part.Type.Value))
	})
	return all, nil
}

// judgeNumbers judges the parts of a number for the engines in question.
func (f *finder) judgeNumbers(ctx context.Context, found []placed, parts []sqlite.PartHead) error {
	if len(f.engines) == 0 || len(f.engines) > mostJudged {
		return nil
	}
	number := map[int64]string{}
	for _, p := range parts {
		number[p.ID] = p.Number
	}
	for i := range found[:min(len(found), judgedHits)] {
		p := &found[i]
		if p.score < scoreCross {
			continue
		}
		var of []judged
		for _, e := range f.engines {
			list, err := f.judge(ctx, e, "", number[p.id])
			if err != nil {
				return err
			}
			for _, j := range list {
				if j.part.ID != p.id {
					continue
				}
				of = append(of, j)
			}
		}
		if len(of) > 0 {
			outcome, why := f.together(of)
			p.outcome, p.engine = &outcome, of[0].engine
			p.why += "; " + why
		}
	}
	return nil
}

// judgeHalves judges the parts that half a number led to, for the engines in
// question: everything that is listed for them at once, however many numbers
// there are. A part that nothing names for the engine is said to be none of its.
func (f *finder) judgeHalves(ctx context.Context, found []placed) error {
	whole := func(p placed) bool { return p.outcome != nil || p.score >= scoreCross }
	if len(f.engines) == 0 || len(f.engines) > mostJudged || !slices.ContainsFunc(found, func(p placed) bool { return !whole(p) }) {
		return nil
	}
	all, err := f.judgeAll(ctx)
	if err != nil {
		return err
	}
	of := map[int64][]judged{}
	for _, j := range all {
		of[j.part.ID] = append(of[j.part.ID], j)
	}
	for i := range found {
		p := &found[i]
		if whole(*p) {
			continue
		}
		outcome, why := compat.CannotSay, "not listed for "+strings.Join(engineNamesOf(f.engines), " or ")
		if list := of[p.id]; len(list) > 0 {
			outcome, why = f.together(list)
			p.engine = list[0].engine
		}
		p.outcome = &outcome
		p.why += "; " + why
	}
	slices.SortStableFunc(found, func(a, b placed) int {
		switch {
		case a.score != b.score || a.outcome == nil || b.outcome == nil || *a.outcome == *b.outcome:
			return cmp.Compare(b.score, a.score)
		case b.outcome.Worse(*a.outcome):
			return -1
		}
		return 1
	})
	return nil
}

// countOutcomes counts the first hits by outcome.
func (f *finder) countOutcomes(found []placed) {
	counts := map[string]int{}
	for _, p := range found[:min(len(found), judgedHits)] {
		if p.outcome != nil {
			counts[p.outcome.String()]++
			f.a.Judged++
		}
	}
	if len(counts) > 0 {
		f.a.Facets.Outcome = bleveindex.Counted(counts)
	}
}

// fitWords words the outcomes of several parts.
var fitWords = map[compat.Outcome][2]string{
	compat.Yes: {"fits", "fit"}, compat.Caution: {"should fit", "should fit"}, compat.No: {"does not fit", "do not fit"}, compat.CannotSay: {"cannot say", "cannot say"},
}

// First is the first line of the answer, for every output.
func (a FindAnswer) First() string {
	switch {
	case a.Total == 0 && a.Checks != nil && len(a.Checks.Codes) > 0:
		return a.Checks.Codes[0].Code + ": " + a.Checks.Codes[0].Says
	case a.Total == 0 && a.VIN != nil:
		return a.VIN.First()
	case a.Total == 0 && a.Vehicle != "" && len(a.Engines) == 1:
		return a.Vehicle + " is on file with " + a.Engines[0].Engine
	case a.Total == 0 && a.Vehicle != "":
		return a.Vehicle + " is on file"
	case a.Total == 0 && len(a.Nearest) > 0:
		return "No such number: " + a.Query
	case a.Total == 0:
		return "Nothing found for: " + a.Query
	}
	line := Plural(a.Total, "part", "parts")
	switch len(a.Engines) {
	case 0:
	case 1:
		if a.ReadAs == string(words.AsNumber) || a.ReadAs == string(words.AsBarcode) {
			line += ";" // a number finds parts for any engine
		}
		line += " for " + a.Engines[0].Engine
	default:
		return line + fmt.Sprintf(", %d engines can be meant: ask first", len(a.Engines))
	}
	var counts []string
	for _, o := range []compat.Outcome{compat.Yes, compat.Caution, compat.CannotSay, compat.No} {
		i := slices.IndexFunc(a.Facets.Outcome, func(v FacetValue) bool { return v.Value == o.String() })
		if i < 0 {
			continue
		}
		n := a.Facets.Outcome[i].Count
		counts = append(counts, fmt.Sprintf("%d %s", n, fitWords[o][min(1, n-1)]))
	}
	if len(counts) > 0 {
		line += ": " + strings.Join(counts, ", ")
		if a.Judged < a.Total {
			line += fmt.Sprintf(" (first %d)", a.Judged)
		}
	}
	return line
}
