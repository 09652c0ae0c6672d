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
//
// # Decisions
//
// Safety first, in the file as on the screen. parts.html has one order for all media: the band
// of hazards and cautions, the panel of values and results, then the rest. On a wide window the
// band runs across in columns and the panel stays below it at the left; no number ever stands
// beside or above the band, and the slim strip of a phone (hand/strip.js) comes only when the
// band has been scrolled past. What GHS says of the time after the work is a template of its
// own (aftercare.html), which a theme may move and not leave out.
//
// Front page and sections lead on before they inform: the search is their largest thing (it
// leaves the head there), then come pages with a season, then what there is (desk.html,
// shelves.html); what the index page says stands beside it, and first where it has hazards,
// cautions or numbers. Which season it is only the reader's calendar says (season.js), so that
// no day is in the output; without scripts the list is in the site's order. The room of the
// mark is kept, so nothing moves.
//
// Four sizes of type, in variables of lab.css; boxes are left to safety messages and to
// controls. The controls take the room of the plain values where (scripting: enabled) says that
// they will come, so that nothing moves while a page loads.
//
// make aims prints for every page where its parts stand, how long it is and how many sheets it
// takes, beside the aims, and fails where one is missed.
//
// On paper a page is a table and its foot the table's foot (lab.css), so that number, revision
// and address are on every sheet. A margin box of @page cannot know them, and what is fixed
// below the text slips to the next sheet (tried in Chromium). A browser that repeats no feet
// prints it once, at the end.
//
// A page's script is two things in one file: the formulas (script.Page), then what the page
// shows of them that its HTML does not say (render/write/scripts.go): the texts of all limits,
// charts. hand.js, joined from the parts in hand, only sets and shows.
//
// What not every reader needs is a script of its own, which later.js loads when it is needed,
// so that a guide stays under the weight that TestBrowserWeight holds: the run sheet
// (process.js) when it is asked for or a run is on, the line on all other pages that says so
// (under-way.js), what rebuilds tables, charts and sureness (redraw.js) at the first change
// of a value, until when they are hidden, what offers settings near those that a page refuses
// (nearest.js, which looks for them with the page's own script in slices of 8 ms, 4 s at most)
// at the first refusal, what answers the search box (finding.js) when a reader comes to it,
// recall.js where the address bears a code. Placements outside the figures are numbered once,
// in render/work/script.go; a text of a page drawn on never bears that page's names, which can
// mean something else here. Page and script carry one stamp and do not work together where it
// differs.
//
// What is out of sight is painted a moment later (paintWaiting in hand/start.js), so that a
// change takes less than a frame on a slow phone; where numbers are withdrawn nothing waits.
//
// The run sheet counts from stored moments, by the device's clock put right by a shift
// (process/clock.js). While the page is open, that clock is held to the count of milliseconds
// since the page was loaded, which nobody sets; where the two part, the device slept or its
// clock was set, nothing can tell which, and the reader is asked. Over a closed page there is
// no such count, so its time is counted and may be taken out again.
//
// Nothing moves a run but a press, for a clock that jumped once moved a roll from developer to
// fixer; steps that go on by themselves do so only where the sheet has looked at its clock
// within the last seconds. The moments of a record are those of the device's clock as it stands
// when the record is first saved, so that none lies ahead after a clock was set back, and so
// that made, by which a record is known, stays. After a dark step the screen stays black until
// somebody presses it: the device cannot know when the film is safe. A device can share few
// kinds of files; JSON goes as text where it must (record/made.js).
package themes
