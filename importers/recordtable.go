package importers

import "sort"

// recordTable holds where the records of a sheet lie and what they are, in less
// than six bytes a record: a list of millions of rows fits beside the rest. Most
// records are short and alike, so that a record keeps its length and the number of
// its shape; offsets and lines are kept for every sixteenth and added up from
// there. What does not fit stands in a map of its own.
//
// Class, fault and looks of different records may be set from several goroutines at once,
// everything else from one.
type recordTable struct {
	n      int
	blocks []*recordBlock
	end    int64  // where the next record begins
	line   uint32 // the line on which it does
	shapes []recordShape
	number map[recordShape]uint8
	long   map[int]uint32      // lengths over what 16 bits hold
	odd    map[int]recordShape // shapes beyond those that have a number
}

const (
	recordsOfBlock = 1 << 10
	recordsOfMark  = 1 << 4
	longRecord     = 1<<16 - 1
	oddShape       = 1<<8 - 1
)

// recordShape is what many records have in common.
type recordShape struct {
	width, lines uint16
	note         Note
}

type recordBlock struct {
	marks  [recordsOfBlock / recordsOfMark]recordMark
	length [recordsOfBlock]uint16
	shape  [recordsOfBlock]uint8
	kind   [recordsOfBlock]uint8  // class in the upper four bits, fault in the lower
	looks  *[recordsOfBlock]looks // only while the sheet is being opened
}

// looks is what one look at the text of a record showed, so that most of them need no
// second one.
type looks uint8

const (
	mayBeHeading   looks = 1 << iota // as long as the heading, or without a digit
	beginsWithWord                   // the first filled cell is short and has no digit
	mayHoldEmpty                     // one of its cells may be empty
	endsOpen                         // the last cell may be empty
)

// recordMark is where the first of some records lies.
type recordMark struct {
	offset int64
	line   uint32
}

// add puts a record behind the others; its offset and line follow from theirs.
func (t *recordTable) add(r Record) {
	i := t.n
	t.n++
	if t.line == 0 {
		t.line = 1
	}
	at := i % recordsOfBlock
	if at == 0 {
		t.blocks = append(t.blocks, &recordBlock{looks: new([recordsOfBlock]looks)})
	}
	b := t.blocks[len(t.blocks)-1]
	if i%recordsOfMark == 0 {
		b.marks[at/recordsOfMark] = recordMark{t.end, t.line}
	}
	t.setLength(i, r.Length)
	t.setShape(i, recordShape{r.Width, r.Lines, r.Note})
	b.kind[at] = uint8(r.Class)<<4 | uint8(r.Fault)
	t.end += int64(r.Length)
	t.line += uint32(r.Lines)
}

// append puts the records of another table behind these.
func (t *recordTable) append(o *recordTable) {
	for i := range o.n {
		s := o.shape(i)
		t.add(Record{Length: uint32(o.length(i)), Width: s.width, Lines: s.lines, Note: s.note, Class: o.class(i), Fault: o.fault(i)})
	}
}

func (t *recordTable) setLength(i int, length uint32) {
	b := t.blocks[i/recordsOfBlock]
	if length < longRecord {
		b.length[i%recordsOfBlock] = uint16(length)
		return
	}
	if t.long == nil {
		t.long = map[int]uint32{}
	}
	b.length[i%recordsOfBlock], t.long[i] = longRecord, length
}

func (t *recordTable) setShape(i int, s recordShape) {
	b, at := t.blocks[i/recordsOfBlock], i%recordsOfBlock
	if n := b.shape[at]; int(n) < len(t.shapes) && n != oddShape && t.shapes[n] == s {
		return
	}
	n, ok := t.number[s]
	switch {
	case ok:
	case len(t.shapes) < oddShape:
		if t.number == nil {
			t.number = map[recordShape]uint8{}
		}
		n = uint8(len(t.shapes))
		t.shapes, t.number[s] = append(t.shapes, s), n
	default:
		if t.odd == nil {
			t.odd = map[int]recordShape{}
		}
		n, t.odd[i] = oddShape, s
	}
	b.shape[at] = n
}

