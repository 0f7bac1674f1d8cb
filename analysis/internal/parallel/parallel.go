// Package parallel does independent pieces of work side by side.
package parallel

import (
	"runtime"
	"sync"
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
	next := make(chan int, n)
	for i := range n {
		next <- i
	}
	close(next)
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			for i := range next {
				work(i)
			}
		})
	}
	wait.Wait()
}
