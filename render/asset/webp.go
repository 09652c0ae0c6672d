package asset

import (
	"encoding/binary"
)

// webpShown lists the chunks of a WebP file (RFC 9649, section 2.7) that pixels, colours and motion
// depend on.
var webpShown = map[string]bool{"VP8X": true, "VP8 ": true, "VP8L": true, "ALPH": true, "ANIM": true, "ANMF": true, "ICCP": true}

// Flags of VP8X.
const (
	webpMotion = 1 << 1
	webpXMP    = 1 << 2
	webpEXIF   = 1 << 3
)

// stripWebP keeps the chunks of webpShown, and nothing after the last.
func stripWebP(raw []byte) (stripped, error) {
	s := stripped{turned: 1}
	size := uint64(binary.LittleEndian.Uint32(raw[4:]))
	if size < 4 || size+8 > uint64(len(raw)) {
		return s, errCut
	}
	out := append(make([]byte, 0, len(raw)), "RIFF\x00\x00\x00\x00WEBP"...)
	flags := -1 // the offset of the flags
	for rest := raw[12 : 8+size]; len(rest) > 0; {
		if len(rest) < 8 {
			return s, errCut
		}
		kind, n := string(rest[:4]), uint64(binary.LittleEndian.Uint32(rest[4:]))
		padded := 8 + n + n&1
		if padded > uint64(len(rest)) {
			return s, errCut
		}
		if kind == "EXIF" {
			s.turned = orientation(rest[8 : 8+n])
		}
		if webpShown[kind] {
			if kind == "VP8X" {
				if n != 10 || flags >= 0 {
					return s, errStructure
				}
				flags = len(out) + 8
				s.moving = rest[8]&webpMotion != 0
			}
			out = append(out, rest[:8+n]...)
			if n&1 == 1 {
				out = append(out, 0)
			}
		}
		if kind == "ANMF" && n >= 16 {
			width, height := 1+uint24(rest[8+6:]), 1+uint24(rest[8+9:])
			s.area = min(mostPixels+1, s.area+min(mostPixels+1, width*height))
		}
		rest = rest[padded:]
	}
	if flags >= 0 {
		out[flags] &^= webpXMP | webpEXIF
		if s.turned > 1 {
			out[flags] |= webpEXIF
			exif := exifOf(s.turned)
			out = binary.LittleEndian.AppendUint32(append(out, "EXIF"...), uint32(len(exif)))
			out = append(out, exif...)
		}
	} else {
		s.turned = 1 // without flags EXIF is not read
	}
	binary.LittleEndian.PutUint32(out[4:], uint32(len(out)-8))
	s.bytes = out
	return s, nil
}

func uint24(b []byte) int { return int(b[0]) | int(b[1])<<8 | int(b[2])<<16 }
