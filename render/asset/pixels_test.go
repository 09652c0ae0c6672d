package asset

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"github.com/bep/imagemeta"
)

// drawn is a picture of 24 × 16 pixels of several colours.
func drawn() *image.Paletted {
	m := image.NewPaletted(image.Rect(0, 0, 24, 16), color.Palette{color.Black, color.White, color.Gray{90}, color.NRGBA{200, 30, 30, 255}})
	for i := range m.Pix {
		m.Pix[i] = uint8(i*i/7) % 4
	}
	return m
}

// secret is put wherever a picture can hold words, and must never be published.
const secret = "Invented Owner, 12 Osterby Lane"

// exifData is EXIF data with an orientation, the name of an owner and a place.
func exifData(turned uint16) []byte {
	b := []byte("II*\x00\x08\x00\x00\x00\x03\x00")
	entry := func(tag, kind uint16, count, value uint32) {
		b = binary.LittleEndian.AppendUint16(b, tag)
		b = binary.LittleEndian.AppendUint16(b, kind)
		b = binary.LittleEndian.AppendUint32(b, count)
		b = binary.LittleEndian.AppendUint32(b, value)
	}
	const text = 8 + 2 + 3*12 + 4
	entry(0x0112, 3, 1, uint32(turned))
	entry(0x013b, 2, uint32(len(secret)+1), text)
	entry(0x8825, 4, 1, text+uint32(len(secret))+1) // the place, in a directory of its own
	b = append(b, 0, 0, 0, 0)
	b = append(b, secret+"\x00"...)
	b = binary.LittleEndian.AppendUint16(b, 1)
	entry(1, 2, 2, 'N')
	return append(b, 0, 0, 0, 0)
}

func jpegFile(turned uint16) []byte {
	var b bytes.Buffer
	jpeg.Encode(&b, drawn(), nil)
	raw := b.Bytes()
	out := appendSegment([]byte{0xff, 0xd8}, markApp0, []byte("JFIF\x00\x01\x02\x01\x00\x48\x00\x48\x01\x01\x0a\x0b\x0c"))
	out = appendSegment(out, markApp1, append([]byte("Exif\x00\x00"), exifData(turned)...))
	out = appendSegment(out, markApp1, []byte("http://ns.adobe.com/xap/1.0/\x00<x>"+secret+"</x>"))
	out = appendSegment(out, 0xed, []byte("Photoshop 3.0\x00"+secret))
	out = appendSegment(out, markApp2, []byte("ICC_PROFILE\x00\x01\x01the colours"))
	out = appendSegment(out, markComment, []byte("<script>"+secret+"</script>"))
	out = append(out, raw[2:]...)
	return append(out, "<html>"+secret+"</html>"...)
}

func pngFile(turned uint16) []byte {
	var b bytes.Buffer
	png.Encode(&b, drawn())
	raw := b.Bytes()
	out := append([]byte{}, raw[:33]...) // signature and IHDR
	out = appendChunk(out, "tEXt", []byte("Author\x00"+secret))
	out = appendChunk(out, "eXIf", exifData(turned))
	out = appendChunk(out, "pHYs", []byte{0, 0, 1, 0, 0, 0, 1, 0, 0})
	out = appendChunk(out, "iTXt", []byte("XML:com.adobe.xmp\x00\x00\x00\x00\x00"+secret))
	out = appendChunk(out, "prVt", []byte("<html>"+secret))
	out = append(out, raw[33:]...)
	return append(out, "<script>"+secret...)
}

func gifFile() []byte {
	var b bytes.Buffer
	gif.EncodeAll(&b, &gif.GIF{Image: []*image.Paletted{drawn(), drawn()}, Delay: []int{5, 9}, LoopCount: 3})
	raw := b.Bytes()
	end := 13 + colours(raw[10])
	note := append([]byte{0x21, 0xfe, byte(len(secret))}, secret+"\x00"...)
	program := append([]byte{0x21, 0xff, 11}, "XMP DataXMP"...)
	program = append(append(program, byte(len(secret))), secret+"\x00"...)
	return append(bytes.Join([][]byte{raw[:end], note, program, raw[end:]}, nil), "<html>"+secret...)
}

