// Package themes holds the built-in theme: the HTML templates of every kind of
// page, and the style sheet for screen and paper.
//
// It is data and nothing else: render/theme loads it, lets a lab's own theme
// folder replace it file by file, and fills it with the values documented
// there. No file here is fetched from elsewhere, no font is shipped, and no
// page needs a script to be read.
//
// A file NAME.html is the template NAME: there is one template a file, so that
// replacing a file replaces one thing. lab.css is the style sheet of pages,
// card.css that of bench cards, labels.css that of labels, and sign.svg the
// picture that stands for the site in a browser's tabs. safety.css is added to
// each of the three, whoever wrote it: it keeps safety messages in sight, so a
// lab's folder cannot replace it.
package themes

import "embed"

// Files are the files of the built-in theme. A folder holds parts of a script, which
// render/theme joins; a lab's own script of the joined name replaces all of them.
//
//go:embed *.html *.css *.js *.svg hand/*.js process/*.js record/*.js redraw/*.js
var Files embed.FS
