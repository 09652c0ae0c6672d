// Package durable writes a file under a name that nobody reads, so that the caller can give it its
// own name in one step and readers see it whole or not at all. It is not for sites, which are
// exchanged as folders (render/publish), nor for what may be lost (the store of render/build).
//
// Phases: Clear removes what killed writers left, Begin writes and flushes, the caller renames,
// Settle flushes the name.
package durable

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"io/fs"
	"os"
	"path"
)

// Random is a part of a name that no other writer will choose.
func Random() string {
	var b [8]byte
	rand.Read(b[:])
	return hex.EncodeToString(b[:])
}

// Begin writes a new file and flushes it. It fails if the file exists. It calls did, which may be
// nil, as soon as the file exists ("begun") and when half of the bytes are written ("half"), so
// that a test can kill the process at that moment.
func Begin(root *os.Root, name string, raw []byte, mode fs.FileMode, did func(step string)) error {
	if did == nil {
		did = func(string) {}
	}
	f, err := root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	did("begun")
	half := len(raw) / 2
	_, err = f.Write(raw[:half])
	did("half")
	if err == nil {
		_, err = f.Write(raw[half:])
	}
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// Settle flushes the names in a folder, as far as the system can.
func Settle(root *os.Root, dir string) {
	if f, err := root.Open(dir); err == nil {
		f.Sync()
		f.Close()
	}
}

// Clear removes the files in a folder that killed writers left, as left recognises them. What
// cannot be read or removed stays.
func Clear(root *os.Root, dir string, left func(fs.FileInfo) bool) {
	f, err := root.Open(dir)
	if err != nil {
		return
	}
	defer f.Close()
	entries, _ := f.ReadDir(-1)
	for _, e := range entries {
		if info, err := e.Info(); err == nil && left(info) {
			root.Remove(path.Join(dir, e.Name()))
		}
	}
}
