package machine

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"path"
	"slices"
	"strings"

	"labsite/recipes/page"
	"labsite/render/content"
	"labsite/render/search"
	"labsite/render/write"
)

// Files that let a reader keep the site, besides the script on every page: the service worker,
// which answers from the copy, and the version, which it fetches to know whether its copy is still
// current.
const (
	KeeperFile  = "offline-worker.js"
	VersionFile = "offline.json"
)

// keptSite is what the worker knows of the site that it keeps.
type keptSite struct {
	Version string `json:"version"`
	// Files are all that is kept, each with the beginning of its SHA-256 in hexadecimal: a copy has
	// one version of everything or is not kept.
	Files [][2]string `json:"files"`
	// Parts are files of a large site's search, which join the copy afterwards, a few at a time.
	Parts [][2]string `json:"parts"`
	// Reviews are the days on which pages are due for review, with their titles, by address.
	Reviews map[string][2]string `json:"reviews"`
}

// Keep writes the worker and the version of a whole site from the SHA-256 of all its other files.
func Keep(s *write.Site, sums map[string][sha256.Size]byte) (worker, version []byte) {
	code := s.Theme.Keeper()
	if code == nil {
		return nil, nil
	}
	v := keptSite{Parts: [][2]string{}, Reviews: map[string][2]string{}}
	var names []string
	for name := range sums {
		switch path.Ext(name) {
		case ".xml", ".txt", ".gz":
		default:
			names = append(names, name)
		}
	}
	slices.Sort(names)
	all := sha256.New()
	all.Write(code)
	for _, name := range names {
		sum := sums[name]
		all.Write([]byte(name))
		all.Write(sum[:])
		held := [2]string{content.URLPath(name), hex.EncodeToString(sum[:8])}
		if strings.HasPrefix(name, search.Folder) {
			v.Parts = append(v.Parts, held)
		} else {
			v.Files = append(v.Files, held)
		}
	}
	v.Version = hex.EncodeToString(all.Sum(nil)[:8])
	gone := []string{}
	for _, p := range s.Content.Pages {
		if !p.ShownTo(s.Audience) || p.Head.Control == nil {
			continue
		}
		if p.Status() == page.Withdrawn {
			gone = append(gone, content.URLPath(p.Address()))
			continue
		}
		if due, ok := p.Head.Control.Due(); ok {
			review := [2]string{write.Day(due).ISO, p.Title()}
			v.Reviews[content.URLPath(p.Address())] = review
			if s.Listed(p).HasCard {
				v.Reviews[content.URLPath(path.Join(path.Dir(p.Address()), write.CardAddress(p)))] = review
			}
		}
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	_ = e.Encode(v) // cannot fail: it has only texts and lists
	worker = slices.Concat([]byte("const site = "), bytes.TrimSpace(b.Bytes()), []byte(";\n"), code)
	version, _ = json.Marshal(map[string]any{"version": v.Version, "gone": gone})
	return worker, version
}
