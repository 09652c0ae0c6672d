package theme

import (
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"hash"
	"html/template"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
	"sync"
	"text/template/parse"

	"labsite/recipes/source"
	"labsite/render/chart"
	"labsite/render/highlight"
	"labsite/themes"
)

// Templates fills the theme's templates. Several goroutines may use it at once. Its methods take the
// data documented in view*.go and return finished HTML, or errors at the template's file and line,
// since a lab may have replaced it.
type Templates struct {
	set    *template.Template
	files  map[string]*source.File // by the template's name
	own    map[string]bool         // templates that the lab has replaced or added
	assets map[string][]byte       // other files, by name; as they are published once finish was called
	slim   map[string]bool         // which of them are built in, and so minified
	finish func()                  // makes the files as they are published, once
	key    hash.Hash               // of the lab's own files
	heads  map[*byte]source.Span   // rounds and templates, by the marks at their heads; see count
	until  context.Context         // filling stops when it ends
	made   sync.Map                // parts that are the same on many pages, by their data
	spent  sync.Map                // errors of templates that took too long, by name
	keeper []byte                  // the script that keeps the site on a device, without its list of files
}

// The files of a theme that have a meaning of their own.
const (
	StyleFile  = "lab.css"
	DeskStyle  = "desk.css" // of pages that list others
	CardStyle  = "card.css"
	LabelStyle = "labels.css"
	safetyFile = "safety.css"
	keeperFile = "keep.js"
)

// LoadTemplates reads the built-in theme and, over it, the lab's own theme folder: a file of the same
// name replaces the built-in one, any other is added. own is nil if the lab has none; ownPath is how
// messages name that folder, relative to the content folder. ctx ends the filling of templates.
//
// A lab's theme is tried on made-up data, with every field filled and with every field empty, so that
// a misspelt field is reported when the theme is loaded and not on the first page that needs it. If
// there is an error in the list, the Templates are nil.
func LoadTemplates(ctx context.Context, own fs.FS, ownPath string) (*Templates, source.List) {
	t := &Templates{key: sha256.New(), heads: map[*byte]source.Span{}, until: ctx, files: map[string]*source.File{}, own: map[string]bool{}, assets: map[string][]byte{}, slim: map[string]bool{}}
	t.finish = sync.OnceFunc(t.finishAssets)
	var list source.List
	list = append(list, t.read(themes.Files, "themes", false)...)
	for name := range joinedScripts {
		b, err := joinedScript(name)
		if err != nil {
			return nil, append(list, source.ThemeFolder(plainError(err)).AtFile("themes"))
		}
		t.assets[name], t.slim[name] = b, true
	}
	builtIn := t.names()
	if own != nil {
		list = append(list, t.read(own, ownPath, true)...)
	}
	list = append(list, t.parse()...)
	if list.Errors() > 0 {
		return nil, list.Sorted()
	}
	if list = append(list, t.bounded()...); list.Errors() > 0 {
		return nil, list.Sorted()
	}
	list = append(list, t.unused(builtIn)...)
	if own != nil { // the built-in theme alone is tried by a test
		list = append(list, t.try()...)
	}
	if list.Errors() > 0 {
		return nil, list.Sorted()
	}
	return t, list.Sorted()
}

// finishAssets makes the theme's files as they are published. It is called only when one is needed,
// since it would take a good part of a publish in which nothing changed.
func (t *Templates) finishAssets() {
	for name, builtIn := range t.slim {
		if builtIn {
			t.assets[name] = Slim(name, t.assets[name])
		}
	}
	t.assets[StyleFile] = joined(t.assets[StyleFile], Slim(StyleFile, []byte(chart.Style)), Slim(StyleFile, []byte(highlight.Style())), t.assets[safetyFile])
	for _, name := range []string{CardStyle, LabelStyle} {
		t.assets[name] = joined(t.assets[name], t.assets[safetyFile])
	}
	delete(t.assets, safetyFile)
	t.keeper = t.assets[keeperFile]
	delete(t.assets, keeperFile)
}

