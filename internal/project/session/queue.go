package session

import (
	"time"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/keep"
)

// Reader is what can be asked of a session at once: nothing of it waits for a
// disk. It is not to be asked while the session is Lent.
type Reader interface {
	Path() string
	Clock() time.Time
	Now() *project.File
	Unsaved() bool
	Depth() (undo, redo int)
	Steps() []string
	At(i int) (*project.File, bool)
	Looking() bool
	Holder() *keep.Holder
	Elsewhere() *keep.Holder
	From() int64
	Warning() error
}

// Queue is a session for somebody who must not wait for the disk. What changes
// the build does so at once; what it wants of the disk is queued, and done one
// after the other, in the order in which it was asked for, by whoever runs the
// Task that Next hands out. What became of it is told when the Task has ended.
//
// A Queue is used by one goroutine, apart from Task.Run.
type Queue struct {
	Reader
	s          *Session
	jobs       []job
	under      *Task       // handed out and not ended
	journalled func(error) // told after each word to the journal
}

// job is one thing to do on the disk. begin and end belong to the goroutine of
// the Queue; run touches only what begin has set out, or has the session lent.
type job interface {
	begin(q *Queue)
	run()
	end(q *Queue)
}

// NewQueue takes a session over. journalled is told, after each word to the
// journal, whether all that was handed over is there: nil, or a *JournalError.
func NewQueue(s *Session, journalled func(error)) *Queue {
	return &Queue{Reader: s, s: s, journalled: journalled}
}

// Task is a job that is under way.
type Task struct {
	q     *Queue
	job   job
	done  chan struct{}
	whole bool // it ran to its end
}

// Next returns the next thing to do on the disk; nil while one is under way, and
// when there is none.
func (q *Queue) Next() *Task {
	if q.under != nil || len(q.jobs) == 0 {
		return nil
	}
	j := q.jobs[0]
	if _, ok := j.(*writing); ok && q.s.astray {
		j = &carrying{}
		q.jobs = append([]job{j}, q.jobs...)
	}
	q.jobs = q.jobs[1:]
	j.begin(q)
	q.under = &Task{q: q, job: j, done: make(chan struct{})}
	return q.under
}

// Ahead is Next where that is a word to the journal, which takes nothing of the session from
// whoever asks it meanwhile; nil where anything else comes before.
func (q *Queue) Ahead() *Task {
	if len(q.jobs) == 0 || q.s.astray {
		return nil
	}
	if _, ok := q.jobs[0].(*writing); !ok {
		return nil
	}
	return q.Next()
}

// Run does the task, on any goroutine, and takes as long as the disk does.
func (t *Task) Run() {
	defer close(t.done)
	t.job.run()
	t.whole = true
}

// End takes in what came of a task that has run.
func (t *Task) End() {
	<-t.done
	if t.q.under != t {
		return // Settle was faster
	}
	t.q.under = nil
	if t.whole {
		t.job.end(t.q)
	}
}

// Settle waits for the task under way, and does here and now all that is queued.
func (q *Queue) Settle() {
	for q.Busy() {
		if q.under == nil {
			q.Next().Run()
		}
		q.under.End()
	}
}

// Busy reports whether anything is queued or under way.
func (q *Queue) Busy() bool { return q.under != nil || len(q.jobs) > 0 }

// Lent reports whether the session is in the hands of a task, so that nothing is
// to be asked of it.
func (q *Queue) Lent() bool {
	if q.under == nil {
		return false
	}
	_, ok := q.under.job.(*alone)
	return ok
}

// all returns what is under way, if anything, and what is queued.
func (q *Queue) all() []job {
	if q.under == nil {
		return q.jobs
	}
	return append([]job{q.under.job}, q.jobs...)
}

// Behind returns how many edits the journal does not have yet.
func (q *Queue) Behind() int {
	n := 0
	for _, j := range q.all() {
		switch j := j.(type) {
		case *writing:
			n += len(j.entries)
		case *carrying:
			n += len(j.what.entries)
		}
	}
	return n
}

// Saving reports whether a save is queued or under way.
func (q *Queue) Saving() bool {
	for _, j := range q.all() {
		if _, ok := j.(*store); ok {
			return true
		}
	}
	return false
}

