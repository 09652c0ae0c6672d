package publish

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// listName is the file in a published folder that says which of the others
// publish wrote.
const listName = ".labsite-published"

// The list is text. Its first line says what it is, then comes a line for each
// file: the size in bytes, a blank, the SHA-256 of its bytes (FIPS 180-4) in
// hexadecimal, a blank, the path. The last line counts the files, so that half a
// list is known for one.
const (
	listHead = "labsite published these files; do not edit this list (form 1)"
	listTail = "files in all: "
)

var errHalfList = errors.New("it breaks off")

type entry struct {
	name string
	size int64
	hash [sha256.Size]byte
}

// list is in the order of names.
type list []entry

func (l list) names() map[string]bool {
	set := make(map[string]bool, len(l))
	for _, e := range l {
		set[e.name] = true
	}
	return set
}

func (l list) bytes() []byte {
	var b bytes.Buffer
	fmt.Fprintln(&b, listHead)
	for _, e := range l {
		fmt.Fprintf(&b, "%d %x %s\n", e.size, e.hash, e.name)
	}
	fmt.Fprintf(&b, "%s%d\n", listTail, len(l))
	return b.Bytes()
}

// readList is the reverse of bytes. Paths are checked as if they came from a
// stranger, since files are deleted by them.
func readList(raw []byte) (list, error) {
	in := bufio.NewScanner(bytes.NewReader(raw))
	in.Buffer(nil, 1<<20)
	if !in.Scan() || in.Text() != listHead {
		if bytes.HasPrefix([]byte(listHead+"\n"), raw) {
			return nil, errHalfList
		}
		return nil, errors.New("its first line is not one that this version writes")
	}
	var l list
	for line := 2; in.Scan(); line++ {
		text := in.Text()
		if count, ok := strings.CutPrefix(text, listTail); ok {
			if n, err := strconv.Atoi(count); err != nil || n != len(l) || in.Scan() || !bytes.HasSuffix(raw, []byte("\n")) {
				return nil, fmt.Errorf("its line %d does not fit the rest", line)
			}
			return l, nil
		}
		e, err := readEntry(text)
		if err != nil {
			if bytes.Count(raw, []byte("\n")) < line {
				return nil, errHalfList
			}
			return nil, fmt.Errorf("its line %d is damaged", line)
		}
		l = append(l, e)
	}
	if err := in.Err(); err != nil {
		return nil, err
	}
	return nil, errHalfList
}

func readEntry(text string) (entry, error) {
	size, rest, ok1 := strings.Cut(text, " ")
	hash, name, ok2 := strings.Cut(rest, " ")
	n, err := strconv.ParseInt(size, 10, 64)
	sum, err2 := hex.DecodeString(hash)
	if err := errors.Join(err, err2); err != nil || !ok1 || !ok2 || n < 0 || len(sum) != sha256.Size {
		return entry{}, errors.New("no entry")
	}
	if err := checkName(name); err != nil {
		return entry{}, err
	}
	return entry{name: name, size: n, hash: [sha256.Size]byte(sum)}, nil
}
