package site

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"path"
	"slices"

	"labsite/recipes/sheet"
)

// Files that let a reader keep the site: the script on every page, the service worker
// that answers from the copy, and what the worker asks of the site to know whether its
// copy is still the right one. The theme's keep.js is the worker without the list.
const (
	offlineFile = "offline.js"
	workerFile  = "offline-worker.js"
	versionFile = "offline.json"
	workerCode  = "keep.js"
)

// keptSite is what the worker knows of the site that it keeps.
type keptSite struct {
	Version string `json:"version"`
	Made    string `json:"made"` // the day of publishing, as readers see it
	// Files are all that is kept, each with the beginning of its SHA-256 in hexadecimal:
	// a copy holds one version of everything or is not taken.
	Files [][2]string `json:"files"`
	// Reviews are the days on which pages are due, with their titles.
	Reviews map[string][2]string `json:"reviews"`
}

// Keep adds the worker and the version to the files of a whole site that Render made. A
// preview has none: it changes all the time, and nobody is to keep it.
func (s *Site) Keep(a sheet.Audience, out map[string][]byte) {
	code := s.templates.worker
	if code == nil {
		return
	}
	v := keptSite{Made: date(s.Today).Shown, Reviews: map[string][2]string{}}
	var names []string
	for name := range out {
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
		sum := sha256.Sum256(out[name])
		all.Write([]byte(name))
		all.Write(sum[:])
		v.Files = append(v.Files, [2]string{urlPath(name), hex.EncodeToString(sum[:8])})
	}
	v.Version = hex.EncodeToString(all.Sum(nil)[:8])
	gone := []string{}
	for _, t := range s.Topics {
		if !t.shownTo(a) || t.Sheet == nil || t.Sheet.Control == nil {
			continue
		}
		if t.Status() == sheet.Withdrawn {
			gone = append(gone, urlPath(t.Address()))
			continue
		}
		if due, ok := t.Sheet.Control.Due(); ok {
			review := [2]string{date(due).ISO, t.Title()}
			v.Reviews[urlPath(t.Address())] = review
			if hasCard(t) {
				v.Reviews[urlPath(path.Join(path.Dir(t.Address()), cardAddress(t)))] = review
			}
		}
	}
	b, err := encode(v)
	if err != nil {
		return // texts and lists alone: it cannot fail
	}
	out[workerFile] = slices.Concat([]byte("const site = "), b, []byte(";\n"), code)
	out[versionFile], _ = json.Marshal(map[string]any{"version": v.Version, "gone": gone})
}
