// Package parallel does independent pieces of work side by side.
package parallel

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// Each calls work for 0 to n-1, as many at a time as there are processors. The order of the calls is
// not that of the numbers: what comes of them is put together in an order of its own.
func Each(n int, work func(i int)) {
	workers := min(runtime.GOMAXPROCS(0), n)
	if workers <= 1 {
		for i := range n {
			work(i)
		}
		return
	}
	var taken atomic.Int64
	share := func() {
		for i := int(taken.Add(1)); i <= n; i = int(taken.Add(1)) {
			work(i - 1)
		}
	}
	var wait sync.WaitGroup
	for range workers - 1 {
		wait.Go(share)
	}
	share() // the caller takes its share: to wake another for it takes as long as a small piece of work
	wait.Wait()
}
