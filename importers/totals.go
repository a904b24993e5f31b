package importers

// totals gives the total lines between the rows their class: lines that begin with
// a word such as "Subtotal", hold nothing but numbers besides, and of which one
// number is the sum of its column since the total before, or since the heading.
// What only begins like one stays a row; its number is looked at later.
func (s *Sheet) totals(voc *vocabulary, from int) {
	first, last, word := from, "", false
	var cells []string
	for i := from; i < s.records.n; i++ {
		if class := s.records.class(i); s.records.fault(i) != NoFault || !s.records.looks(i, beginsWithWord) || class != ClassData && class != ClassSection {
			continue
		}
		_, cell := s.filledUpToTwo(i, s.content(i))
		if cell != last {
			last, word = cell, voc.isFooter([]string{cell})
		}
		if !word {
			continue
		}
		if cells = s.Cells(i, cells); s.addsUp(first, i, cells) {
			s.records.setClass(i, ClassFooter)
			first = i + 1
		}
	}
}

// addsUp reports whether all cells of record i behind the first filled one are
// numbers, and one of them the sum of two rows or more of first..i-1.
func (s *Sheet) addsUp(first, i int, cells []string) bool {
	numbers, named := map[int]int64{}, false
	for j, c := range cells {
		if c = trim(c); c == "" {
			continue
		}
		if !named {
			named = true
			continue
		}
		n, ok := minorUnits(c)
		if !ok {
			return false
		}
		if n != 0 {
			numbers[j] = n
		}
	}
	return s.sumsOf(numbers, first, i, 1)
}

// isTotal recognises a part number that is a word for a total.
func (c *planColumn) isTotal(cell string) bool {
	return len(cell) <= maxWord && !hasDigit(cell) && c.voc.isFooter([]string{cell}) && !c.numbers.isKnown(cell)
}
