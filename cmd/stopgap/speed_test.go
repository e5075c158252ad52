package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/beevik/etree"

	"stopgap/annotate"
	"stopgap/annotate/resolve"
	"stopgap/musicxml"
	"stopgap/registry/shelf"
)

// The tables "How fast it is" of README.md are made by
//
//	go test -p 1 ./cmd/stopgap ./annotate/resolve -run TestSpeed -speed -v -timeout 60m
//
// The stages by themselves are benchmarks, here and in their packages.

var speed = flag.Bool("speed", false, "measure the tables of README.md")

// TestSpeed measures the command and the XML library in processes of their
// own, in turn, on scores with a direction in every tenth measure, and prints
// the best of each. Times of processes are those on the processors, so that
// what else the machine does counts little.
func TestSpeed(t *testing.T) {
	if !*speed {
		t.Skip("-speed is not given")
	}
	dir := t.TempDir()
	fmt.Printf("%s, %d processors, %s/%s\n\n", runtime.Version(), runtime.NumCPU(), runtime.GOOS, runtime.GOARCH)
	fmt.Println("| measures | directions | file | reading | planning | writing | the command | the XML library | time | memory |")
	fmt.Println("|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|")
	for _, measures := range []int{500, 2000, 20000} {
		score := longScore{measures: measures, every: 10}
		file, out := filepath.Join(dir, "score.musicxml"), filepath.Join(dir, "out.musicxml")
		text := score.text()
		write(t, file, text)
		runs := max(2, min(7, 14000/measures))
		stages := stagesOf(t, text, min(runs, 3))
		var ours, library process
		for range runs {
			cmd := command(t, "annotate", "-q", "--force", "-o", out, file)
			ours.best(measured(t, cmd))
			cmd = command(t, file, out)
			cmd.Env = append(cmd.Env, asLibrary+"=1")
			library.best(measured(t, cmd))
		}
		fmt.Printf("| %d | %d | %.1f MB | %s | %s | %s | %s, %d MB | %s, %d MB | %.2f× | %.2f× |\n",
			measures, (measures+score.every-1)/score.every, float64(len(text))/1e6,
			seconds(stages.read), seconds(stages.plan), seconds(stages.write),
			seconds(ours.busy), ours.bytes/1e6, seconds(library.busy), library.bytes/1e6,
			ours.busy.Seconds()/library.busy.Seconds(), float64(ours.bytes)/float64(library.bytes))
	}
	var start process
	for range 20 {
		start.best(measured(t, command(t, "--help")))
	}
	fmt.Printf("\nThe command starts and ends in %d ms.\n", start.time.Milliseconds())
}

func seconds(d time.Duration) string { return fmt.Sprintf("%.2f s", d.Seconds()) }

type stages struct{ read, plan, write time.Duration }

// stagesOf is the best of some runs of each stage.
func stagesOf(t *testing.T, text []byte, runs int) stages {
	t.Helper()
	var best stages
	organ, err := shelf.Open(shelf.Default())
	if err != nil {
		t.Fatal(err)
	}
	less := func(to *time.Duration, since time.Time) {
		if took := time.Since(since); *to == 0 || took < *to {
			*to = took
		}
	}
	opts := annotate.Options{Propose: true, Resolve: resolve.Options{OnlyPlayed: true}}
	for range runs {
		began := time.Now()
		doc, err := musicxml.Read("score", text)
		if err != nil {
			t.Fatal(err)
		}
		less(&best.read, began)
		began = time.Now()
		r, err := annotate.Plan(doc, organ, opts)
		if err != nil {
			t.Fatal(err)
		}
		less(&best.plan, began)
		began = time.Now()
		if _, err := r.Write(opts, organ.Name); err != nil {
			t.Fatal(err)
		}
		less(&best.write, began)
	}
	return best
}

// The stages, and the XML library, one by one.

func benchScore() []byte { return longScore{measures: 2000, every: 10}.text() }

func BenchmarkReading(b *testing.B) {
	text := benchScore()
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := musicxml.Read("score", text); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPlanning(b *testing.B) {
	doc, err := musicxml.Read("score", benchScore())
	if err != nil {
		b.Fatal(err)
	}
	organ, err := shelf.Open(shelf.Default())
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := annotate.Plan(doc, organ, annotate.Options{Propose: true, Resolve: resolve.Options{OnlyPlayed: true}}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWriting(b *testing.B) {
	doc, err := musicxml.Read("score", benchScore())
	if err != nil {
		b.Fatal(err)
	}
	organ, err := shelf.Open(shelf.Default())
	if err != nil {
		b.Fatal(err)
	}
	r, err := annotate.Plan(doc, organ, annotate.Options{Propose: true, Resolve: resolve.Options{OnlyPlayed: true}})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := r.Write(annotate.Options{}, organ.Name); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkCommand is the whole command but for the start of its process, on
// scores of several lengths: the time should grow as they do.
func BenchmarkCommand(b *testing.B) {
	for _, measures := range []int{500, 2000, 20000} {
		file := filepath.Join(b.TempDir(), "score.musicxml")
		if err := os.WriteFile(file, longScore{measures: measures, every: 10}.text(), 0o666); err != nil {
			b.Fatal(err)
		}
		b.Run(fmt.Sprint(measures), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				var out, stderr bytes.Buffer
				if status := run(&console{out: &out, err: &stderr}, []string{"annotate", "-q", "--organ", shelf.Default(), "-o", "-", file}); status != exitDone {
					b.Fatal(stderr.String())
				}
			}
		})
	}
}

// BenchmarkLibrary is what the XML library takes to read and write the same.
func BenchmarkLibrary(b *testing.B) {
	text := benchScore()
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		doc := etree.NewDocument()
		if err := doc.ReadFromBytes(text); err != nil {
			b.Fatal(err)
		}
		if _, err := doc.WriteToBytes(); err != nil {
			b.Fatal(err)
		}
	}
}