func (t *recordTable) length(i int) int {
	if n := t.blocks[i/recordsOfBlock].length[i%recordsOfBlock]; n != longRecord {
		return int(n)
	}
	return int(t.long[i])
}

func (t *recordTable) shape(i int) recordShape {
	if n := t.blocks[i/recordsOfBlock].shape[i%recordsOfBlock]; n != oddShape {
		return t.shapes[n]
	}
	return t.odd[i]
}

// place returns where record i begins and how long it is, its line end included.
func (t *recordTable) place(i int) (offset, length int) {
	b, at := t.blocks[i/recordsOfBlock], i%recordsOfBlock
	from := at - at%recordsOfMark
	offset = int(b.marks[from/recordsOfMark].offset)
	for k, n := range b.length[from:at] {
		if n == longRecord {
			offset += t.length(i - at + from + k)
			continue
		}
		offset += int(n)
	}
	return offset, t.length(i)
}

// lineOf returns the physical line on which record i begins.
func (t *recordTable) lineOf(i int) int {
	b, at := t.blocks[i/recordsOfBlock], i%recordsOfBlock
	from := at - at%recordsOfMark
	line := int(b.marks[from/recordsOfMark].line)
	for k := i - at + from; k < i; k++ {
		line += int(t.shape(k).lines)
	}
	return line
}

// lastLine returns the physical line on which record i ends.
func (t *recordTable) lastLine(i int) int { return t.lineOf(i) + int(t.shape(i).lines) - 1 }

func (t *recordTable) class(i int) Class {
	return Class(t.blocks[i/recordsOfBlock].kind[i%recordsOfBlock] >> 4)
}

func (t *recordTable) fault(i int) Fault {
	return Fault(t.blocks[i/recordsOfBlock].kind[i%recordsOfBlock] & 15)
}

// isRow reports whether record i is data whose shape is right.
func (t *recordTable) isRow(i int) bool {
	return t.blocks[i/recordsOfBlock].kind[i%recordsOfBlock] == uint8(ClassData)<<4|uint8(NoFault)
}

func (t *recordTable) width(i int) int { return int(t.shape(i).width) }

func (t *recordTable) note(i int) Note { return t.shape(i).note }

func (t *recordTable) looks(i int, like looks) bool {
	return t.blocks[i/recordsOfBlock].looks[i%recordsOfBlock]&like != 0
}

// forgetLooks makes room when nobody asks for the looks any more.
func (t *recordTable) forgetLooks() {
	for _, b := range t.blocks {
		b.looks = nil
	}
}

func (t *recordTable) setLooks(i int, l looks) {
	t.blocks[i/recordsOfBlock].looks[i%recordsOfBlock] = l
}

func (t *recordTable) setClass(i int, c Class) {
	k := &t.blocks[i/recordsOfBlock].kind[i%recordsOfBlock]
	*k = uint8(c)<<4 | *k&15
}

func (t *recordTable) setFault(i int, f Fault) {
	k := &t.blocks[i/recordsOfBlock].kind[i%recordsOfBlock]
	*k = *k&^15 | uint8(f)
}

func (t *recordTable) addNote(i int, n Note) {
	s := t.shape(i)
	s.note |= n
	t.setShape(i, s)
}

// lengthen adds bytes to the last record.
func (t *recordTable) lengthen(bytes int) {
	t.setLength(t.n-1, uint32(t.length(t.n-1)+bytes))
	t.end += int64(bytes)
}

// at returns record i with all that is known of it.
func (t *recordTable) at(i int) Record {
	offset, length := t.place(i)
	s := t.shape(i)
	return Record{
		Offset: int64(offset), Length: uint32(length), Line: uint32(t.lineOf(i)),
		Width: s.width, Lines: s.lines, Note: s.note, Class: t.class(i), Fault: t.fault(i),
	}
}

// on returns the record that starts on a physical line.
func (t *recordTable) on(line int) (int, bool) {
	i := sort.Search(t.n, func(i int) bool { return t.lineOf(i) >= line })
	return i, i < t.n && t.lineOf(i) == line
}
