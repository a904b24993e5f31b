package units

import (
	"math/big"
	"strings"
)

func metric(m []string) (Thread, *ParseError) {
	var sizes [3]Length
	name := ""
	for i := range sizes {
		if m[i+1] == "" {
			continue
		}
		v, rest, perr := scanNumeral(m[i+1], false, false)
		if perr != nil {
			return Thread{}, perr
		}
		if rest != "" {
			return Thread{}, unreadable("is not a thread", `write one such as "M8x1.25"`)
		}
		if i == 0 {
			name = plainNumber(v.val)
		}
		b, ok := lengths.base(v.val, UnitMillimetre)
		if perr := lengths.check(b, ok); perr != nil {
			return Thread{}, perr
		}
		sizes[i] = Length{b}
	}
	t := Thread{Kind: ThreadMetric, Nominal: sizes[0], Pitch: sizes[1], Length: sizes[2]}
	coarse, known := coarsePitch[name]
	whole := t.Pitch.nm%1e6 == 0 && t.Pitch.nm >= 5e6
	switch {
	case m[2] == "" && known:
		t.Pitch = coarse
	case m[2] == "":
		return Thread{}, unreadable("has no coarse pitch in ISO 262", `write the pitch, such as "M9x1.25"`)
	case known && whole && 2*t.Pitch.nm > 5*coarse.nm && m[3] == "":
		t.Pitch, t.Length = coarse, t.Pitch
	case t.Pitch.nm == 0 || known && t.Pitch.nm > coarse.nm || 2*t.Pitch.nm >= t.Nominal.nm:
		return Thread{}, unreadable("has a pitch that this size does not come with", "check the pitch and the length")
	}
	return t, nil
}

func inch(m []string) (Thread, *ParseError) {
	nominal, perr := inchSize(m[1])
	if perr != nil {
		return Thread{}, perr
	}
	t := Thread{Kind: ThreadInch, Nominal: nominal}
	if t.Pitch, perr = perInchPitch(m[2]); perr != nil {
		return Thread{}, perr
	}
	if m[3] != "" {
		sp, perr := lengths.whole(m[3], UnitInch)
		if perr != nil {
			return Thread{}, perr
		}
		if sp.pair {
			return Thread{}, unreadable("states two lengths", "write one length")
		}
		t.Length = Length{sp.low}
	}
	if 2*t.Pitch.nm >= t.Nominal.nm {
		return Thread{}, unreadable("has a pitch that this size does not come with", "check the threads per inch")
	}
	return t, nil
}

const (
	lastNumbered = 12 // the last numbered size of ASME B1.1
	finest       = 64 // inch sizes are whole, or fractions down to sixty-fourths
)

// inchSize reads a fraction of an inch or a numbered size: #n is
// 0.060 in + n·0.013 in (ASME B1.1).
func inchSize(s string) (Length, *ParseError) {
	number, numbered := strings.CutPrefix(s, "#")
	v, rest, perr := scanNumeral(number, true, false)
	if perr != nil {
		return Length{}, perr
	}
	if rest != "" {
		return Length{}, unreadable("has a size that is not a fraction of an inch", `write one such as "5/16-18"`)
	}
	val := v.val
	if numbered {
		if val.Cmp(big.NewRat(lastNumbered, 1)) > 0 || v.fraction {
			return Length{}, unreadable("has a numbered size that does not exist", "check the size; the last is #12")
		}
		val = val.Mul(val, rat("0.013")).Add(val, rat("0.060"))
	} else if finest%val.Denom().Int64() != 0 {
		return Length{}, unreadable("has a size in thirds of an inch, which no thread has", `check the size: one such as "5/16-18"`)
	} else if !v.fraction && val.Cmp(big.NewRat(4, 1)) > 0 {
		return Length{}, ambiguous("could be a numbered size or an inch size", `write "#10-24" for a numbered size`)
	}
	b, ok := lengths.base(val, UnitInch)
	return Length{b}, lengths.check(b, ok)
}

func perInchPitch(threads string) (Length, *ParseError) {
	n, ok := new(big.Rat).SetString(threads)
	if !ok || n.Sign() <= 0 {
		return Length{}, unreadable("has no threads per inch", `write them as in "5/16-18"`)
	}
	b, fits := lengths.base(n.Inv(n), UnitInch)
	return Length{b}, lengths.check(b, fits)
}

func pipe(m []string) (Thread, *ParseError) {
	kind := pipeKinds[m[1]]
	if m[1] == "" {
		kind = pipeKinds[m[3]]
	}
	if kind == "" || m[1] != "" && m[3] != "" {
		return Thread{}, unreadable("is a size without its thread", `write "5/16-18" for a bolt, "G1/4", "R1/4" or "1/4 NPT" for a pipe thread`)
	}
	size, ok := pipeSizes[strings.ReplaceAll(m[2], " ", "-")]
	if !ok {
		return Thread{}, unreadable("has a pipe size that is not known here", "check the size")
	}
	if kind == ThreadNPT {
		return Thread{Kind: kind, Nominal: size.npt, Pitch: size.nptPitch}, nil
	}
	return Thread{Kind: kind, Nominal: size.g, Pitch: size.gPitch}, nil
}
