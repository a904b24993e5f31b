package fit

import "fitfill/compat"

const listOnlyCheck = "by list only"

// listOnlySays is why no size can be compared, by part type.
var listOnlySays = map[string]string{
	"hose": "Judged by the lists only: the bends and ends of a moulded hose are no figures. Lay it beside the old one.",
	"pump": "Judged by the lists only: flange, impeller and pulley of a pump are known by its number. Lay it beside the old one.",
	"belt": "Judged by the lists only: length and ribs must be those on the old belt.",
}

// listOnly says that parts of a type have no checks of their own.
func listOnly(kind string) result {
	says, ok := listOnlySays[kind]
	if !ok {
		says = "Judged by the lists only: parts of this type have no sizes to compare."
	}
	r := unchecked(listOnlyCheck, "", says)
	r.Grade = compat.CommonPractice
	return r
}
