package theme

import (
	"path"

	"labsite/themes"
)

// Files of the scripts. Those of the theme are its assets.
const (
	RuntimeFile  = "figures.js"         // works formulas out
	FurtherFile  = "figures-further.js" // works tables and sureness out, and looks for settings that hold
	LaterFile    = "later.js"           // loads other scripts, which not every reader needs
	HandFile     = "hand.js"            // controls, and everything that changes with them
	RedrawFile   = "redraw.js"          // tables and charts at other values; hand.js loads it at the first change
	WorkingsFile = "workings.js"        // the arithmetic at other values; hand.js loads it when it is opened
	StripFile    = "strip.js"           // the line with the main results at a phone's foot; hand.js loads it at the first scroll
	NearestFile  = "nearest.js"         // offers settings that hold; hand.js loads it at the first refusal
	HandStyle    = "hand.css"           // the look of the controls
	ProcessStyle = "process.css"        // the look of the run sheet
	ProcessFile  = "process.js"         // the run sheet; hand.js loads it when it is asked for
	MeasureFile  = "measure.js"         // metric and US units
	AxesFile     = "axes.js"            // the axes of charts in other units; measure.js loads it when they are chosen
	RecordFile   = "record.js"          // makes, saves and shares records; ask.js loads it when one is asked for
	AskFile      = "ask.js"             // makes the button for records work on a page that keeps them
	ReportFile   = "report.js"          // prints the sheet for a customer
	CodeFile     = "code.js"            // the code of a card or a label that is set to other values
	LabelsFile   = "labels.js"          // writes on labels what they are set to, or that they have no number
	SeasonFile   = "season.js"          // puts first what visitors come for this month
	TodayFile    = "today.js"           // the day of printing, on a card; what is overdue by today
)

// scriptParts are the files of scripts that are written in parts, in a folder of the theme; readers
// load them as one script. The parts of a folder share their top-level names.
var scriptParts = map[string][]string{
	"hand":    {"page.js", "texts.js", "steps.js", "tables.js", "redraw.js", "address.js", "controls.js", "process.js", "start.js"},
	"redraw":  {"page.js", "tables.js", "charts.js", "sureness.js", "start.js"},
	"process": {"run.js", "anew.js", "clock.js", "moves.js", "sheet.js", "paint.js", "holds.js", "end.js", "signals.js", "start.js"},
	"record":  {"made.js", "drawn.js", "desk.js"},
}

// joinedScripts are the scripts made of those folders.
var joinedScripts = map[string][]string{
	HandFile:    {"hand"},
	RedrawFile:  {"redraw"},
	RecordFile:  {"record"},
	ProcessFile: {"record", "process"},
}

// joinedScript joins the parts of a script. The parts of a folder stand in a function, so that other
// scripts do not see their names.
func joinedScript(name string) ([]byte, error) {
	var out []byte
	for _, folder := range joinedScripts[name] {
		out = append(out, "(function () {\n'use strict';\n"...)
		for _, part := range scriptParts[folder] {
			b, err := themes.Files.ReadFile(path.Join(folder, part))
			if err != nil {
				return nil, err
			}
			out = append(append(out, b...), '\n')
		}
		out = append(out, "})();\n"...)
	}
	return out, nil
}
