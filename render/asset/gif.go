package asset

import (
	"bytes"
	"encoding/binary"
)

// stripGIF keeps the screen, the frames, their controls, and how often they repeat; it drops
// comments, texts, the data of other programs, and what follows the end (Graphics Interchange
// Format, version 89a).
func stripGIF(raw []byte) (stripped, error) {
	s := stripped{turned: 1}
	if len(raw) < 13 {
		return s, errCut
	}
	head := 13 + colours(raw[10])
	if head > len(raw) {
		return s, errCut
	}
	out := append(make([]byte, 0, len(raw)), raw[:head]...)
	for rest := raw[head:]; len(rest) > 0; {
		n, keep, err := 0, false, error(nil)
		switch rest[0] {
		case 0x3b:
			s.bytes = append(out, 0x3b)
			return s, nil
		case 0x2c:
			keep = true
			if n, err = frame(rest); err == nil {
				s.area = min(mostPixels+1, s.area+int(binary.LittleEndian.Uint16(rest[5:]))*int(binary.LittleEndian.Uint16(rest[7:])))
			}
		case 0x21:
			n, keep, err = extension(rest)
		default:
			err = errStructure
		}
		if err != nil {
			return s, err
		}
		if keep {
			out = append(out, rest[:n]...)
		}
		rest = rest[n:]
	}
	return s, errCut
}

// colours is the size in bytes of the colour table that a byte of flags announces.
func colours(flags byte) int {
	if flags&0x80 == 0 {
		return 0
	}
	return 3 << (flags&7 + 1)
}

// frame is the length of a frame: ten bytes, its own colours, its code size, and blocks.
func frame(raw []byte) (int, error) {
	if len(raw) < 10 {
		return 0, errCut
	}
	at := 10 + colours(raw[9]) + 1
	if at > len(raw) {
		return 0, errCut
	}
	n, err := blocks(raw[at:])
	return at + n, err
}

// extension is the length of an extension, and whether it affects how the picture looks.
func extension(raw []byte) (n int, keep bool, err error) {
	if len(raw) < 3 {
		return 0, false, errCut
	}
	n, err = blocks(raw[2:])
	if err != nil {
		return 0, false, err
	}
	n += 2
	switch raw[1] {
	case 0xf9: // how a frame is shown: four bytes
		keep = n == 8 && raw[2] == 4
	case 0xff: // how often frames repeat: a name of eleven bytes, then three
		name := bytes.HasPrefix(raw[3:n], []byte("NETSCAPE2.0")) || bytes.HasPrefix(raw[3:n], []byte("ANIMEXTS1.0"))
		keep = name && n == 19 && raw[2] == 11 && raw[14] == 3
	}
	return n, keep, nil
}

// blocks is the length of a row of blocks, each after a byte with its size, up to an empty one.
func blocks(raw []byte) (int, error) {
	for at := 0; at < len(raw); {
		size := int(raw[at])
		at += size + 1
		if size == 0 {
			return at, nil
		}
	}
	return 0, errCut
}