// Do applies edits and queues them for the journal.
func (q *Queue) Do(label string, edits ...edit.Edit) error {
	e, err := q.s.edit(label, edits)
	q.write(e)
	return err
}

// Undo steps back; the label says what was undone.
func (q *Queue) Undo() (string, bool, error) { return q.step(keep.OpUndo) }

// Redo steps forward again.
func (q *Queue) Redo() (string, bool, error) { return q.step(keep.OpRedo) }

func (q *Queue) step(op string) (string, bool, error) {
	label, e, err := q.s.step(op)
	q.write(e)
	return label, e != nil || err != nil, err
}

// Draft queues for the journal what is typed and not taken yet, in place of what
// was there before; nil for nothing. It is no edit: no frame has to wait for it.
func (q *Queue) Draft(typed []byte) {
	if q.s.journal == nil {
		return
	}
	d := &keep.Draft{Time: q.s.now(), Typed: typed}
	if n := len(q.jobs); n > 0 {
		if w, ok := q.jobs[n-1].(*writing); ok {
			w.draft = d
			return
		}
	}
	q.jobs = append(q.jobs, &writing{draft: d})
}

// write queues an entry, with those that wait already when they come last.
func (q *Queue) write(e *keep.Entry) {
	if e == nil || q.s.journal == nil {
		return
	}
	if n := len(q.jobs); n > 0 {
		if w, ok := q.jobs[n-1].(*writing); ok {
			w.entries = append(w.entries, *e)
			return
		}
	}
	q.jobs = append(q.jobs, &writing{entries: []keep.Entry{*e}})
}

// writing puts entries into the journal, and what is typed behind them.
type writing struct {
	entries []keep.Entry
	draft   *keep.Draft // nil where that has not changed
	journal *keep.Journal
	lost    bool
	err     error
}

func (w *writing) begin(q *Queue) { w.journal = q.s.journal }

func (w *writing) run() {
	if w.journal == nil { // a copy under another name has taken the journal's place
		return
	}
	if w.lost = w.journal.Lost(); w.lost {
		return
	}
	for _, e := range w.entries {
		if err := w.journal.Append(e); err != nil {
			w.err = &JournalError{err}
		}
	}
	if w.draft == nil {
		return
	}
	if err := w.journal.Draft(*w.draft); err != nil && w.err == nil {
		w.err = &JournalError{err}
	}
}

func (w *writing) end(q *Queue) {
	if w.lost {
		q.jobs = append([]job{&carrying{draft: w.draft}}, q.jobs...)
		return
	}
	q.journalled(w.err)
}

// carrying writes the journal anew with all that is not on disk. What waits for
// the journal behind it is taken in, and a save that waits saves what stands then.
type carrying struct {
	path     string
	s        *Session
	had, got *keep.Lock
	what     carriage
	draft    *keep.Draft // what is typed, where that has changed
	err      error
}

func (c *carrying) begin(q *Queue) {
	rest := q.jobs[:0:0]
	for _, j := range q.jobs {
		if w, ok := j.(*writing); ok {
			if w.draft != nil {
				c.draft = w.draft
			}
			continue
		}
		if st, ok := j.(*store); ok {
			st.plan = q.s.plan(st.how.Force)
		}
		rest = append(rest, j)
	}
	q.jobs = rest
	c.s, c.path, c.had = q.s, q.s.path, q.s.lock
	c.what, c.err = q.s.carry()
}

func (c *carrying) run() {
	c.got = relock(c.path, c.s.now(), c.had)
	if c.err == nil {
		c.err = c.what.run()
	}
	if c.err == nil && c.draft != nil {
		c.err = c.what.journal.Draft(*c.draft)
	}
}

func (c *carrying) end(q *Queue) {
	q.s.lockAgain(c.got)
	q.s.astray = c.err != nil
	if c.err != nil {
		q.journalled(&JournalError{c.err})
		return
	}
	q.journalled(nil)
}

// SaveHow says how to save.
type SaveHow struct {
	Force bool // over what somebody else has written
	Part  bool // although the file has other names on the disk
}

