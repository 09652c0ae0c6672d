package language

import (
	"path"
	"slices"
	"strings"

	"github.com/creachadair/jrpc2"

	"labsite/recipes/source"
	"labsite/render/content"
)

// move gives a file another path; both are in the content folder.
type move struct{ from, to string }

// willRenameFiles says what must change in all pages when files are renamed or moved, so that every
// link, data file and page drawn on is still found. Editors ask before they rename.
func (s *server) willRenameFiles(p renameFilesParams) (any, error) {
	var moves []move
	for _, f := range p.Files {
		from, inside := s.folder.within(f.OldURI)
		to, stays := s.folder.within(f.NewURI)
		if inside && stays && from != to {
			moves = append(moves, move{from, to})
		}
	}
	if len(moves) == 0 {
		return nil, nil
	}
	var out workspaceEdit
	s.look(func(l *lookup) { out.Changes = s.afterMoves(l, moves) })
	if len(out.Changes) == 0 {
		return nil, nil
	}
	return out, nil
}

// moved is the path of a file after moves of files and folders.
func moved(at string, moves []move) string {
	for _, m := range moves {
		if at == m.from {
			return m.to
		}
		if rest, in := strings.CutPrefix(at, m.from+"/"); in {
			return m.to + "/" + rest
		}
	}
	return at
}

// afterMoves lists the edits in all pages, by their addresses before the moves.
func (s *server) afterMoves(l *lookup, moves []move) map[string][]textEdit {
	out := map[string][]textEdit{}
	for _, p := range l.content.Pages {
		if moved(p.Path, moves) == p.Path && !l.mayNameAny(p, moves) {
			continue
		}
		r := l.reading(p.Path)
		if r == nil {
			continue
		}
		for _, m := range r.marks {
			if m.sort != file {
				continue
			}
			if text := l.rewritten(p.Path, m, moves); text != "" {
				uri := s.addressOf(p.Path)
				out[uri] = append(out[uri], textEdit{rangeOf(r.file, m.start, m.end), text})
			}
		}
	}
	for _, edits := range out {
		slices.SortFunc(edits, func(a, b textEdit) int {
			if a.Range.Start.Line != b.Range.Start.Line {
				return a.Range.Start.Line - b.Range.Start.Line
			}
			return a.Range.Start.Character - b.Range.Start.Character
		})
	}
	return out
}

// mayNameAny rules out pages that cannot name a moved file, without parsing them.
func (l *lookup) mayNameAny(p *content.Page, moves []move) bool {
	for _, m := range moves {
		if path.Ext(m.from) == "" || l.mayName(p, symbol{file: m.from, sort: file}) {
			return true
		}
	}
	return false
}

// rewritten is the path that a page must write to a file after the moves; "" if the written one
// still fits, or leads nowhere.
func (l *lookup) rewritten(at string, m mark, moves []move) string {
	written, anchor, anchored := strings.Cut(m.name, "#")
	target := l.fileAt(at, m.name)
	if written == "" || target == "" {
		return ""
	}
	page, to := moved(at, moves), moved(target, moves)
	if page == at && to == target {
		return ""
	}
	now := relative(path.Dir(page), to)
	above := path.Dir(to) == "." || strings.HasPrefix(page, path.Dir(to)+"/")
	if m.entry != nil && path.Ext(to) == ".csv" && !strings.Contains(written, "/") && above && !l.nearer(page, to) {
		now = path.Base(to) // a bare name is looked up in the folders above as well
	}
	if m.entry == nil {
		now = asLink.Replace(now)
		if plain := path.Clean(written); plain == now { // such as ./page.md
			return ""
		}
	}
	if now == written {
		return ""
	}
	if anchored {
		now += "#" + anchor
	}
	return now
}

// nearer reports whether a page would find another file of the same name first.
func (l *lookup) nearer(page, to string) bool {
	for folder := path.Dir(page); folder != path.Dir(to); folder = path.Dir(folder) {
		if l.content.HasFile(path.Join(folder, path.Base(to))) {
			return true
		}
		if folder == "." {
			return false
		}
	}
	return false
}

// asLink writes a path as the target of a link in Markdown.
var asLink = strings.NewReplacer("%", "%25", " ", "%20", "(", "%28", ")", "%29", "#", "%23", "?", "%3F", "<", "%3C", ">", "%3E")

// renamePath renames the file that a page names: its path is rewritten on all pages, and the editor
// is asked to rename the file itself.
func (s *server) renamePath(l *lookup, at string, sym symbol, name string) (any, error) {
	name, _, _ = strings.Cut(strings.TrimSpace(name), "#")
	to := path.Join(path.Dir(at), name)
	problem, fits := content.NameProblem(to)
	switch {
	case name == "" || strings.HasPrefix(name, "/") || to == ".." || strings.HasPrefix(to, "../"):
		return nil, jrpc2.Errorf(codeFailed, "%q is not a path in the content folder", name)
	case path.Ext(to) != path.Ext(sym.file):
		return nil, jrpc2.Errorf(codeFailed, "the name of %s ends in %s, and so must the new one", sym.file, path.Ext(sym.file))
	case to == sym.file:
		return nil, jrpc2.Errorf(codeFailed, "%s already has that name", sym.file)
	case !fits:
		return nil, jrpc2.Errorf(codeFailed, "%s. %s", problem.Message, problem.Hint)
	case l.content.Page(to) != nil || l.content.HasFile(to):
		return nil, jrpc2.Errorf(codeFailed, "%s already exists", to)
	}
	var all []any
	changes := s.afterMoves(l, []move{{sym.file, to}})
	var uris []string
	for uri := range changes {
		uris = append(uris, uri)
	}
	slices.Sort(uris)
	for _, uri := range uris {
		id := versionedIdentifier{URI: uri}
		if at, ok := s.folder.within(uri); ok && s.open[at] != nil {
			id.Version = &s.open[at].version
		}
		all = append(all, documentEdit{id, changes[uri]})
	}
	all = append(all, renameFile{"rename", s.addressOf(sym.file), s.folder.address(to)})
	return map[string]any{"documentChanges": all}, nil
}

// mayRename reports whether a symbol may be renamed; a file only if the editor renames files on
// request.
func (s *server) mayRename(sym symbol, f *source.File, m mark) bool {
	return renamable(sym) || sym.sort == file && sym.file != "" && s.moving && strings.HasSuffix(f.Path, ".md") && m.end > m.start
}
