package importers

import "strings"

// splitCells cuts the text of one record into cells. With literal set, quotes
// are plain characters.
func splitCells(line string, delim byte, literal bool, cells []string) []string {
	if literal || strings.IndexByte(line, '"') < 0 {
		for {
			i := strings.IndexByte(line, delim)
			if i < 0 {
				return append(cells, line)
			}
			cells = append(cells, line[:i])
			line = line[i+1:]
		}
	}
	for {
		if line != "" && line[0] == '"' {
			cell, rest, more := cutCell(line, delim)
			if cells = append(cells, cell); !more {
				return cells
			}
			line = rest
			continue
		}
		i := strings.IndexByte(line, delim)
		if i < 0 {
			return append(cells, line)
		}
		cells = append(cells, line[:i])
		line = line[i+1:]
	}
}

func cutCell(line string, delim byte) (cell, rest string, more bool) {
	if line == "" || line[0] != '"' {
		i := strings.IndexByte(line, delim)
		if i < 0 {
			return line, "", false
		}
		return line[:i], line[i+1:], true
	}
	end, doubled := 1, false
	for end < len(line) {
		k := strings.IndexByte(line[end:], '"')
		if k < 0 {
			end = len(line)
			break
		}
		if end += k; end+1 < len(line) && line[end+1] == '"' {
			doubled = true
			end += 2
			continue
		}
		break
	}
	cell = line[1:min(end, len(line))]
	if doubled {
		cell = strings.ReplaceAll(cell, `""`, `"`)
	}
	if end+1 >= len(line) {
		return cell, "", false
	}
	return cell, line[end+2:], true
}
