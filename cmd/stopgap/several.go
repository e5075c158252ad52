package main

import (
	"runtime"
	"sync"
)

// inOrder works on n things on all processors at once and takes what comes of
// them in their own order, each as soon as those before it are done.
func inOrder[T any](n int, work func(int) T, take func(int, T)) {
	results := make([]chan T, n)
	for i := range results {
		results[i] = make(chan T, 1)
	}
	next := make(chan int)
	ahead := make(chan struct{}, 2*runtime.GOMAXPROCS(0))
	go func() {
		for i := range n {
			ahead <- struct{}{}
			next <- i
		}
		close(next)
	}()
	var workers sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			for i := range next {
				results[i] <- work(i)
			}
		})
	}
	for i, result := range results {
		take(i, <-result)
		<-ahead
	}
	workers.Wait()
}
