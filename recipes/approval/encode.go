package approval

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"path"
	"strconv"
	"strings"
)

// Folder is where a lab's records lie, below its content folder.
const Folder = "approved"

// MostBytes bounds a record: room for a page with several of the largest data files.
const MostBytes = 64 << 20

// signed is a record as it is written: its digest comes last.
type signed struct {
	Record
	Digest string `json:"digest"`
}

// Encode writes a record with the digest of its contents, the same bytes for the same record.
func Encode(r *Record) ([]byte, error) {
	sum, err := digest(r)
	if err != nil {
		return nil, err
	}
	b, err := indented(signed{r.whole(), sum})
	return oneLineEach(b), err
}

// whole is the record with empty lists instead of none, which JSON writes as null.
func (r *Record) whole() Record {
	out := *r
	for _, list := range []*[]string{&out.Limits, &out.Cautions, &out.Steps, &out.Text, &out.Checks} {
		if *list == nil {
			*list = []string{}
		}
	}
	if out.Numbers == nil {
		out.Numbers = []Number{}
	}
	if out.Over == nil {
		out.Over = []Over{}
	}
	if out.Pages == nil {
		out.Pages = []Page{}
	}
	if out.Bench == nil {
		out.Bench = []Bench{}
	}
	if out.Sources == nil {
		out.Sources = []Source{}
	}
	return out
}

// oneLineEach puts each object that holds texts and numbers alone on one line, so that a
// number that changed is one line in a diff.
func oneLineEach(b []byte) []byte {
	lines := strings.Split(string(b), "\n")
	var out []string
	for i := 0; i < len(lines); i++ {
		end := i + 1
		if strings.HasSuffix(lines[i], "{") && i > 0 {
			for plainMember(at(lines, end)) {
				end++
			}
		}
		if closing := strings.TrimSpace(at(lines, end)); end > i+1 && (closing == "}" || closing == "},") {
			line := lines[i]
			for _, inner := range lines[i+1 : end] {
				if !strings.HasSuffix(line, "{") {
					line += " "
				}
				line += strings.TrimSpace(inner)
			}
			out = append(out, line+closing)
			i = end
			continue
		}
		out = append(out, lines[i])
	}
	return []byte(strings.Join(out, "\n"))
}

// plainMember reports whether a line holds a whole member of an object: no list or object begins
// or ends on it.
func plainMember(line string) bool {
	line = strings.TrimSpace(line)
	return strings.HasPrefix(line, `"`) && !strings.HasSuffix(line, "{") && !strings.HasSuffix(line, "[")
}

func at(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return ""
}

func indented(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(v)
	return b.Bytes(), err
}

// digest is the SHA-256 of a record's contents. Spaces between them do not count, so a file
// that was only reformatted still passes.
func digest(r *Record) (string, error) {
	b, err := indented(r.whole())
	sum := sha256.Sum256(b)
	return "sha256 " + hex.EncodeToString(sum[:]), err
}

// What is wrong with a record that was read.
var (
	// ErrEdited says that the contents do not match the digest.
	ErrEdited = errors.New("its digest does not match its contents")
	// ErrForm says that it cannot be read as a record at all.
	ErrForm = errors.New("it is not a record of an approval")
)

// Decode reads a record and checks it against its digest. The error is ErrForm or ErrEdited.
func Decode(raw []byte) (*Record, error) {
	var s signed
	d := json.NewDecoder(bytes.NewReader(raw))
	d.DisallowUnknownFields()
	if d.Decode(&s) != nil {
		return nil, ErrForm
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, ErrForm
	}
	if s.Number == "" || s.Page == "" {
		return nil, ErrForm
	}
	if sum, err := digest(&s.Record); err != nil || sum != s.Digest {
		return nil, ErrEdited
	}
	return &s.Record, nil
}

// Path is where the record of a revision lies in the content folder.
func Path(number string, revision int) string {
	return path.Join(Folder, folderName(number), strconv.Itoa(revision)+".json")
}

// Of tells which number's folder and revision a path is for; ok is false for all other files.
func Of(p string) (folder string, revision int, ok bool) {
	dir, base := path.Split(p)
	above, folder := path.Split(strings.TrimSuffix(dir, "/"))
	stem, is := strings.CutSuffix(base, ".json")
	revision, err := strconv.Atoi(stem)
	return folder, revision, is && err == nil && above == Folder+"/" && strconv.Itoa(revision) == stem
}

// folderName is a document number as the name of a folder: characters that some disk might
// refuse or misread are written as in an address, like %2F.
func folderName(number string) string {
	var b strings.Builder
	for i, c := range []byte(number) {
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', c == '-', c == '_', c == '.' && i > 0:
			b.WriteByte(c)
		default:
			b.WriteString("%" + strings.ToUpper(hex.EncodeToString([]byte{c})))
		}
	}
	return b.String()
}

// IsFor reports whether a folder holds the records of a number.
func IsFor(folder, number string) bool { return folder == folderName(number) }
