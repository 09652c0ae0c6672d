// Package asset judges the files that a lab hands out along with its pages: pictures, documents,
// tables, texts, archives, colour profiles and sound.
//
// A published site is one origin, so a file that a browser would run there could read and change
// every page of it. What may be handed out is therefore a closed list by the ending of the name
// (forms.go), and the bytes must be what the name says, since servers go by the last ending of a
// name and some browsers by the bytes. Pictures are rewritten from the parts that affect how they
// look (jpeg.go, png.go, gif.go, webp.go): place, camera, owner, comments and whatever follows the
// end of the picture are dropped, while the compressed pixels, the colour profile and the
// orientation are kept as they are. A drawing (svg.go) may hold shapes and text and nothing that
// runs or loads anything.
//
// The package reads no disk and knows no pages: a caller asks Bound, reads that much, and calls
// Look. For documents, archives and sound it checks only the first bytes, and for office documents
// that they have no macros. It is not a virus scanner.
//
// # Decisions
//
// Pictures are taken apart here because no library was found that strips all four forms, leaves the
// compressed pixels alone and is still maintained. imagemeta reads the one EXIF value that is kept,
// the orientation; the standard library and x/image decode results of up to 8 million pixels, to
// check that they are whole. Drawings are read by encoding/xml and refused rather than repaired,
// except that comments and metadata are cut out before the rest is judged again. FuzzPicture and
// FuzzDrawing check that what was accepted once is accepted unchanged a second time.
package asset
