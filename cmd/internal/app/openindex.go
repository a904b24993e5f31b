package app

import (
	"errors"
	"strings"
	"sync"

	"fitfill/catalog/bleveindex"
)

// openIndexes keeps the search index open from question to question, as opening
// it costs more than searching it. When the catalogue points to other folders,
// the next question opens those, and the old index is closed by the last one
// that still uses it.
type openIndexes struct {
	mu  sync.Mutex
	now *sharedIndex
}

// sharedIndex is an index with the number of questions that use it.
type sharedIndex struct {
	*bleveindex.Index
	folders string
	users   int
	past    bool // nobody takes it any more
}

// take returns the index of the folders, for the caller to give back.
func (o *openIndexes) take(dir string, folders []string) (*sharedIndex, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	names := strings.Join(folders, "\n")
	if o.now != nil && o.now.folders == names {
		o.now.users++
		return o.now, nil
	}
	open := bleveindex.Open
	if o.now != nil { // an import changes the index of one supplier
		open = o.now.Reopen
	}
	x, err := open(dir, folders)
	if err != nil {
		return nil, err
	}
	err = o.leave()
	o.now = &sharedIndex{Index: x, folders: names, users: 1}
	return o.now, err
}

// isOpen reports whether the index of the folders is open.
func (o *openIndexes) isOpen(folders []string) bool {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.now != nil && o.now.folders == strings.Join(folders, "\n")
}

// give gives an index back.
func (o *openIndexes) give(x *sharedIndex) error {
	o.mu.Lock()
	defer o.mu.Unlock()
	x.users--
	if x.past && x.users == 0 {
		return x.Close()
	}
	return nil
}

// forget closes the index, at once or when the last question is done with it.
func (o *openIndexes) forget() error {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.leave()
}

func (o *openIndexes) leave() error {
	was := o.now
	if was == nil {
		return nil
	}
	o.now, was.past = nil, true
	if was.users > 0 {
		return nil
	}
	return was.Close()
}

// done gives an index back after a question that ended with err; a damaged one
// is not kept.
func (o *openIndexes) done(x *sharedIndex, err error) error {
	if x == nil {
		return err
	}
	if errors.Is(err, bleveindex.ErrDamaged) {
		err = errors.Join(err, o.forget())
	}
	return errors.Join(err, o.give(x))
}
