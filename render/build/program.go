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

// programSum identifies this very build of the program, since results of another build are not
// used. The toolchain writes a sum of all that went into a program near the beginning of its file.
// Where that was left out, the whole file is read at each start. To keep that fast, two CRCs, which
// the processor works out itself, and the length have to do: nobody forges a program to pass for
// this one.
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

// buildID matches the id that go build writes: sums of the inputs, of the main package (twice) and
// of the output, 20 characters each. A builder may set any other text, which need not differ from
// program to program, so only this form counts.
var buildID = regexp.MustCompile(`(?:Go\x00\x00|Go build ID: ")((?:[\w-]{20}/){3}[\w-]{20})[\x00"]`)

// idWithin bounds how far from the beginning of a program its id is, in bytes.
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
