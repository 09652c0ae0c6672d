// Package themes holds the built-in theme: the HTML templates of every kind of
// page, and the style sheet for screen and paper.
//
// It is only data: render/theme loads it, lets a lab's own theme folder replace it file by file,
// and fills it with the values documented there. No file here is fetched from elsewhere, no font is
// shipped, and no page needs a script to be readable.
//
// A file NAME.html is the template NAME: there is one template to a file, so that replacing a file
// replaces one thing. lab.css is the style sheet of pages, card.css that of bench cards, labels.css
// that of labels, and sign.svg the site's picture in a browser's tabs. safety.css is added to each
// of the three, whoever wrote it: it keeps safety messages visible, so a lab's folder cannot
// replace it.
//
// # Decisions
//
// Safety comes first, in the file as on the screen. parts.html has one order for all media: the
// band of hazards and cautions, the panel of values and results, then the rest. On a wide window
// the band runs across in columns and the panel stays below it at the left; no number ever stands
// beside or above the band, and the strip on a phone (strip.js) appears only when the band has been
// scrolled past. What GHS says about the time after the work is a template of its own
// (aftercare.html), which a theme may move but not leave out.
//
// Front page and sections lead on before they inform: the search is largest (there it is not in the
// head), then come pages with a season, then the contents (desk.html, shelves.html); the text of
// the index page stands beside them, or first if it has hazards, cautions or numbers. Which season
// it is depends on the reader's calendar (season.js), so that no day is in the output; without
// scripts the list is in the site's order. Space for the mark is reserved, so that nothing moves.
//
// There are four sizes of type, in variables of lab.css; boxes are left to safety messages and to
// controls. Where the media feature (scripting: enabled) says that controls will come, the plain
// values have their size from the start, so that nothing moves while a page loads.
//
// make aims prints for every page where its parts are, how long it is and how many sheets it takes,
// beside the aims, and fails if an aim is missed.
//
// On paper a page is a table and its foot the table's foot (lab.css), so that number, revision and
// address are on every sheet. A margin box of @page cannot contain them, and an element fixed below
// the text slips to the next sheet (tried in Chromium). A browser that does not repeat a table's
// foot prints it once, at the end.
//
// A page's script is two things in one file: the formulas (script.Page), then what is needed to
// show them and is not in its HTML (render/write/scripts.go): the texts of all limits, charts.
// hand.js, joined from the parts in hand, only takes values in and shows results.
//
// What not every reader needs is a script of its own, which later.js loads when it is needed, so
// that a guide stays within the weight that TestBrowserWeight allows: the run sheet (process.js) on
// request or while a run is on, the line on all other pages that says so (under-way.js), the script
// that rebuilds tables, charts and sureness (redraw.js) at the first change of a value, which hides
// them until it is there, the one that offers settings near those that a page refuses (nearest.js,
// which searches with the page's own script in slices of 8 ms, 4 s at most) at the first refusal,
// the one that answers the search box (finding.js) when a reader comes to it, recall.js if the
// address carries a code. Placements outside the figures are numbered once, in
// render/work/script.go; a text from a page drawn on never carries that page's names, which can
// mean something else here. Page and script carry a stamp and do not work together if it differs.
//
// What is out of sight is painted a moment later (paintWaiting in hand/start.js), so that a change
// takes less than a frame on a slow phone; if numbers are withdrawn nothing waits.
//
// The run sheet counts from stored moments, by the device's clock corrected by a shift
// (process/clock.js). While the page is open, that clock is compared with the count of milliseconds
// since the page was loaded, which nobody can set; if the two diverge, the device slept or its
// clock was set, nothing can tell which, and the reader is asked. While the page is closed there is
// no such count, so that time is counted and the reader may take it out.
//
// Only a press moves a run on: a clock that jumped would move a roll from developer to fixer. Steps
// that go on by themselves do so only if the sheet looked at its clock within the last seconds. The
// moments of a record are by the device's clock as it is when the record is first saved, so that
// none lies in the future after the clock was set back, and so that made, which identifies a
// record, never changes. After a dark step the screen stays black until somebody presses it: the
// device cannot know when the film is safe. Devices share only a few kinds of files, so JSON goes
// as text if it must (record/made.js).
package themes