func webpFile(turned uint16) []byte {
	// one pixel, lossless; made for this test
	tiny, _ := base64.StdEncoding.DecodeString("UklGRhoAAABXRUJQVlA4TA0AAAAvAAAAEAcQERGIiP4HAA==")
	chunk := func(kind string, body []byte) []byte {
		out := binary.LittleEndian.AppendUint32([]byte(kind), uint32(len(body)))
		out = append(out, body...)
		if len(body)&1 == 1 {
			out = append(out, 0)
		}
		return out
	}
	body := bytes.Join([][]byte{[]byte("WEBP"), chunk("VP8X", []byte{webpEXIF | webpXMP, 0, 0, 0, 0, 0, 0, 0, 0, 0}), tiny[12:],
		chunk("EXIF", exifData(turned)), chunk("XMP ", []byte(secret)), chunk("note", []byte(secret+"!"))}, nil)
	return append(chunk("RIFF", body), "<html>"+secret...)
}

// Pictures are published without what they say about people and places and without what follows
// their end, with the same pixels and the same orientation.
func TestPicturesAreStripped(t *testing.T) {
	for _, c := range []struct {
		name          string
		raw           []byte
		form          imagemeta.ImageFormat
		turned        int
		width, height int
		keeps         string
	}{
		{"upright.jpg", jpegFile(1), imagemeta.JPEG, 1, 24, 16, "ICC_PROFILE\x00\x01\x01the colours"},
		{"turned.JPEG", jpegFile(6), imagemeta.JPEG, 6, 16, 24, "JFIF"},
		{"over.jpg", jpegFile(3), imagemeta.JPEG, 3, 24, 16, "Exif"},
		{"upright.png", pngFile(1), imagemeta.PNG, 1, 24, 16, "pHYs"},
		{"turned.png", pngFile(8), imagemeta.PNG, 8, 16, 24, "eXIf"},
		{"moves.gif", gifFile(), 0, 1, 24, 16, "NETSCAPE2.0"},
		{"upright.webp", webpFile(1), imagemeta.WebP, 1, 1, 1, "VP8X"},
		{"turned.webp", webpFile(5), imagemeta.WebP, 5, 1, 1, "EXIF"},
	} {
		f, fault := Look(c.name, c.raw)
		if fault != nil {
			t.Errorf("%s: %s", c.name, fault.Message)
			continue
		}
		for _, word := range []string{"Invented", "Osterby", "Lane", "<html>", "<script>", "Photoshop"} {
			if bytes.Contains(f.Bytes, []byte(word)) {
				t.Errorf("%s is published with %q", c.name, word)
			}
		}
		if !bytes.Contains(f.Bytes, []byte(c.keeps)) {
			t.Errorf("%s is published without %q", c.name, c.keeps)
		}
		if f.Width != c.width || f.Height != c.height {
			t.Errorf("%s is %d × %d, want %d × %d", c.name, f.Width, f.Height, c.width, c.height)
		}
		samePixels(t, c.name, c.raw, f.Bytes)
		if was, is := turnedOf(c.name, c.raw), turnedOf(c.name, f.Bytes); was != c.turned || is != c.turned {
			t.Errorf("%s was turned %d and is %d, want %d", c.name, was, is, c.turned)
		}
		if c.form == 0 {
			continue
		}
		var told []string
		imagemeta.Decode(imagemeta.Options{R: bytes.NewReader(f.Bytes), ImageFormat: c.form, ShouldHandleTag: func(imagemeta.TagInfo) bool { return true },
			HandleTag: func(tag imagemeta.TagInfo) error { told = append(told, tag.Tag); return nil }})
		for _, tag := range told {
			if tag != "Orientation" {
				t.Errorf("%s still tells %s", c.name, tag)
			}
		}
		if again, _ := Look(c.name, f.Bytes); !bytes.Equal(again.Bytes, f.Bytes) {
			t.Errorf("%s changes when it is stripped twice", c.name)
		}
	}
}

func turnedOf(name string, raw []byte) int {
	strip := map[string]func([]byte) (stripped, error){"JPEG": stripJPEG, "PNG": stripPNG, "GIF": stripGIF, "WebP": stripWebP}
	s, _ := strip[formOf(name).name](raw)
	return s.turned
}

