package importers

import (
	"reflect"
	"sync"

	"fitfill/catalog"
)

// lastVocabulary is the vocabulary that was built last: an import asks for the
// same one five times over, and building it takes longer than reading a sheet
// of a thousand rows.
var lastVocabulary struct {
	sync.Mutex
	ref catalog.Reference
	voc *vocabulary
}

// vocabularyOf is newVocabulary, built once for the same reference. A reference
// must not be changed once a sheet was read with it.
func vocabularyOf(ref catalog.Reference) (*vocabulary, error) {
	last := &lastVocabulary
	last.Lock()
	defer last.Unlock()
	if last.voc != nil && reflect.ValueOf(last.ref).Pointer() == reflect.ValueOf(ref).Pointer() {
		return last.voc, nil
	}
	voc, err := newVocabulary(ref)
	if err == nil {
		last.ref, last.voc = ref, voc
	}
	return voc, err
}
