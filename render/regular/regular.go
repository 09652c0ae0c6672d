package regular

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// NotRegular is the error for something that exists but is not a regular file.
type NotRegular struct {
	What string // "a folder", "a named pipe", "a device", "a socket", or "no regular file"
}

func (e *NotRegular) Error() string { return "it is " + e.What + ", not a file" }

// TooLarge is the error for a file of more bytes than its reader takes. If the file was growing,
// Size is what had been read by then.
type TooLarge struct{ Size, Most int64 }

func (e *TooLarge) Error() string {
	return fmt.Sprintf("it has %d bytes, and at most %d are read", e.Size, e.Most)
}

// judge refuses what is not a regular file.
func judge(mode fs.FileMode) error {
	switch {
	case mode.IsRegular():
		return nil
	case mode.IsDir():
		return &NotRegular{"a folder"}
	case mode&fs.ModeNamedPipe != 0:
		return &NotRegular{"a named pipe"}
	case mode&fs.ModeDevice != 0:
		return &NotRegular{"a device"}
	case mode&fs.ModeSocket != 0:
		return &NotRegular{"a socket"}
	}
	return &NotRegular{"no regular file"}
}

// Folder is the tree below an open folder. Only regular files and folders can be opened in it;
// anything else is an error, a *NotRegular in a *fs.PathError. No link leads out of it.
type Folder struct{ root *os.Root }

// Below returns the tree below an open folder, which remains the caller's to close.
func Below(root *os.Root) Folder { return Folder{root} }

// Open opens a regular file or a folder; see fs.FS.
func (f Folder) Open(name string) (fs.File, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	return open(name, f.root.Stat, f.root.OpenFile)
}

// Stat follows links and opens nothing; see fs.StatFS.
func (f Folder) Stat(name string) (fs.FileInfo, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "stat", Path: name, Err: fs.ErrInvalid}
	}
	return f.root.Stat(name)
}

// OpenRoot is os.OpenRoot for a path that may not be a folder: os.OpenRoot would wait for a pipe.
func OpenRoot(dir string) (*os.Root, error) {
	info, err := os.Stat(dir)
	if err == nil && !info.IsDir() {
		err = &fs.PathError{Op: "open", Path: dir, Err: errors.New("not a directory")}
	}
	if err != nil {
		return nil, err
	}
	return os.OpenRoot(dir)
}

// open opens a regular file or a folder with the functions given.
func open(name string, stat func(string) (fs.FileInfo, error), openFile func(string, int, fs.FileMode) (*os.File, error)) (*os.File, error) {
	info, err := stat(name)
	if err != nil {
		return nil, err
	}
	if !info.IsDir() {
		if err := judge(info.Mode()); err != nil {
			return nil, &fs.PathError{Op: "open", Path: name, Err: err}
		}
	}
	file, err := openFile(name, os.O_RDONLY|withoutWaiting, 0)
	if err != nil {
		return nil, err
	}
	if info, err = file.Stat(); err == nil && !info.IsDir() {
		if err = judge(info.Mode()); err != nil {
			err = &fs.PathError{Op: "open", Path: name, Err: err}
		}
	}
	if err != nil {
		file.Close()
		return nil, err
	}
	return file, nil
}

// Read reads a file of a tree that has at most most bytes. Its errors are a *NotRegular or a
// *TooLarge in a *fs.PathError, and those of the system.
func Read(tree fs.FS, name string, most int64) ([]byte, error) {
	f, err := tree.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return readAll(f, name, most)
}

// ReadFile is Read for a path of the system.
func ReadFile(path string, most int64) ([]byte, error) {
	f, err := open(path, os.Stat, os.OpenFile)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return readAll(f, path, most)
}

func readAll(f fs.File, name string, most int64) ([]byte, error) {
	fail := func(err error) ([]byte, error) { return nil, &fs.PathError{Op: "read", Path: name, Err: err} }
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if err := judge(info.Mode()); err != nil {
		return fail(err)
	}
	if info.Size() > most {
		return fail(&TooLarge{info.Size(), most})
	}
	raw := make([]byte, 0, info.Size()+1)
	for {
		n, err := f.Read(raw[len(raw):cap(raw)])
		raw = raw[:len(raw)+n]
		switch {
		case int64(len(raw)) > most: // it grows while it is read
			return fail(&TooLarge{int64(len(raw)), most})
		case errors.Is(err, io.EOF):
			return raw, nil
		case err != nil:
			return nil, err
		}
		if len(raw) == cap(raw) {
			raw = append(raw, 0)[:len(raw)]
		}
	}
}
