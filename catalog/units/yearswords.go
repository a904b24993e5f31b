package units

import (
	"strings"

	"fitfill/catalog/pattern"
)

// PairSense says how a pair is read that could be a month and a year or two
// years: "03/04", "1999-04".
type PairSense int

// The senses of a pair. A pair that can only be one of them is read as that
// whatever is chosen.
const (
	PairRefused   PairSense = iota // refuse it
	PairMonthYear                  // "03/04" is March 2004, "1999-04" April 1999
	PairYears                      // "03/04" is 2003 to 2004, "1999-04" 1999 to 2004
)

// ArrowSense says how ">92" is read; sheets differ.
type ArrowSense int

// The senses of an arrow.
const (
	ArrowRefused  ArrowSense = iota // refuse it
	ArrowTimeline                   // the arrow is time: ">92" is up to 1992, "92>" from 1992
	ArrowCompare                    // the mark compares: ">92" is 1992 and later, "92>" up to 1992
)

// YearOptions is what the sheet's owner has said about its years. The zero
// value refuses whatever has two readings.
type YearOptions struct {
	Arrow ArrowSense
	Pair  PairSense
}

var (
	splitWords = pattern.New(`(?i)\b(?:early|late|chassis|ch\. ?no|engine|eng\. ?no|serial|s/n|vin|frame|fin)\b`)
	vagueWords = pattern.New(`(?i)\b(?:before|after|prior|pre|post)\b`)
	noise      = pattern.New(`(?i)^(?:my|m/y|model years?|mod\. ?years?|years?|yr\.?s?) ?`)
	builtWord  = pattern.New(`(?i)^(?:built|build(?: date)?|production|prod\.?) ?`)
	fromWord   = pattern.New(`(?i)^(?:from|since|ab) ?`)
	untilWord  = pattern.New(`(?i)^(?:up to|to|until|till|thru|through|bis) ?`)
	onWord     = pattern.New(`(?i) ?(?:and up|& up|and later|and on|and newer|onwards?|on|up|\+|(?:-|to) ?(?:present|current|date))$`)
	listMark   = pattern.New(` ?[,;&] ?| and `)
	arrows     = strings.NewReplacer("=>", ">", "->", ">", "→", ">", "<=", "<", "<-", "<", "←", "<", "≥", "from ", "≤", "to ")
)

func cleanYears(text string) string {
	return clean(arrows.Replace(strings.ReplaceAll(text, "½", ".5")))
}
