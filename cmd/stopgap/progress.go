package main

import (
	"fmt"
	"io"
	"sync"
	"time"
)

// A progress tells on a terminal how far work has come that takes a while. It
// is one line, written over itself and gone when the work is done; where
// standard error is no terminal nothing is ever written.
type progress struct {
	w       io.Writer // nil where nothing is shown
	room    int       // columns for the text
	patient time.Duration
	began   time.Time

	mu    sync.Mutex
	text  string
	shown bool
	stop  chan struct{}
	gone  chan struct{}
}

// patience is how long work may take before anything is said of it.
const patience = 700 * time.Millisecond

// progress begins to watch over some work.
func (c *console) progress(quiet bool) *progress {
	p := &progress{room: max(20, c.width-12), patient: patience, began: time.Now(), stop: make(chan struct{}), gone: make(chan struct{})}
	if c.errTerminal && !quiet {
		p.w = c.err
	}
	p.watch()
	return p
}

// watch renews the line every now and then until the work is done.
func (p *progress) watch() {
	if p.w == nil {
		close(p.gone)
		return
	}
	go func() {
		defer close(p.gone)
		tick := time.NewTicker(p.patient)
		defer tick.Stop()
		for {
			select {
			case <-p.stop:
				return
			case <-tick.C:
				p.mu.Lock()
				p.show()
				p.mu.Unlock()
			}
		}
	}()
}

// at says what is being done now.
func (p *progress) at(format string, args ...any) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.text = fmt.Sprintf(format, args...)
	if runes := []rune(p.text); len(runes) > p.room {
		p.text = string(runes[:p.room-1]) + "…"
	}
}

// show writes the line. The caller holds the lock.
func (p *progress) show() {
	if p.text != "" {
		fmt.Fprintf(p.w, "\r%s (%d s)\x1b[K", p.text, int(time.Since(p.began).Seconds()))
		p.shown = true
	}
}

// aside takes the line away while something else is written.
func (p *progress) aside(write func()) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.shown {
		fmt.Fprint(p.w, "\r\x1b[K")
		p.shown = false
	}
	write()
}

// done ends the watch and takes the line away.
func (p *progress) done() {
	if p.w != nil {
		close(p.stop)
	}
	<-p.gone
	p.aside(func() {})
}
