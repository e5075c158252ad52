package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"runtime"
	"syscall"
)

// An output is standard output or standard error. It keeps the first error of
// writing, so that one that nobody looked at is told at the end.
type output struct {
	to  io.Writer
	err error
}

func (o *output) Write(b []byte) (int, error) {
	if o.err != nil {
		return len(b), nil // it has been said once, or need not be
	}
	n, err := o.to.Write(b)
	if err == nil {
		return n, nil
	}
	o.err = err
	if isClosedPipe(err) {
		return len(b), nil
	}
	return n, err
}

// failed is the error that is still to be told. That the reader of a pipe has
// gone is none: it has all that it wanted.
func (o *output) failed() error {
	if isClosedPipe(o.err) {
		return nil
	}
	return o.err
}

// keepBrokenPipes lets writing to a pipe that nobody reads any more fail with an
// error, instead of ending the program in the middle of its work.
func keepBrokenPipes() { signal.Ignore(syscall.SIGPIPE) }

func isClosedPipe(err error) bool {
	if errors.Is(err, syscall.EPIPE) || errors.Is(err, io.ErrClosedPipe) || errors.Is(err, os.ErrClosed) {
		return true
	}
	const brokenPipe, noData = 109, 232 // as Windows numbers them
	var number syscall.Errno
	return runtime.GOOS == "windows" && errors.As(err, &number) && (number == brokenPipe || number == noData)
}

// written is the status of a command that has written its output.
func (c *console) written(err error) int {
	if err != nil {
		return c.fail("%v", outputError(err))
	}
	return exitDone
}

// outputError says why standard output could not be written.
func outputError(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	return fmt.Errorf("standard output: %w", err)
}
