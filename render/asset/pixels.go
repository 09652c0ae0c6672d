package asset

import (
	"bytes"
	"errors"
	"image"
	"image/gif"
	_ "image/jpeg" // decodes, to see that a picture is whole
	_ "image/png"  // the same

	_ "golang.org/x/image/webp" // the same

	"labsite/recipes/source"
)

// Pictures of pixels: what they may measure, and how far they are tried.
const (
	mostPixels = 100_000_000
	// mostDecoded is how many pixels are decoded to see that a picture is whole, over all its
	// frames. A progressive JPEG takes 15 bytes a pixel, so that this is 120 MB at most; a
	// larger picture is held to its structure and its size alone.
	mostDecoded = 8 << 20
)

// stripped is a picture without what does not show.
type stripped struct {
	bytes []byte
	// turned is the EXIF orientation, 1 to 8; 1 if none is said.
	turned int
	// area is the number of pixels of all frames, 0 if there is one alone.
	area int
	// moving says that the picture has frames that the decoder does not know.
	moving bool
}

// Errors of the structure of a picture. They are completed to a sentence by wording.
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

// markup is how a web page or a script in one begins. All are long enough never to come about
// by chance in compressed pixels.
var markup = []string{"<script", "<!doctype", "<html>", "<html ", "<iframe", "<object", "<embed ", "<?php ", "<?php\n", "<body>", "<body ", "<svg xmlns"}

// markupIn finds the beginning of a web page among the bytes of a picture, such as in its
// palette or its colour profile, where a program that guesses could take it for one.
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
