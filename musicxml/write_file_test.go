package musicxml

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"testing"
)

func wantWriteError(t *testing.T, err error, id string) {
	t.Helper()
	var e *Error
	if !errors.As(err, &e) || e.ID != id {
		t.Errorf("got %v, want %s", err, id)
	}
}

func onlyFile(t *testing.T, dir, name, content string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != 1 || entries[0].Name() != name {
		t.Errorf("the folder holds %v (%v)", entries, err)
	}
	if got, err := os.ReadFile(filepath.Join(dir, name)); err != nil || string(got) != content {
		t.Errorf("the file holds %q (%v)", got, err)
	}
}

func TestWriteNewFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.xml")
	if err := WriteFile(path, []byte("one"), false); err != nil {
		t.Fatal(err)
	}
	onlyFile(t, dir, "a.xml", "one")
	made, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	plain := filepath.Join(t.TempDir(), "b.xml")
	if err := os.WriteFile(plain, nil, 0o666); err != nil {
		t.Fatal(err)
	}
	if usual, err := os.Stat(plain); err != nil || usual.Mode() != made.Mode() {
		t.Errorf("the permissions are %v, not the usual", made.Mode())
	}
}

func TestOverwrite(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.xml")
	if err := os.WriteFile(path, []byte("one"), 0o640); err != nil {
		t.Fatal(err)
	}
	wantWriteError(t, WriteFile(path, []byte("two"), false), "file-exists")
	onlyFile(t, dir, "a.xml", "one")
	if err := WriteFile(path, []byte("two"), true); err != nil {
		t.Fatal(err)
	}
	onlyFile(t, dir, "a.xml", "two")
	if info, err := os.Stat(path); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o640 {
		t.Errorf("the permissions became %v", info.Mode())
	}
	if err := os.Chmod(path, 0o440); err != nil {
		t.Fatal(err)
	}
	wantWriteError(t, WriteFile(path, []byte("three"), true), "write-failed")
	onlyFile(t, dir, "a.xml", "two")
}

func TestWriteThroughALink(t *testing.T) {
	dir, links := t.TempDir(), t.TempDir()
	path, link := filepath.Join(dir, "a.xml"), filepath.Join(links, "link.xml")
	if err := os.WriteFile(path, []byte("one"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(path, link); err != nil {
		t.Skip("no symbolic links here")
	}
	if err := WriteFile(link, []byte("two"), true); err != nil {
		t.Fatal(err)
	}
	onlyFile(t, dir, "a.xml", "two")
	onlyFile(t, links, "link.xml", "two")
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Error("the link is no link any more")
	}
}

func TestWhereNothingCanBeWritten(t *testing.T) {
	dir := t.TempDir()
	wantWriteError(t, WriteFile(dir, nil, true), "write-failed")
	wantWriteError(t, WriteFile(filepath.Join(dir, "no", "a.xml"), nil, true), "write-failed")
	if err := os.WriteFile(filepath.Join(dir, "file"), []byte("x"), 0o666); err != nil {
		t.Fatal(err)
	}
	wantWriteError(t, WriteFile(filepath.Join(dir, "file", "a.xml"), nil, true), "write-failed")
	if _, err := os.Stat("/dev/full"); err == nil {
		wantWriteError(t, WriteFile("/dev/full", []byte("x"), true), "write-failed")
	}
	onlyFile(t, dir, "file", "x")
}
