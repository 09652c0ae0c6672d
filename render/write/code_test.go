package write

import (
	"bytes"
	"encoding/json"
	"image"
	"image/color"
	"os/exec"
	"strings"
	"testing"

	"github.com/dop251/goja"
	qr "github.com/piglig/go-qr"

	"labsite/themes"
)

// TestCodeOfACard draws codes of every length with the script of cards, and reads them with a library.
func TestCodeOfACard(t *testing.T) {
	address := "https://lab.example/developing/one-shot-developer.html#tank=600%20ml&bath=22%20%C2%B0C&paper=G-001.4"
	long := strings.Repeat(address, 8)
	versions := map[int]bool{}
	lengths := []int{1, 14, 15, 26, 27, 42, 62, 84, 85, 106, 122, 123, 152, 180, 213, 214, 251, 287, 331, 362, 412, 450, 504, 560, 624, 625, 666}
	var all []string
	for _, n := range lengths {
		all = append(all, long[:n])
	}
	codes := codesOf(t, append(all, address+"°µ", long[:667]))
	for i, n := range lengths {
		rows := codes[i]
		versions[(len(rows)-17)/4] = true
		got, err := qr.Decode(pictureOf(rows))
		if err != nil || got != long[:n] {
			t.Errorf("a code of %d bytes is read as %q: %v", n, got, err)
		}
	}
	for v := 1; v <= 20; v++ {
		if !versions[v] {
			t.Errorf("no code of version %d was drawn", v)
		}
	}
	if got, err := qr.Decode(pictureOf(codes[len(lengths)])); err != nil || got != address+"°µ" {
		t.Errorf("signs beyond ASCII are read as %q: %v", got, err)
	}
	if rows := codes[len(lengths)+1]; rows != nil {
		t.Error("a code beyond version 20 is drawn")
	}
}

// codesOf draws codes with the script of cards, in node if it is installed; the engine in Go takes about a
// hundred times as long.
func codesOf(t *testing.T, texts []string) (codes [][][]int) {
	t.Helper()
	js, err := themes.Files.ReadFile("code.js")
	if err != nil {
		t.Fatal(err)
	}
	list, err := json.Marshal(texts)
	if err != nil {
		t.Fatal(err)
	}
	script := string(js) + ";\nconst drawn = JSON.stringify(" + string(list) + ".map((t) => codeOf(t)));\n"
	if node, err := exec.LookPath("node"); err == nil {
		cmd := exec.Command(node, "-")
		cmd.Stdin = strings.NewReader(script + "process.stdout.write(drawn);")
		var said bytes.Buffer
		cmd.Stderr = &said
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("%v\n%s", err, &said)
		}
		return drawnCodes(t, out)
	}
	vm := goja.New()
	vm.Set("TextEncoder", func(goja.ConstructorCall) *goja.Object {
		o := vm.NewObject()
		o.Set("encode", func(text string) []int {
			var out []int
			for _, b := range []byte(text) {
				out = append(out, int(b))
			}
			return out
		})
		return o
	})
	out, err := vm.RunString(script + "drawn")
	if err != nil {
		t.Fatal(err)
	}
	return drawnCodes(t, []byte(out.String()))
}

func drawnCodes(t *testing.T, drawn []byte) (codes [][][]int) {
	t.Helper()
	if err := json.Unmarshal(drawn, &codes); err != nil {
		t.Fatal(err)
	}
	return codes
}

// pictureOf draws a code with four pixels to a module, with its quiet zone.
func pictureOf(rows [][]int) image.Image {
	const scale, quiet = 4, 4
	size := (len(rows) + 2*quiet) * scale
	img := image.NewGray(image.Rect(0, 0, size, size))
	for y := range size {
		for x := range size {
			img.SetGray(x, y, color.Gray{255})
			r, c := y/scale-quiet, x/scale-quiet
			if r >= 0 && c >= 0 && r < len(rows) && c < len(rows) && rows[r][c] == 1 {
				img.SetGray(x, y, color.Gray{0})
			}
		}
	}
	return img
}
