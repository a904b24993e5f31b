package compat

import "fmt"

// Outcome is the answer of a judgement. The zero Outcome is CannotSay: a
// verdict that nobody reached is never a yes.
type Outcome uint8

// The outcomes. Their order of badness is No, CannotSay, Caution, Yes.
const (
	CannotSay Outcome = iota
	No
	Caution
	Yes
)

var outcomeNames = [...]string{CannotSay: "cannot-say", No: "no", Caution: "caution", Yes: "yes"}

// String returns the outcome's name: no, cannot-say, caution or yes.
func (o Outcome) String() string {
	if int(o) < len(outcomeNames) {
		return outcomeNames[o]
	}
	return fmt.Sprintf("Outcome(%d)", uint8(o))
}

// MarshalText writes the outcome's name.
func (o Outcome) MarshalText() ([]byte, error) { return []byte(o.String()), nil }

// UnmarshalText reads an outcome's name.
func (o *Outcome) UnmarshalText(text []byte) error {
	for i, name := range outcomeNames {
		if name == string(text) {
			*o = Outcome(i)
			return nil
		}
	}
	return fmt.Errorf("%q is not an outcome: no, cannot-say, caution or yes", text)
}

// rank orders outcomes from worst to best.
func (o Outcome) rank() int { return [...]int{CannotSay: 1, No: 0, Caution: 2, Yes: 3}[o] }

// Worse reports whether o is worse than p.
func (o Outcome) Worse(p Outcome) bool { return o.rank() < p.rank() }

// Worst returns the worst of the outcomes; of none at all, CannotSay.
func Worst(outcomes ...Outcome) Outcome {
	if len(outcomes) == 0 {
		return CannotSay
	}
	w := outcomes[0]
	for _, o := range outcomes[1:] {
		if o.Worse(w) {
			w = o
		}
	}
	return w
}
