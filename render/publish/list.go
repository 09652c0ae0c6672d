package publish

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strconv"
)

// listName is the file in a published folder that says which of the others
// publish wrote.
const listName = ".labsite-published"

// The most bytes read of a list, which has about a hundred for each file, and of a .gitignore.
const (
	mostList   = 256 << 20
	mostIgnore = 1 << 20
)

// The list is text. Its first line says what it is, then comes a line for each file: the size in
// bytes, a space, the SHA-256 of its bytes (FIPS 180-4) in hexadecimal, a space, the path. The last
// line counts the files, so that half a list can be recognised.
const (
	listHead = "labsite published these files; do not edit this list (form 1)"
	listTail = "files in all: "
)

var errHalfList = errors.New("it is cut short")

type entry struct {
	name string
	size int64
	hash [sha256.Size]byte
}

func (e entry) line() string { return fmt.Sprintf("%d %x %s\n", e.size, e.hash, e.name) }

// list is sorted by name when it is written.
type list []entry

func (l list) bytes() []byte {
	var b bytes.Buffer
	fmt.Fprintln(&b, listHead)
	for _, e := range l {
		b.WriteString(e.line())
	}
	fmt.Fprintf(&b, "%s%d\n", listTail, len(l))
	return b.Bytes()
}

// readList is the reverse of bytes; of half a list it also returns the entries that are whole.
// Paths are checked as if they came from a stranger, since files are deleted by them.
func readList(raw []byte) (list, error) {
	head, rest, whole := bytes.Cut(raw, []byte("\n"))
	if string(bytes.TrimSuffix(head, []byte("\r"))) != listHead || !whole {
		if bytes.HasPrefix([]byte(listHead+"\n"), raw) {
			return nil, errHalfList
		}
		return nil, errors.New("its first line is not one that this version writes")
	}
	var l list
	for line := 2; len(rest) > 0; line++ {
		text, after, whole := bytes.Cut(rest, []byte("\n"))
		if !whole {
			return l, errHalfList
		}
		rest = after
		text = bytes.TrimSuffix(text, []byte("\r"))
		if count, ok := bytes.CutPrefix(text, []byte(listTail)); ok {
			if n, err := strconv.Atoi(string(count)); err != nil || n != len(l) || len(rest) > 0 {
				return nil, fmt.Errorf("its line %d contradicts the rest", line)
			}
			return l, nil
		}
		e, err := readEntry(text)
		if err != nil {
			return nil, fmt.Errorf("its line %d is damaged", line)
		}
		l = append(l, e)
	}
	return l, errHalfList
}

func readEntry(text []byte) (e entry, err error) {
	size, rest, ok1 := bytes.Cut(text, []byte(" "))
	hash, name, ok2 := bytes.Cut(rest, []byte(" "))
	if !ok1 || !ok2 || len(hash) != hex.EncodedLen(len(e.hash)) {
		return entry{}, errors.New("no entry")
	}
	if _, err := hex.Decode(e.hash[:], hash); err != nil {
		return entry{}, err
	}
	if e.size, err = strconv.ParseInt(string(size), 10, 64); err != nil || e.size < 0 {
		return entry{}, errors.New("no size")
	}
	e.name = string(name)
	return e, checkName(e.name)
}
