package asset

import (
	"bytes"
	"encoding/binary"

	"github.com/bep/imagemeta"
)

// orientation reads from a picture's EXIF data, which has the form of a TIFF file, how to turn it;
// 1 if it does not say. Damaged data counts as saying nothing.
func orientation(exif []byte) int {
	turned := 1
	exif = bytes.TrimPrefix(exif, []byte("Exif\x00\x00"))
	wanted := func(t imagemeta.TagInfo) bool { return t.Namespace == "IFD0" && t.Tag == "Orientation" }
	imagemeta.Decode(imagemeta.Options{
		R: bytes.NewReader(exif), ImageFormat: imagemeta.TIFF, Sources: imagemeta.EXIF, ShouldHandleTag: wanted,
		HandleTag: func(t imagemeta.TagInfo) error {
			if v, ok := t.Value.(uint16); ok && v >= 1 && v <= 8 && wanted(t) {
				turned = int(v)
			}
			return nil
		},
	})
	return turned
}

// exifOf is EXIF data that holds an orientation and nothing else: the head of a TIFF file, one
// directory with one entry, and no further directory (TIFF 6.0, section 2).
func exifOf(turned int) []byte {
	b := []byte("MM\x00*\x00\x00\x00\x08\x00\x01")
	b = binary.BigEndian.AppendUint16(b, 0x0112) // Orientation
	b = binary.BigEndian.AppendUint16(b, 3)      // SHORT
	b = binary.BigEndian.AppendUint32(b, 1)
	b = binary.BigEndian.AppendUint16(b, uint16(turned))
	return append(b, 0, 0, 0, 0, 0, 0)
}