// Saved is what became of a save.
type Saved struct {
	Err     error // as of Session.Save
	Nothing bool  // there was nothing to save
	Names   int   // nothing was written: the file has that many names
}

// Save queues a save of the present state and tells what became of it.
func (q *Queue) Save(how SaveHow, then func(Saved)) {
	q.jobs = append(q.jobs, &store{how: how, plan: q.s.plan(how.Force), then: then})
}

// store is a save that is queued.
type store struct {
	how     SaveHow
	plan    *saving
	same    bool // it would write what is known to be on disk
	looking bool
	s       *Session
	out     Saved
	then    func(Saved)
}

func (st *store) begin(q *Queue) {
	st.s, st.plan.expect, st.plan.journal = q.s, q.s.disk, q.s.journal
	st.looking = q.s.looking
	st.same = st.plan.file.SameText(q.s.base)
}

func (st *store) run() {
	if st.same && !st.how.Force && !st.s.differs(st.plan.expect) {
		st.out.Nothing = true
		return
	}
	if st.looking {
		st.plan.err = ErrLooking
		return
	}
	if n := st.s.Names(); n > 1 && !st.how.Part {
		st.out.Names = n
		return
	}
	st.plan.run()
}

func (st *store) end(q *Queue) {
	if !st.out.Nothing && st.out.Names == 0 {
		st.out.Err = q.s.saved(st.plan)
	}
	st.then(st.out)
}

// Compare looks whether somebody else has changed the file, and tells when they
// have.
func (q *Queue) Compare(changed func()) {
	q.jobs = append(q.jobs, &compare{then: changed})
}

type compare struct {
	s       *Session
	known   [32]byte
	differs bool
	then    func()
}

func (c *compare) begin(q *Queue) { c.s, c.known = q.s, q.s.disk }
func (c *compare) run()           { c.differs = c.s.differs(c.known) }
func (c *compare) end(*Queue) {
	if c.differs {
		c.then()
	}
}

// TakeOver takes the file over once the other program has closed it, and tells
// when that is done, with what the other did not save. With unsaved work here
// nothing is taken over. Nothing is to be changed from free on, which tells that
// the other is gone, until then.
func (q *Queue) TakeOver(free func(), then func(*Leftover, bool)) {
	if q.s.holder != nil && !q.s.Unsaved() {
		q.jobs = append(q.jobs, &locking{free: free, then: then})
	}
}

// locking tries to take the lock.
type locking struct {
	s    *Session
	lock *keep.Lock
	who  *keep.Holder
	free func()
	then func(*Leftover, bool)
}

func (l *locking) begin(q *Queue) { l.s = q.s }

func (l *locking) run() {
	if l.s.gate.Pass("lock", l.s.path) != nil {
		return
	}
	if lock, who, err := keep.TakeLock(l.s.path, l.s.now()); err == nil {
		l.lock, l.who = lock, who
	}
}

func (l *locking) end(q *Queue) {
	if l.lock == nil {
		return
	}
	l.free()
	var left *Leftover
	var ok bool
	q.Alone(func(s *Session) { left, ok = s.takeWith(l.lock, l.who) }, func() { l.then(left, ok) })
}

// Alone lends the session to do, after all that is queued, and calls then when
// it is back. Nothing is to be asked of the session, and nothing to be changed,
// from this call until then.
func (q *Queue) Alone(do func(*Session), then func()) {
	q.jobs = append(q.jobs, &alone{do: do, then: then})
}

type alone struct {
	s    *Session
	do   func(*Session)
	then func()
}

func (a *alone) begin(q *Queue) { a.s = q.s }
func (a *alone) run()           { a.do(a.s) }
func (a *alone) end(*Queue)     { a.then() }

// Syncing returns what waits until the disk has all that the journal holds. It
// may be called beside the queue.
func (q *Queue) Syncing() func() error {
	j := q.s.journal
	return func() error {
		if j == nil {
			return nil
		}
		return j.Sync()
	}
}

// EditAnyway is the method of the session of that name.
func (q *Queue) EditAnyway() { q.s.EditAnyway() }
