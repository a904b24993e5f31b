package importers

import (
	"slices"
	"sync"

	"fitfill/catalog"
)

// field is a column that a sheet of some kind may have.
type field struct {
	name string
	kind catalog.Kind
	// free fields may differ between rows of the same part: they describe the
	// row, not the part.
	free bool
}

// kindSpec is everything the package knows about one kind of sheet. A new kind
// is one new file that registers its spec.
type kindSpec struct {
	kind     catalog.SheetKind
	order    int // kinds are guessed in this order
	fields   []field
	required []string
	blank    []string // those of required whose cells may be empty: a reason nobody wrote down is still a return
	// identity is the field whose equal values mean the same thing (a part, an
	// engine), so that rows about it must not contradict each other; scope
	// narrows it for some fields (a circuit of an engine).
	identity string
	past     []string // dates of what has happened, which cannot lie ahead
	scope    func(name string) string
	noun     string // what the identity is called in sentences
	telling  func(has func(field string) bool) bool
	facts    map[string]bool // fields that become catalog.Facts
	bind     func() binder

	byName map[string]int
}

var registered []func() *kindSpec

// register adds a kind. It is described when a sheet is first read: most commands
// read none.
func register(describe func() *kindSpec) { registered = append(registered, describe) }

// kinds are all kinds in the order in which they are guessed.
var kinds = sync.OnceValue(func() (list []*kindSpec) {
	for _, describe := range registered {
		k := describe()
		k.byName = make(map[string]int, len(k.fields))
		for i, f := range k.fields {
			k.byName[f.name] = i
		}
		if k.scope == nil {
			k.scope = func(string) string { return "" }
		}
		list = append(list, k)
	}
	slices.SortFunc(list, func(a, b *kindSpec) int { return a.order - b.order })
	return list
})

func (k *kindSpec) field(name string) (field, bool) {
	i, ok := k.byName[name]
	if !ok {
		return field{}, false
	}
	return k.fields[i], true
}

func specOf(kind catalog.SheetKind) *kindSpec {
	for _, k := range kinds() {
		if k.kind == kind {
			return k
		}
	}
	return nil
}

// Fields returns the names of the fields that a sheet of that kind can fill, in
// the order of the documentation.
func Fields(kind catalog.SheetKind) []string {
	k := specOf(kind)
	if k == nil {
		return nil
	}
	names := make([]string, len(k.fields))
	for i, f := range k.fields {
		names[i] = f.name
	}
	return names
}

// GuessKind says which kind of sheet the headings look like: a reason beside a
// date is a returns sheet, a family with measurements an engines sheet, and so
// on. Without a sign of any other kind it is a supplier's sheet, and the second
// result is false.
func GuessKind(ref catalog.Reference, header []string) (catalog.SheetKind, bool) {
	voc, err := vocabularyOf(ref)
	if err != nil {
		return catalog.SupplierSheet, false
	}
	return voc.guessKind(header)
}

func (voc *vocabulary) guessKind(header []string) (catalog.SheetKind, bool) {
	for _, k := range kinds() {
		has := map[string]bool{}
		for _, h := range header {
			if f, _, _, ok := voc.resolve(k, h); ok {
				has[f.name] = true
			} else if f, _, _, _, ok := voc.priceHeading(k, h); ok {
				has[f.name] = true
			}
		}
		if k.telling != nil && k.telling(func(name string) bool { return has[name] }) {
			return k.kind, true
		}
	}
	return catalog.SupplierSheet, false
}

// texts, free and stated shorten the field lists of the kinds.
func texts(names ...string) []field {
	fields := make([]field, len(names))
	for i, n := range names {
		fields[i] = field{name: n, kind: catalog.KindText}
	}
	return fields
}

func free(fields []field) []field {
	for i := range fields {
		fields[i].free = true
	}
	return fields
}

func stated(fields []catalog.Field, free ...string) []field {
	out := make([]field, len(fields))
	for i, f := range fields {
		out[i] = field{name: f.Name, kind: f.Kind, free: slices.Contains(free, f.Name)}
	}
	return out
}
