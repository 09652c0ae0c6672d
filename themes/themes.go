package themes

import "embed"

// Files are the files of the built-in theme. A folder holds the parts of a script, which
// render/theme joins; a lab's own script with the joined name replaces all of them.
//
//go:embed *.html *.css *.js *.svg hand/*.js process/*.js record/*.js redraw/*.js
var Files embed.FS
