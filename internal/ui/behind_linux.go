package ui

import (
	"runtime"
	"syscall"
)

// behind is the nice value of work that nobody waits for: a tenth of a processor where keys
// want all of them, and one whole where they do not.
const behind = 10

// behindKeys has the system let every other thread of the bench go before the goroutine that
// calls it, until that ends: between two steps of a search, which can be ten milliseconds
// apart in a large build, a key is answered all the same. The thread ends with the goroutine,
// since not everybody may raise it again.
func behindKeys() {
	runtime.LockOSThread()
	_ = syscall.Setpriority(syscall.PRIO_PROCESS, syscall.Gettid(), behind)
}
