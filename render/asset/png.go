package asset

import (
	"encoding/binary"
	"hash/crc32"
)

const pngSignature = "\x89PNG\r\n\x1a\n"

// pngShown lists the chunks that pixels, colours and motion depend on (Portable Network Graphics,
// third edition, section 11); texts, times and all others are dropped.
var pngShown = map[string]bool{"IHDR": true, "PLTE": true, "IDAT": true, "IEND": true, "tRNS": true, "cHRM": true, "gAMA": true,
	"iCCP": true, "sBIT": true, "sRGB": true, "cICP": true, "mDCV": true, "cLLI": true, "bKGD": true, "pHYs": true,
	"acTL": true, "fcTL": true, "fdAT": true}

// stripPNG keeps the chunks of pngShown, and nothing after the last.
func stripPNG(raw []byte) (stripped, error) {
	s := stripped{turned: 1}
	out := append(make([]byte, 0, len(raw)), pngSignature...)
	frames, size := 0, 0
	for rest, first := raw[len(pngSignature):], true; ; first = false {
		if len(rest) < 12 {
			return s, errCut
		}
		n := binary.BigEndian.Uint32(rest)
		if uint64(n)+12 > uint64(len(rest)) {
			return s, errCut
		}
		kind, body, whole := string(rest[4:8]), rest[8:8+n], rest[:12+n]
		rest = rest[12+n:]
		switch {
		case first != (kind == "IHDR") || kind == "IHDR" && len(body) != 13:
			return s, errStructure
		case crc32.ChecksumIEEE(whole[4:8+n]) != binary.BigEndian.Uint32(whole[8+n:]):
			return s, errSum
		case kind == "eXIf":
			s.turned = orientation(body)
		case pngShown[kind]:
			if kind == "IDAT" && s.turned > 1 && size == 0 {
				out = appendChunk(out, "eXIf", exifOf(s.turned))
			}
			if kind == "IDAT" {
				size += len(body)
			}
			out = append(out, whole...)
		case kind[0]&0x20 == 0: // critical, and unknown
			return s, errStructure
		}
		if kind == "fcTL" {
			if len(body) < 12 {
				return s, errStructure
			}
			frames++
			if w, h := binary.BigEndian.Uint32(body[4:]), binary.BigEndian.Uint32(body[8:]); uint64(w)*uint64(h) < mostPixels {
				s.area += int(w * h)
			} else {
				s.area = mostPixels + 1
			}
			s.area = min(s.area, mostPixels+1)
		}
		if kind == "IEND" {
			s.bytes = out
			return s, nil
		}
	}
}

func appendChunk(out []byte, kind string, body []byte) []byte {
	out = binary.BigEndian.AppendUint32(out, uint32(len(body)))
	at := len(out)
	out = append(append(out, kind...), body...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[at:]))
}
