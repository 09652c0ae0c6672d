package publish

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
)

// Refusal is an error that trying again does not fix: a person has to change
// something first. Its text says what.
type Refusal struct {
	Message string // what is in the way
	Hint    string // what to do about it
	// Files are all files that are in the way, if any, relative to the folder and sorted.
	Files []string
}

func (r *Refusal) Error() string { return r.Message + ". " + r.Hint }

func refuse(message, hint string) error { return &Refusal{Message: message, Hint: hint} }

// Busy is the error of a publish into a folder that another one is writing.
type Busy struct {
	Dir    string
	Holder string // who, as far as is known: process, machine and time
	hint   string
}

func (b *Busy) Error() string {
	by := ""
	if b.Holder != "" {
		by = " (" + b.Holder + ")"
	}
	return fmt.Sprintf("another publish is writing into %s%s. %s", b.Dir, by, b.hint)
}

// most is how many files a message names.
const most = 5

func some(files []string) string {
	if len(files) <= most {
		return strings.Join(files, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(files[:most], ", "), len(files)-most)
}

func (p place) foreign(files []string) error {
	return &Refusal{Files: files,
		Message: fmt.Sprintf("%s holds files that publish did not write: %s", p.said, some(files)),
		Hint:    "Nothing was changed. Move them elsewhere, or choose an empty folder to publish into."}
}

func (p place) altered(files []string) error {
	return &Refusal{Files: files,
		Message: fmt.Sprintf("%s holds published files that were changed by hand: %s", p.said, some(files)),
		Hint:    "Nothing was changed. Bring the change into the pages it came from and delete these files; publish will write them again."}
}

func (p place) unreadableList(files []string, why error) error {
	return &Refusal{Files: files,
		Message: fmt.Sprintf("%s holds files, but the list of what publish wrote there (%s) cannot be used: %v", p.said, listName, why),
		Hint:    "Nothing was changed. If all in that folder came from publish, delete the folder and publish again."}
}

func (p place) stopped(err error) error { return &stopError{dir: p.said, err: err} }

// stopError says for a person that the context ended; it unwraps to the cause.
type stopError struct {
	dir string
	err error
}

func (s *stopError) Error() string {
	return fmt.Sprintf("publishing into %s was stopped; the site there is as it was: %v", s.dir, s.err)
}
func (s *stopError) Unwrap() error { return s.err }

func (p place) parentTrouble(err error) error {
	if errors.Is(err, fs.ErrPermission) || isReadOnly(err) {
		return &denied{err: err, text: fmt.Sprintf("cannot write in %s, where the new site is built before it takes the place of %s: %v. "+
			"Get permission to write in that folder, or publish somewhere else.", p.parent, p.said, err)}
	}
	return fmt.Errorf("preparing to publish into %s: %w", p.said, err)
}

// denied says for a person that a permission is missing; it unwraps to the cause.
type denied struct {
	text string
	err  error
}

func (d *denied) Error() string { return d.text }
func (d *denied) Unwrap() error { return d.err }
