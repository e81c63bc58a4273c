// Package abreast has pieces of work done side by side, as many at once as there are
// processors, where somebody waits for all of them.
package abreast

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// Do does all of the work and returns when the last piece is done. The caller does its
// share, in the order given. One piece may not wait for another.
func Do(work ...func()) { Each(len(work), func(i int) { work[i]() }) }

// Each does n pieces of work, counted from 0, as Do does. A piece that panics has the
// others done all the same; then it is the caller that panics, with a *Panic, so that
// whoever looks after that looks after this.
func Each(n int, work func(i int)) {
	if min(n, runtime.GOMAXPROCS(0)) < 2 {
		for i := range n {
			work(i)
		}
		return
	}
	var next atomic.Int64
	var first atomic.Pointer[Panic]
	share := func() {
		for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
			guarded(func() { work(i) }, &first)
		}
	}
	var others sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) - 1 {
		others.Go(share)
	}
	share()
	others.Wait()
	if p := first.Load(); p != nil {
		panic(p)
	}
}

func guarded(work func(), first *atomic.Pointer[Panic]) {
	defer func() {
		if r := recover(); r != nil {
			p, ok := r.(*Panic) // from one that had work done side by side itself
			if !ok {
				p = &Panic{r, string(debug.Stack())}
			}
			first.CompareAndSwap(nil, p)
		}
	}()
	work()
}

// Panic is what a piece of work panicked with, and where.
type Panic struct {
	Value any
	Stack string
}

func (p *Panic) String() string { return fmt.Sprintf("%v\n%s", p.Value, p.Stack) }
