package coolant

import (
	"unicode/utf8"

	"fitfill/compat"
)

const longestFirst = 60

// causes are the checks by which a caution is worded, the most urgent first.
var causes = []string{
	checkCold, checkHeat, checkCoolant, checkExcluded, checkMixing, checkLiner, checkNitrite, checkRadiator,
	checkThin, checkStrength, checkWater, checkRoom, checkReading, checkCondition,
}

// causeWords says what a check makes of a mix.
func (s *situation) causeWords(check string) string {
	switch check {
	case checkCold:
		return "too weak for " + s.q.Show.FormatTemperature(s.q.Coldest.Value)
	case checkHeat:
		return "boils too early"
	case checkCoolant, checkExcluded:
		return "not what this engine asks for"
	case checkLiner, checkNitrite:
		return "watch the wet liners"
	case checkRadiator:
		return "mind the copper radiator"
	case checkThin:
		return "too thin to protect"
	case checkStrength:
		return "too strong: thin it with water"
	case checkWater:
		return "the water is not fit for it"
	case checkRoom:
		return "more than there is room for"
	case checkCondition:
		return "find out why it looks so"
	case checkReading:
		return "mind what the test says"
	case checkCircuit:
		return "name the loop first"
	}
	switch {
	case s.t.is(&s.add, waterID):
		return s.causeWords(checkWater)
	case s.add.universal:
		return "only its label says so"
	case s.add.claim == claimNone || s.fill.claim == claimNone:
		return "its label says not to"
	}
	return "shortens its life"
}

// first is the first line: the verdict and, if there is room, how it is known.
func (s *situation) first(ans *Answer, c chemistry, poured bool) string {
	head := ""
	switch ans.Outcome {
	case compat.Yes:
		head = mixes
	case compat.No:
		head = "do not mix"
		if s.condemned() {
			head += ": " + condemned
		}
	case compat.CannotSay:
		head = "cannot say: don't pour yet"
	default:
		head = "mixes, but " + s.causeWords(s.cautionCause())
	}
	if above, found := reaches(ans.Ladder, ans.Outcome); found && !poured {
		amount := s.q.Show.FormatVolume(above)
		if s.vol.perLitre {
			amount += " a litre"
		}
		if s.cautionCause() == checkCold && s.thinnedUnknown() {
			head = "mixes, but surely " + s.causeWords(checkCold) // below it nobody knows
		}
		if line := head + ", above " + amount; utf8.RuneCountInString(line) <= longestFirst {
			head = line
		}
	}
	if line := head + " (" + s.how(ans, c) + ")"; utf8.RuneCountInString(line) <= longestFirst {
		return line
	}
	return head
}

func (s *situation) cautionCause() string {
	for _, check := range causes {
		for _, f := range s.findings {
			if f.Check == check && f.Outcome == compat.Caution {
				return check
			}
		}
	}
	return checkMixing
}

// how says in a few words how the verdict is known.
func (s *situation) how(ans *Answer, c chemistry) string {
	if look, ok := s.look(); ok && look.outcome == compat.No {
		return "by its look"
	}
	if s.spentAll {
		return "by the test"
	}
	if ans.Outcome == compat.Caution && s.fill.how != presumption {
		switch s.cautionCause() {
		case checkCold, checkHeat, checkStrength:
			return "by the tables"
		case checkCoolant, checkExcluded:
			return "on file"
		case checkCondition:
			return "by its look"
		case checkReading:
			return "tested"
		case checkWater:
			return "by the limits for water"
		}
	}
	switch {
	case s.nothing():
		return "nothing is poured"
	case ans.Outcome == compat.CannotSay && s.ask != "":
		return "name the loop first"
	case s.sameProduct:
		return "same product"
	case c.link != nil && c.link.rule.same && s.fill.how == presumption:
		return "approved; first fill presumed"
	case c.link != nil && c.link.rule.same:
		return "approved by the maker"
	case c.world != nil && c.world.spent:
		return "tested"
	case c.link == nil:
		return "more of what is in there"
	case s.fill.how == presumption:
		return "first fill presumed"
	case s.add.universal:
		return "chemistry not stated"
	case s.labelDecides(c) && s.add.claim != claimNone && s.fill.claim != claimNone: // else the line says it already
		return "its label says so"
	case ans.Outcome == compat.Yes && s.t.is(&s.add, waterID) && !s.fill.exact && !s.t.is(&s.fill, waterID):
		return "water only thins it; its strength is not known"
	case ans.Outcome == compat.Yes && s.t.is(&s.add, waterID):
		return "water only thins it"
	case s.fill.rest > 0:
		return "part of it not known"
	case s.fill.how == byLog:
		return "by its log"
	case s.fill.how == byColour:
		return "by colour only"
	case s.fill.how == notKnown:
		return "fill not known"
	case s.add.how == notKnown || s.add.how == byColour:
		return "bottle not known"
	case c.link != nil && c.link.rule.a == c.link.rule.b:
		return "same chemistry"
	}
	return "habit of the trade"
}