// joined joins style sheets; later rules win.
func joined(sheets ...[]byte) []byte { return bytes.Join(sheets, []byte("\n")) }

func (t *Templates) read(files fs.FS, folder string, own bool) source.List {
	list := source.List{}
	var all map[string][]byte
	if own {
		all, list = ownFiles(files, folder)
	} else if all, list = builtInFiles(files, folder); list.Errors() > 0 {
		return list
	}
	for _, name := range slices.Sorted(maps.Keys(all)) {
		raw := all[name]
		if own {
			fmt.Fprintf(t.key, "%q %d ", name, len(raw))
			t.key.Write(raw)
		}
		stem, isTemplate := strings.CutSuffix(name, ".html")
		if !isTemplate {
			if !own {
				if name == MeasureFile {
					raw = withExchanges(raw)
				}
			}
			t.assets[name], t.slim[name] = raw, !own
			continue
		}
		file, bad := source.New(path.Join(folder, name), raw)
		list = append(list, bad...)
		t.files[stem] = file
		if own {
			t.own[stem] = true
		}
	}
	return list
}

// parse makes the set of templates. All files are parsed, so that the first bad one does not hide the
// others.
func (t *Templates) parse() source.List {
	var list source.List
	t.set = template.New("").Option("missingkey=error").Funcs(textFunctions)
	for _, name := range t.names() {
		if _, err := t.set.New(name).Parse(t.files[name].Text); err != nil {
			list = append(list, t.explain(name, err))
		}
	}
	if list.Errors() > 0 {
		return list
	}
	for _, name := range t.names() {
		for _, call := range calls(t.set.Lookup(name)) {
			if t.set.Lookup(call.Name) == nil {
				at := int(call.Position())
				file := t.files[name]
				list = append(list, source.ThemeTemplate(call.Name, t.nearest(call.Name)).At(file.Span(at, at+len(call.Name)+2)))
			}
		}
	}
	return list
}

// unused reports the lab's own templates that no template calls and that replace none: mostly
// misspelt names.
func (t *Templates) unused(builtIn []string) source.List {
	used := map[string]bool{}
	for name := range t.files {
		for _, call := range calls(t.set.Lookup(name)) {
			used[call.Name] = true
		}
	}
	var list source.List
	for name := range t.own {
		if !used[name] && !slices.Contains(builtIn, name) {
			list = append(list, source.ThemeNoUse(name, source.Nearest(name, builtIn)).AtFile(t.files[name].Path))
		}
	}
	return list
}

// calls lists the {{template}} actions in a template.
func calls(t *template.Template) []*parse.TemplateNode {
	if t == nil || t.Tree == nil || t.Tree.Root == nil {
		return nil
	}
	var found []*parse.TemplateNode
	var walk func(parse.Node)
	branch := func(b *parse.BranchNode) {
		for _, l := range []*parse.ListNode{b.List, b.ElseList} {
			if l != nil {
				walk(l)
			}
		}
	}
	walk = func(n parse.Node) {
		switch n := n.(type) {
		case *parse.ListNode:
			for _, c := range n.Nodes {
				walk(c)
			}
		case *parse.TemplateNode:
			found = append(found, n)
		case *parse.IfNode:
			branch(&n.BranchNode)
		case *parse.WithNode:
			branch(&n.BranchNode)
		case *parse.RangeNode:
			branch(&n.BranchNode)
		}
	}
	walk(t.Tree.Root)
	return found
}

// nearest is the template that was most likely meant by a name; "" for none.
func (t *Templates) nearest(name string) string {
	if now := renamedFiles[name+".html"]; now != "" {
		return strings.TrimSuffix(now, ".html")
	}
	return source.Nearest(name, t.names())
}

