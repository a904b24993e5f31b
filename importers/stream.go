package importers

import (
	"errors"
	"fmt"
	"sync"
)

// maxWorkers bounds the goroutines that map and bind.
const maxWorkers = 4

// stream reads the records in chunks. Workers take chunks as they come; the
// calling goroutine takes what they made in the order of the file, so that only
// a few chunks are in memory at any time.
func (r *reading) stream() error {
	chunks := (r.records + chunkRows - 1) / chunkRows
	workers := min(processors(), (r.records+aloneUpTo-1)/aloneUpTo)
	if workers <= 1 {
		return r.inline(chunks)
	}
	free := make(chan *chunk, 2*workers)
	for range 2 * workers {
		free <- &chunk{}
	}
	todo := make(chan *chunk)
	order := make(chan chan *chunk, 2*workers) // one channel for each chunk, in order
	done := make(chan struct{})
	slots := map[*chunk]chan *chunk{}
	var lock sync.Mutex
	var group sync.WaitGroup
	for range workers {
		w, err := newWorker(r)
		if err != nil {
			close(done)
			close(todo)
			group.Wait()
			return err
		}
		group.Go(func() {
			defer w.binder.close()
			for c := range todo {
				w.work(c)
				lock.Lock()
				slot := slots[c]
				lock.Unlock()
				slot <- c
			}
		})
	}
	group.Go(func() {
		defer close(order)
		defer close(todo)
		for k := range chunks {
			var c *chunk
			select {
			case c = <-free:
			case <-done:
				return
			}
			c.reset(k*chunkRows, min((k+1)*chunkRows, r.records))
			slot := make(chan *chunk, 1)
			lock.Lock()
			slots[c] = slot
			lock.Unlock()
			select {
			case order <- slot:
			case <-done:
				return
			}
			select {
			case todo <- c:
			case <-done:
				return
			}
		}
	})
	err := r.collect(order, free)
	close(done)
	group.Wait()
	return err
}

// collect takes the chunks in order and gives them back for reuse.
func (r *reading) collect(order chan chan *chunk, free chan *chunk) error {
	for slot := range order {
		c := <-slot
		if c.err != nil {
			return c.err
		}
		if err := r.take(c); err != nil {
			return err
		}
		free <- c
	}
	return nil
}

// inline reads on the calling goroutine alone.
func (r *reading) inline(chunks int) error {
	if chunks == 0 {
		return nil
	}
	w, err := newWorker(r)
	if err != nil {
		return err
	}
	defer w.binder.close()
	c := &chunk{}
	for k := range chunks {
		c.reset(k*chunkRows, min((k+1)*chunkRows, r.records))
		w.work(c)
		if c.err != nil {
			return c.err
		}
		if err := r.take(c); err != nil {
			return err
		}
	}
	return nil
}

// stretches cuts n records into stretches and works on all of them at once. A
// panic is a fault of the program and becomes an error.
func stretches(n, workers int, do func(worker, from, to int)) error {
	if workers < 2 || n < aloneUpTo {
		do(0, 0, n)
		return nil
	}
	var group sync.WaitGroup
	errs := make([]error, workers)
	for k := range workers {
		group.Go(func() {
			defer func() {
				if r := recover(); r != nil {
					errs[k] = fmt.Errorf("the program stumbled while it looked over the rows (%v): report it as a fault of the program", r)
				}
			}()
			do(k, k*n/workers, (k+1)*n/workers)
		})
	}
	group.Wait()
	return errors.Join(errs...)
}
