package asset

import (
	"bytes"
	"errors"
	"image"
	"image/gif"
	_ "image/jpeg" // to decode a picture, which shows that it is whole
	_ "image/png"  // the same

	_ "golang.org/x/image/webp" // the same

	"labsite/recipes/source"
)

// Bounds for pictures made of pixels.
const (
	mostPixels = 100_000_000
	// mostDecoded is how many pixels, over all frames, a picture may have to be decoded, which
	// shows that it is whole. A progressive JPEG takes 15 bytes a pixel, so that this is 120 MB at
	// most; of a larger picture only structure and size are checked.
	mostDecoded = 8 << 20
)

// stripped is a picture reduced to the parts that affect how it looks.
type stripped struct {
	bytes []byte
	// turned is the EXIF orientation, 1 to 8; 1 if there is none.
	turned int
	// area is the number of pixels of all frames; 0 if the form did not count them.
	area int
	// moving says that the picture has frames that the decoder does not know.
	moving bool
}

// Errors in the structure of a picture; the wording makes sentences of them.
var (
	errCut       = errors.New("it is cut short")
	errStructure = errors.New("its parts do not follow one another as they should")
	errSum       = errors.New("a part of it was changed or damaged (its checksum differs)")
)

// pixels makes the look of a form from the function that strips its metadata.
func pixels(strip func([]byte) (stripped, error)) look {
	return func(name, is string, raw []byte) (File, *Fault) {
		broken := func(err error) (File, *Fault) {
			return File{}, fault(source.FileBroken(name, is, err.Error()))
		}
		s, err := strip(raw)
		if err != nil {
			return broken(err)
		}
		c, _, err := image.DecodeConfig(bytes.NewReader(s.bytes))
		if err != nil {
			return broken(err)
		}
		if c.Width <= 0 || c.Height <= 0 {
			return broken(errStructure)
		}
		if c.Width > mostPixels/c.Height || s.area > mostPixels {
			return File{}, fault(source.PictureLarge(name, c.Width, c.Height, mostPixels))
		}
		if !s.moving && max(s.area, c.Width*c.Height) <= mostDecoded {
			if err := decode(is, s.bytes); err != nil {
				return broken(err)
			}
		}
		if tag := markupIn(s.bytes); tag != "" {
			return File{}, fault(source.FileMarkup(name, tag))
		}
		f := File{s.bytes, c.Width, c.Height}
		if s.turned > 4 { // it lies on its side
			f.Width, f.Height = f.Height, f.Width
		}
		return f, nil
	}
}

func decode(is string, raw []byte) error {
	if is == "GIF" {
		_, err := gif.DecodeAll(bytes.NewReader(raw))
		return err
	}
	_, _, err := image.Decode(bytes.NewReader(raw))
	return err
}

// markup lists how a web page, or a script in one, begins. All are long enough not to occur by
// chance in compressed pixels.
var markup = []string{"<script", "<!doctype", "<html>", "<html ", "<iframe", "<object", "<embed ", "<?php ", "<?php\n", "<body>", "<body ", "<svg xmlns"}

// markupIn finds the beginning of a web page in the bytes of a picture, such as in its palette or
// colour profile: a program that guesses could take the file for a web page.
func markupIn(raw []byte) string {
	for {
		i := bytes.IndexByte(raw, '<')
		if i < 0 {
			return ""
		}
		raw = raw[i:]
		for _, tag := range markup {
			if len(raw) >= len(tag) && bytes.EqualFold(raw[:len(tag)], []byte(tag)) {
				return tag
			}
		}
		raw = raw[1:]
	}
}