func samePixels(t *testing.T, name string, before, after []byte) {
	t.Helper()
	a, _, err := image.Decode(bytes.NewReader(before))
	if err != nil {
		t.Fatal(name, err)
	}
	b, _, err := image.Decode(bytes.NewReader(after))
	if err != nil {
		t.Fatal(name, err)
	}
	if a.Bounds() != b.Bounds() {
		t.Fatalf("%s: %v became %v", name, a.Bounds(), b.Bounds())
	}
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			if a.At(x, y) != b.At(x, y) {
				t.Fatalf("%s: the pixel at %d, %d changed", name, x, y)
			}
		}
	}
}

// A GIF keeps its frames and how they repeat.
func TestMotionIsKept(t *testing.T) {
	f, fault := Look("moves.gif", gifFile())
	if fault != nil {
		t.Fatal(fault.Message)
	}
	g, err := gif.DecodeAll(bytes.NewReader(f.Bytes))
	if err != nil || len(g.Image) != 2 || g.LoopCount != 3 || g.Delay[1] != 9 {
		t.Errorf("it has %+v, %v", g, err)
	}
}

// What is not a picture, or not of the form in its name, is refused with what to fix.
func TestFilesThatAreNoPictures(t *testing.T) {
	plain := func(raw []byte, fault *Fault) []byte { f, _ := Look("a.png", raw); return f.Bytes }
	small := plain(pngFile(1), nil)
	change := func(raw []byte, at int, with string) []byte {
		out := bytes.Clone(raw)
		copy(out[at:], with)
		return out
	}
	wide := appendChunk([]byte(pngSignature), "IHDR", []byte{0, 1, 0, 0, 0, 1, 0, 0, 8, 2, 0, 0, 0})
	wide = appendChunk(appendChunk(wide, "IDAT", []byte{1}), "IEND", nil)
	// a palette that spells the beginning of a page
	var spelled bytes.Buffer
	m := drawn()
	for i := range 4 {
		w := "<script>alm(" // three bytes a colour
		m.Palette[i] = color.RGBA{w[3*i], w[3*i+1], w[3*i+2], 255}
	}
	gif.Encode(&spelled, m, nil)
	for _, c := range []struct {
		name string
		raw  []byte
		code string
		says string
	}{
		{"a.png", jpegFile(1), "file-other-form", "its contents are JPEG"},
		{"a.jpg", small, "file-other-form", "the ending .png"},
		{"a.gif", []byte("<html>GIF89a"), "file-no-form", ""},
		{"a.gif", []byte("GIF89a/*<script>*/=1;alert(1)"), "file-broken", "GIF"},
		{"a.webp", []byte("RIFF\x10\x00\x00\x00WEBPVP8 "), "file-broken", "cut short"},
		{"a.jpg", []byte("\xff\xd8\xff"), "file-broken", "cut short"},
		{"a.jpg", jpegFile(1)[:600], "file-broken", "cut short"},
		{"a.jpg", []byte("\xff\xd8\xff\xd9"), "file-broken", ""},
		{"a.png", small[:len(small)-5], "file-broken", "cut short"},
		{"a.png", change(small, len(small)-25, "XXXX"), "file-broken", "checksum"},
		{"a.png", wide, "picture-large", "65536 × 65536"},
		{"a.gif", spelled.Bytes(), "file-markup", "<script"},
		{"a.png", make([]byte, mostPicture+1), "file-too-large", "the limit is 32.0 MiB"},
	} {
		_, fault := Look(c.name, c.raw)
		if fault == nil || fault.Code != c.code || !strings.Contains(fault.Message+fault.Hint, c.says) {
			t.Errorf("%s (%.20q): %+v, want %s with %q", c.name, c.raw, fault, c.code, c.says)
		}
	}
}

// A small file that is a moving picture of too many pixels is not decoded.
func TestPixelsOfAllFramesAreCounted(t *testing.T) {
	raw := []byte("GIF89a\x00\x40\x00\x40\x80\x00\x00\x00\x00\x00\xff\xff\xff")
	for range 40 {
		raw = append(raw, "\x2c\x00\x00\x00\x00\x00\x40\x00\x40\x00\x02\x02\x4c\x01\x00"...)
	}
	if _, fault := Look("a.gif", append(raw, 0x3b)); fault == nil || fault.Code != "picture-large" {
		t.Errorf("reported %+v", fault)
	}
}
