package fit

import (
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Bolt is what is known of the bolts of a housing. Unknown is the zero value.
type Bolt struct {
	Thread, Class, Torque catalog.Stated[string]
	Socket                catalog.Stated[units.Length] // across the flats, where the thread is not known
	Engaged               catalog.Stated[units.Length] // how much of the thread holds
	Count                 catalog.Stated[catalog.Count]
	Into, Housing, Hole   catalog.Stated[string] // what the thread is in, what is clamped, blind or through
	Show                  units.System
}

// Torque is the judgement of a stated torque. Nothing in it is a setting: a
// figure is either somebody's, or there is none.
type Torque struct {
	Stated    bool
	Low, High units.Torque
	Basis     string // sheet, or none on file
	By        string // where the figure stands
	Above     units.Torque
	HasAbove  bool // Above is a value beyond which any figure is wrong
	Outcome   compat.Outcome
	First     string
	Findings  []compat.Finding
	Ask       []Ask
}

// The bases of a torque.
const (
	BasisSheet = "sheet"
	BasisNone  = "none on file"
)

const torqueCheck = "bolt torque"

// JudgeTorque judges the torque that is stated for the bolts of a housing
// against what bolt and thread bear; where no figure is stated it names the
// value above which any would be wrong. It never computes a setting. Where only
// the socket is known, every thread that has such a head is judged.
func (t *Tables) JudgeTorque(b Bolt) Torque {
	v := Torque{Basis: BasisNone}
	threads := t.threadsOf(&b, &v)
	low, high, stated := t.statedTorque(&b, &v)
	var judged []torqued
	for _, th := range threads {
		j := t.torqueOn(th, &b)
		if stated {
			j.judge(t, low, high, b.Torque.Value)
		}
		judged = append(judged, j)
	}
	for _, j := range judged { // of several possible threads the strongest says what is surely wrong
		if !v.HasAbove || j.above.Compare(v.Above) > 0 {
			v.Above, v.HasAbove = j.above, true
		}
	}
	v.say(judged, stated, &b)
	v.warn(t, &b)
	return v
}

// threadsOf returns the threads that the bolts may have.
func (t *Tables) threadsOf(b *Bolt, v *Torque) (list []namedThread) {
	if b.Thread.Known {
		th, err := units.ParseThread(b.Thread.Value)
		if err == nil {
			return []namedThread{{th, b.Thread.Value, from(b.Thread.Origin)}}
		}
		v.Findings = append(v.Findings, compat.NotChecked(torqueCheck, "thread of the bolts", fmt.Sprintf("The thread %q cannot be read: %v", b.Thread.Value, err)))
	}
	if !b.Socket.Known {
		if !b.Thread.Known {
			v.Findings = append(v.Findings, compat.NotChecked(torqueCheck, "thread of the bolts", "The thread of the bolts is not on file."))
		}
		v.Ask = append(v.Ask, Ask{"Which thread have the bolts?", "--bolt"})
		return nil
	}
	seen := map[string]bool{}
	for _, h := range t.bolts.heads {
		if h.size != b.Socket.Value || h.drive == hexKey || seen[h.thread] {
			continue
		}
		seen[h.thread] = true
		th, err := units.ParseThread(h.thread)
		if err == nil {
			list = append(list, namedThread{th, fmt.Sprintf("%s (%s, %s)", h.thread, h.drive, h.standard), cite(from(b.Socket.Origin), h.origin)})
		}
	}
	switch size := showIn(b.Show).length(b.Socket.Value); len(list) {
	case 0:
		v.Findings = append(v.Findings, compat.NotChecked(torqueCheck, "thread of the bolts", "No bolt on file has a head of "+size+"."))
		fallthrough
	default:
		v.Ask = append(v.Ask, Ask{fmt.Sprintf("A socket of %s leaves more than one thread: measure it with a calliper and a pitch gauge.", size), "--bolt"})
	case 1:
	}
	return list
}

type namedThread struct {
	units.Thread
	name   string
	origin []compat.Evidence
}

// statedTorque reads the figure on file.
func (t *Tables) statedTorque(b *Bolt, v *Torque) (low, high units.Torque, ok bool) {
	if !b.Torque.Known {
		return low, high, false
	}
	v.By = cited(b.Torque.Origin)
	low, high, err := units.ParseTorqueRange(b.Torque.Value, "")
	if err != nil {
		v.Basis = BasisSheet
		says := fmt.Sprintf("The torque on file, %q, cannot be judged: %v.", b.Torque.Value, err)
		if strings.ContainsAny(b.Torque.Value, "°") {
			says = t.boltNote("angle").says
		}
		v.Findings = append(v.Findings, compat.NotChecked(torqueCheck, "a torque with its unit", says))
		return low, high, false
	}
	v.Stated, v.Low, v.High, v.Basis = true, low, high, BasisSheet
	return low, high, true
}

func cited(o catalog.Origin) string {
	if o.Line == 0 {
		return o.Sheet
	}
	return fmt.Sprintf("%s line %d", o.Sheet, o.Line)
}

func (t *Tables) boltNote(when string) boltNote {
	for _, n := range t.bolts.notes {
		if n.when == when {
			return n
		}
	}
	return boltNote{}
}