func (t *Templates) names() []string {
	names := make([]string, 0, len(t.files))
	for name := range t.files {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// Assets returns the theme's files that are not templates, by name: lab.css with the styles of charts
// and of coloured code and the safety rules added, card.css and labels.css with the safety rules, and
// whatever else the themes hold. The caller must not change them.
func (t *Templates) Assets() map[string][]byte {
	t.finish()
	return t.assets
}

// Instruction fills instruction.html. It refuses the result if a safety message of the page is
// missing, or stands below the first number.
func (t *Templates) Instruction(v *Instruction) ([]byte, source.List) {
	return t.guarded("instruction", v, v)
}

// Drawer fills drawer.html, with the same guard as Instruction.
func (t *Templates) Drawer(v *Drawer) ([]byte, source.List) {
	return t.guarded("drawer", v, &v.Instruction)
}

// Front fills front.html, with the same guard as Instruction.
func (t *Templates) Front(v *Front) ([]byte, source.List) {
	return t.guarded("front", v, &v.Instruction)
}

// Withdrawn fills withdrawn.html.
func (t *Templates) Withdrawn(v *Withdrawn) ([]byte, source.List) { return t.fill("withdrawn", v) }

// Register fills register.html.
func (t *Templates) Register(v *Register) ([]byte, source.List) { return t.fill("register", v) }

// Missing fills missing.html.
func (t *Templates) Missing(v *Missing) ([]byte, source.List) { return t.fill("missing", v) }

// DrawerNames fills drawer-names.html, for Shell.DrawerNames.
func (t *Templates) DrawerNames(v DrawerNames) (template.HTML, source.List) {
	return t.part("drawer-names", v)
}

// Given fills given.html, for Instruction.Given or a place in the text.
func (t *Templates) Given(v Given) (template.HTML, source.List) { return t.part("given", v) }

// Figures fills figures.html, for Instruction.Figures or a place in the text.
func (t *Templates) Figures(v Figures) (template.HTML, source.List) { return t.part("figures", v) }

// Limits fills limits.html, for a refusal that replaces the numbers in the text. The templates of
// figures and of the arithmetic call it themselves.
func (t *Templates) Limits(v []Limit) (template.HTML, source.List) { return t.part("limits", v) }

// Sureness fills sureness.html, for a place in the text.
func (t *Templates) Sureness(v Sureness) (template.HTML, source.List) { return t.part("sureness", v) }

// Arithmetic fills arithmetic.html, for Instruction.Arithmetic or a place in the text.
func (t *Templates) Arithmetic(v Arithmetic) (template.HTML, source.List) {
	return t.part("arithmetic", v)
}

// Checks fills checks.html, for Instruction.Checks or a place in the text.
func (t *Templates) Checks(v Checks) (template.HTML, source.List) { return t.part("checks", v) }

// Report fills report.html, for a place in the text.
func (t *Templates) Report(v Report) (template.HTML, source.List) { return t.part("report", v) }

// Table fills table.html, for a place in the text.
func (t *Templates) Table(v Table) (template.HTML, source.List) { return t.part("table", v) }

// Weighing fills weighing.html, for a place in the text.
func (t *Templates) Weighing(v Weighing) (template.HTML, source.List) { return t.part("weighing", v) }

// Find fills find.html, for Shell.Find.
func (t *Templates) Find(v Find) (template.HTML, source.List) { return t.once("find", v) }

// Units fills units.html, for Shell.Units.
func (t *Templates) Units(v Units) (template.HTML, source.List) { return t.once("units", v) }

// Steps fills steps.html, for a place in the text. It refuses the result if the safety message of a
// step is missing, or does not stand before what the step says to do.
func (t *Templates) Steps(v Steps) (template.HTML, source.List) {
	out, list := t.part("steps", v)
	if list.Errors() > 0 {
		return "", list
	}
	if !inOrder(string(out), stepPieces(v)) {
		return "", append(list, source.ThemeDrops("the safety message of a step").AtFile(t.files["steps"].Path))
	}
	return out, list
}

// Hazards fills hazards.html, for Instruction.Hazards. It refuses the result if anything is missing
// that a reader must know before the work.
func (t *Templates) Hazards(v Hazards) (template.HTML, source.List) {
	out, list := t.part("hazards", v)
	if list.Errors() > 0 {
		return "", list
	}
	if lost := missingFrom(string(out), append(v.pieces(false), v.beforehand()...)); lost != "" {
		return "", append(list, source.ThemeDrops("of the hazards: "+lost).AtFile(t.files["hazards"].Path))
	}
	return out, list
}

// Aftercare fills aftercare.html, for Instruction.Aftercare. It refuses the result if anything is
// missing that a reader must know after the work.
func (t *Templates) Aftercare(v Hazards) (template.HTML, source.List) {
	out, list := t.part("aftercare", v)
	if list.Errors() > 0 {
		return "", list
	}
	if lost := missingFrom(string(out), v.afterwards()); lost != "" {
		return "", append(list, source.ThemeDrops("of the hazards: "+lost).AtFile(t.files["aftercare"].Path))
	}
	return out, list
}

// Card fills card.html. It refuses the result if a hazard or a safety message is missing, or stands
// below the first number.
func (t *Templates) Card(v *Card) ([]byte, source.List) {
	out, list := t.fill("card", v)
	if list.Errors() > 0 {
		return nil, list
	}
	path := t.files["card"].Path
	var messages []template.HTML
	for _, c := range v.Cautions {
		messages = append(messages, c.Text)
	}
	html := string(out)
	top := html[:firstNumber(out, messages...)]
	if v.Hazards != nil {
		if lost := missingFrom(html, v.Hazards.pieces(true)); lost != "" {
			return nil, append(list, source.ThemeDrops("of the hazards: "+lost).AtFile(path))
		}
		if lost := missingFrom(top, v.Hazards.pieces(false)); lost != "" {
			return nil, append(list, source.ThemeOrder("of the hazards: "+lost).AtFile(path))
		}
	}
	for _, c := range v.Cautions {
		switch pieces := []string{c.Word, string(c.Text)}; {
		case !inOrder(html, pieces):
			return nil, append(list, source.ThemeDrops("the safety message "+c.Word+" "+c.Name).AtFile(path))
		case !inOrder(top, pieces):
			return nil, append(list, source.ThemeOrder("the safety message "+c.Word+" "+c.Name).AtFile(path))
		}
	}
	if v.Steps != nil && !inOrder(html, v.stepPieces()) {
		return nil, append(list, source.ThemeDrops("the safety message of a step").AtFile(path))
	}
	if v.Notice != "" && !strings.Contains(html, string(v.Notice)) {
		return nil, append(list, source.ThemeDrops("the standing notice").AtFile(path))
	}
	return out, list
}

// Labels fills labels.html. It refuses the result if the signal word, a symbol or a statement of a
// label is missing.
func (t *Templates) Labels(v *Labels) ([]byte, source.List) {
	out, list := t.fill("labels", v)
	if list.Errors() > 0 {
		return nil, list
	}
	for _, label := range v.Items {
		if label.Hazards == nil {
			continue
		}
		if lost := missingFrom(string(out), label.Hazards.pieces(false)); lost != "" {
			return nil, append(list, source.ThemeDrops("of the hazards: "+lost).AtFile(t.files["labels"].Path))
		}
	}
	return out, list
}

// Cautions fills cautions.html with one message or several, for Instruction.Cautions or a place in
// the text. It refuses the result if a word or a text is missing.
func (t *Templates) Cautions(v []Caution) (template.HTML, source.List) {
	html, list := t.part("cautions", v)
	if list.Errors() > 0 {
		return "", list
	}
	rest := string(html)
	for _, c := range v {
		for _, piece := range []string{c.Word, string(c.Text)} {
			i := strings.Index(rest, piece)
			if i < 0 {
				return "", append(list, source.ThemeDrops("the safety message "+c.Word+" "+c.Name).AtFile(t.files["cautions"].Path))
			}
			rest = rest[i+len(piece):]
		}
	}
	return html, list
}

// numberMark is how every computed number begins on a page.
const numberMark = `<span class="q`

func (t *Templates) guarded(name string, data any, page *Instruction) ([]byte, source.List) {
	out, list := t.fill(name, data)
	if list.Errors() > 0 {
		return nil, list
	}
	path := t.files[name].Path
	first := firstNumber(out, page.Hazards, page.Cautions)
	for _, part := range []struct {
		what string
		html template.HTML
	}{{"the hazards", page.Hazards}, {"the cautions", page.Cautions}} {
		if part.html == "" {
			continue
		}
		switch i := bytes.Index(out, []byte(part.html)); {
		case i < 0:
			return nil, append(list, source.ThemeDrops(part.what).AtFile(path))
		case i > first:
			return nil, append(list, source.ThemeOrder(part.what).AtFile(path))
		}
	}
	if page.Aftercare != "" && !bytes.Contains(out, []byte(page.Aftercare)) {
		return nil, append(list, source.ThemeDrops("first aid, waste and sources").AtFile(path))
	}
	if page.Notice != "" && !bytes.Contains(out, []byte(page.Notice)) {
		return nil, append(list, source.ThemeDrops("the standing notice").AtFile(path))
	}
	return out, list
}

// firstNumber is where the first number stands that is not part of a safety message: those may name a
// strength.
func firstNumber(out []byte, messages ...template.HTML) int {
	at := 0
	for {
		i := bytes.Index(out[at:], []byte(numberMark))
		if i < 0 {
			return len(out)
		}
		at += i
		end := at
		for _, html := range messages {
			if html == "" {
				continue
			}
			if from := bytes.Index(out, []byte(html)); from >= 0 && from <= at && at < from+len(html) {
				end = from + len(html)
			}
		}
		if end == at {
			return at
		}
		at = end
	}
}

func (t *Templates) part(name string, data any) (template.HTML, source.List) {
	var out template.HTML
	list := t.filled(name, data, func(b []byte) { out = template.HTML(b) })
	return out, list
}

// once is part for data that are the same on many pages; they must be comparable.
func (t *Templates) once(name string, data any) (template.HTML, source.List) {
	if made, is := t.made.Load(data); is {
		return made.(madePart).html, made.(madePart).list
	}
	html, list := t.part(name, data)
	t.made.Store(data, madePart{html, list})
	return html, list
}

// madePart is what a template made.
type madePart struct {
	html template.HTML
	list source.List
}

// fill executes a template.
func (t *Templates) fill(name string, data any) (out []byte, list source.List) {
	list = t.filled(name, data, func(b []byte) { out = bytes.Clone(b) })
	return out, list
}

// filled executes a template and passes what it writes to take, which must copy it, since the buffer
// is used again. Space around the result is trimmed: templates begin with a comment, which leaves a
// line end behind.
func (t *Templates) filled(name string, data any, take func([]byte)) source.List {
	b := buffers.Get().(*bytes.Buffer)
	defer buffers.Put(b)
	b.Reset()
	if bad, is := t.spent.Load(name); is {
		return source.List{bad.(source.Diagnostic)} // so that not every page waits for it
	}
	if err := t.set.ExecuteTemplate(t.allow(b, mostSteps), name, data); err != nil {
		bad := t.explain(name, err)
		if bad.Code == tooMuch {
			t.spent.Store(name, bad)
		}
		return source.List{bad}
	}
	take(bytes.TrimSpace(b.Bytes()))
	return nil
}

// buffers are used again from page to page, so that they grow only once to the size of the largest
// page.
var buffers = sync.Pool{New: func() any { return new(bytes.Buffer) }}

// Key identifies the lab's own theme: a sum of its files' names and bytes.
func (t *Templates) Key() string { return string(t.key.Sum(nil)) }

// Keeper is the theme's script that keeps a site on a device, without the list of files to keep.
func (t *Templates) Keeper() []byte {
	t.finish()
	return t.keeper
}
