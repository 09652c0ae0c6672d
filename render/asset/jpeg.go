package asset

import (
	"bytes"
	"encoding/binary"
	"slices"
)

// Markers of a JPEG file (ITU-T T.81, table B.1).
const (
	markEnd     = 0xd9
	markScan    = 0xda
	markApp0    = 0xe0
	markApp1    = 0xe1
	markApp2    = 0xe2
	markApp14   = 0xee
	markApp15   = 0xef
	markComment = 0xfe
)

// stripJPEG keeps the segments that pixels and colours depend on, the scans as they are, and
// nothing after the end.
func stripJPEG(raw []byte) (stripped, error) {
	out := append(make([]byte, 0, len(raw)), 0xff, 0xd8)
	s := stripped{turned: 1}
	begun := false // the place for the orientation, after JFIF, is past
	turn := func() {
		if !begun && s.turned > 1 {
			out = appendSegment(out, markApp1, append([]byte("Exif\x00\x00"), exifOf(s.turned)...))
		}
		begun = true
	}
	for rest := raw[2:]; ; {
		mark, body, after, err := segment(rest)
		if err != nil {
			return s, err
		}
		if mark == markEnd {
			turn()
			s.bytes = append(out, 0xff, markEnd)
			return s, nil
		}
		rest = after
		switch {
		case mark == markApp1 && bytes.HasPrefix(body, []byte("Exif\x00\x00")):
			s.turned = orientation(body)
		case mark == markApp0 && bytes.HasPrefix(body, []byte("JFIF\x00")) && len(body) >= 14 && !begun:
			// without the thumbnail that may follow
			out = appendSegment(out, mark, append(slices.Clone(body[:12]), 0, 0))
		case mark == markApp14 && bytes.HasPrefix(body, []byte("Adobe")) && len(body) >= 12:
			turn()
			out = appendSegment(out, mark, body[:12])
		case mark == markApp2 && bytes.HasPrefix(body, []byte("ICC_PROFILE\x00")):
			turn()
			out = appendSegment(out, mark, body)
		case mark >= markApp0 && mark <= markApp15 || mark == markComment:
		default:
			turn()
			out = appendSegment(out, mark, body)
		}
		if mark == markScan {
			n := scan(rest)
			out, rest = append(out, rest[:n]...), rest[n:]
		}
	}
}

// segment reads the next marker of a JPEG file and its body.
func segment(raw []byte) (mark byte, body, rest []byte, err error) {
	if len(raw) < 2 {
		return 0, nil, nil, errCut
	}
	if raw[0] != 0xff {
		return 0, nil, nil, errStructure
	}
	for len(raw) > 1 && raw[1] == 0xff { // fill bytes
		raw = raw[1:]
	}
	if len(raw) < 2 {
		return 0, nil, nil, errCut
	}
	mark = raw[1]
	switch {
	case mark == markEnd:
		return mark, nil, nil, nil
	case mark < 0xc0 || mark >= 0xd0 && mark <= 0xd8:
		return 0, nil, nil, errStructure
	case len(raw) < 4:
		return 0, nil, nil, errCut
	}
	size := 2 + int(binary.BigEndian.Uint16(raw[2:]))
	if size < 4 {
		return 0, nil, nil, errStructure
	}
	if size > len(raw) {
		return 0, nil, nil, errCut
	}
	return mark, raw[4:size], raw[size:], nil
}

func appendSegment(out []byte, mark byte, body []byte) []byte {
	out = binary.BigEndian.AppendUint16(append(out, 0xff, mark), uint16(len(body)+2))
	return append(out, body...)
}

// scan is the length of the compressed pixels up to the next marker, not counting restart markers.
func scan(raw []byte) int {
	for i := 0; i+1 < len(raw); i++ {
		if raw[i] != 0xff {
			continue
		}
		if next := raw[i+1]; next != 0 && next != 0xff && (next < 0xd0 || next > 0xd7) {
			return i
		}
	}
	return len(raw)
}
