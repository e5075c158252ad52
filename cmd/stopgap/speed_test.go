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
	"stopgap/musicxml"
	"stopgap/registry/shelf"
)

// The table "How fast it is" of README.md is made by
//
//	go test ./cmd/stopgap -run TestSpeed -speed -v
//
// The stages by themselves are benchmarks.

var speed = flag.Bool("speed", false, "measure the table of README.md")

// TestSpeed measures the command and the XML library in processes of their
// own, in turn, on scores with a direction in every tenth measure, and prints
// the best of the times.
func TestSpeed(t *testing.T) {
	if !*speed {
		t.Skip("-speed is not given")
	}
	dir := t.TempDir()
	fmt.Printf("%s, %d processors, %s/%s\n\n", runtime.Version(), runtime.NumCPU(), runtime.GOOS, runtime.GOARCH)
	fmt.Println("| measures | directions | file | reading | planning | writing | the command | the XML library | time | memory |")
	fmt.Println("|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|")
	for _, measures := range []int{500, 2000} {
		score := longScore{measures: measures, every: 10}
		file, out := filepath.Join(dir, "score.musicxml"), filepath.Join(dir, "out.musicxml")
		text := score.text()
		write(t, file, text)
		stages := stagesOf(t, text)
		var ours, library process
		for range 5 {
			cmd := command(t, "annotate", "-q", "--force", "-o", out, file)
			ours.best(measured(t, cmd))
			cmd = command(t, file, out)
			cmd.Env = append(cmd.Env, asLibrary+"=1")
			library.best(measured(t, cmd))
		}
		fmt.Printf("| %d | %d | %.1f MB | %s | %s | %s | %s, %d MB | %s, %d MB | %.2f× | %.2f× |\n",
			measures, (measures+score.every-1)/score.every, float64(len(text))/1e6,
			seconds(stages.read), seconds(stages.plan), seconds(stages.write),
			seconds(ours.time), ours.bytes/1e6, seconds(library.time), library.bytes/1e6,
			ours.time.Seconds()/library.time.Seconds(), float64(ours.bytes)/float64(library.bytes))
	}
}

func seconds(d time.Duration) string { return fmt.Sprintf("%.2f s", d.Seconds()) }

type stages struct{ read, plan, write time.Duration }

// stagesOf is the best of three of each stage.
func stagesOf(t *testing.T, text []byte) stages {
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
	opts := annotate.Options{Propose: true}
	for range 3 {
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
		if _, err := annotate.Plan(doc, organ, annotate.Options{Propose: true}); err != nil {
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
	r, err := annotate.Plan(doc, organ, annotate.Options{Propose: true})
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
	for _, measures := range []int{500, 2000, 5000} {
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
