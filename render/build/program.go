package build

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"regexp"
	"sync"
)

// programSum identifies this very program: results of another one are not used. It
// is found at each start. The toolchain writes a sum of all that went into a program near the
// beginning of its file. Where that was left out, the whole file is read, and since that takes
// long, two short sums, which the processor itself works out, and its length have to do: nobody
// makes a program to be taken for this one.
var programSum = sync.OnceValues(func() (sum Digest, err error) {
	name, err := os.Executable()
	if err != nil {
		return sum, err
	}
	f, err := os.Open(name)
	if err != nil {
		return sum, err
	}
	defer f.Close()
	return programSumOf(f)
})

// buildID is the id of a program as go build writes it: of what it was made from, of its main
// package, twice, and of what came out, each a sum in 20 characters. A builder may put another
// text in its place, which need not differ from program to program.
var buildID = regexp.MustCompile(`(?:Go\x00\x00|Go build ID: ")((?:[\w-]{20}/){3}[\w-]{20})[\x00"]`)

// idWithin is how many bytes from the beginning of a program its id stands.
const idWithin = 64 << 10

func programSumOf(f io.Reader) (sum Digest, err error) {
	begin, err := io.ReadAll(io.LimitReader(f, idWithin))
	if err != nil {
		return sum, err
	}
	if found := buildID.FindSubmatch(begin); found != nil {
		return sha256.Sum256(found[1]), nil
	}
	a, b := crc32.New(crc32.MakeTable(crc32.Castagnoli)), crc32.NewIEEE()
	length, err := io.CopyBuffer(io.MultiWriter(a, b), struct{ io.Reader }{io.MultiReader(bytes.NewReader(begin), f)}, make([]byte, 256<<10))
	return sha256.Sum256(fmt.Appendf(nil, "%x %x %x", a.Sum(nil), b.Sum(nil), length)), err
}
