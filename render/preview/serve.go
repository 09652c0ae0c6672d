package preview

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"encoding/json"
	"html"
	"mime"
	"net"
	"net/http"
	"path"
	"strconv"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/build"
	"labsite/render/routes"
	"labsite/render/theme"
	"labsite/render/write"
)

//go:embed live.css
var liveCSS []byte

// views are the two views, by their folders in the preview.
var views = map[string]page.Audience{"staff": page.Staff, "customers": page.Customers}

// handler answers requests from this machine's own browser, and no others.
func (p *Preview) handler() http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Content-Security-Policy", theme.PreviewPolicy+"; frame-ancestors 'none'")
		h.Set("Cache-Control", "no-store")
		if !p.ours(r.Host) {
			// A site elsewhere may have pointed its own name at this address.
			http.Error(w, "This preview answers only at "+p.Address(), http.StatusMisdirectedRequest)
			return
		}
		if from := r.Header.Get("Sec-Fetch-Site"); from != "" && from != "same-origin" && from != "none" &&
			r.Header.Get("Sec-Fetch-Mode") != "navigate" {
			http.Error(w, "This preview answers only its own pages.", http.StatusForbidden)
			return
		}
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			h.Set("Allow", "GET, HEAD")
			http.Error(w, "Pages here can only be read.", http.StatusMethodNotAllowed)
			return
		}
		at := r.URL.Path
		if !inside(at) || strings.Contains(r.URL.RawPath, "%2f") || strings.Contains(r.URL.RawPath, "%2F") {
			http.Error(w, "There is no such address.", http.StatusNotFound)
			return
		}
		switch at {
		case "/":
			http.Redirect(w, r, "/"+string(p.opt.Audience)+"/", http.StatusFound)
		case write.LiveScript:
			send(w, "live.js", liveJS())
		case "/proof/live.css":
			send(w, "live.css", liveCSS)
		case "/proof/changes":
			p.hub.serve(w, r)
		case "/proof/number":
			p.number(w, r)
		default:
			p.page(w, r)
		}
	})
}

// ours reports whether a request's host is this preview's own address.
func (p *Preview) ours(host string) bool {
	name, port, err := net.SplitHostPort(host)
	if err != nil {
		return false
	}
	_, own, _ := net.SplitHostPort(p.listener.Addr().String())
	return port == own && (name == "127.0.0.1" || name == "localhost")
}

// inside reports whether a path is plain: no step upwards, no double slash.
func inside(at string) bool {
	if !strings.HasPrefix(at, "/") || strings.ContainsAny(at, "\\\x00") || strings.Contains(at, "//") {
		return false
	}
	clean := path.Clean(at)
	return clean == at || clean+"/" == at
}

func send(w http.ResponseWriter, name string, b []byte) {
	kind := mime.TypeByExtension(path.Ext(name))
	switch path.Ext(name) {
	case ".js":
		kind = "text/javascript; charset=utf-8"
	case ".css":
		kind = "text/css; charset=utf-8"
	case ".html":
		kind = "text/html; charset=utf-8"
	case ".svg":
		kind = "image/svg+xml"
	case "":
		kind = "text/plain; charset=utf-8"
	}
	if kind == "" {
		kind = "application/octet-stream"
	}
	w.Header().Set("Content-Type", kind)
	w.Write(b)
}

// split splits an address of the preview into the view and the address on the site.
func split(at string) (a page.Audience, address string, ok bool) {
	view, address, _ := strings.Cut(strings.TrimPrefix(at, "/"), "/")
	a, ok = views[view]
	if address == "" || strings.HasSuffix(address, "/") {
		address += "index.html"
	}
	return a, address, ok
}

// page answers with whatever the site has at an address: a page, a picture, a style sheet.
func (p *Preview) page(w http.ResponseWriter, r *http.Request) {
	a, address, ok := split(r.URL.Path)
	if !ok {
		http.Error(w, "There is no such address.", http.StatusNotFound)
		return
	}
	if r.URL.Path == "/"+string(a) {
		http.Redirect(w, r, r.URL.Path+"/", http.StatusFound)
		return
	}
	if path.Ext(address) != ".html" {
		var answer build.Answer
		if routes.OfAll(address) { // it may take a while, and the background need not wait for it
			answer, ok = p.site.Load().Answer(a, address, true)
		} else {
			p.now(func(s *build.Followed) { answer, ok = s.Answer(a, address, true) })
		}
		if !ok || answer.Bytes == nil {
			http.Error(w, "There is no such file, or no page of this view uses it.", http.StatusNotFound)
			return
		}
		send(w, address, answer.Bytes)
		return
	}
	p.turn()
	st := p.state(a, address)
	if st.html == nil {
		st.html = p.instead(a, address, st)
		if st.list.Errors() == 0 {
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
			w.WriteHeader(http.StatusNotFound)
		}
	}
	send(w, address, st.marked())
}

// state is a page as the preview shows it now.
type state struct {
	found bool
	html  []byte // the page, or its last correct state; nil if there never was one
	hash  string // of html
	list  source.List
	page  string
}

// state writes a page, and keeps it if nothing is wrong with it.
func (p *Preview) state(a page.Audience, address string) state {
	var answer build.Answer
	var ok bool
	p.now(func(s *build.Followed) { answer, ok = s.Answer(a, address, true) })
	st := state{found: ok, list: answer.List, page: answer.Page, html: answer.Bytes}
	key := string(a) + "/" + address
	if ok && answer.List.Errors() == 0 && answer.Bytes != nil {
		p.good.keep(key, answer.Bytes)
	} else if kept := p.good.find(key); kept != nil && (answer.List.Errors() > 0 || !ok && answer.Page != "") {
		st.html = kept
	}
	if st.html != nil {
		sum := sha256.Sum256(st.html)
		st.hash = hex.EncodeToString(sum[:8])
	}
	return st
}

// marked is the page with its hash in the head, for the script.
func (st state) marked() []byte {
	mark := []byte(`<meta name="proof" content="` + st.hash + `">` + "\n</head>")
	return bytes.Replace(st.html, []byte("</head>"), mark, 1)
}

// instead is a page for an address that has none. It carries the script, so that the page shows as
// soon as there is one.
func (p *Preview) instead(a page.Audience, address string, st state) []byte {
	title, text := "No page here yet", "The "+string(a)+"’ view has no page at "+address+". If you write it, it will show here."
	if a == page.Staff {
		text = "There is no page at " + address + ". If you write it, it will show here."
	}
	if st.found && st.list.Errors() > 0 {
		title, text = "Not worked out yet", "This page has had errors since the preview began. See above for what is wrong with it."
	} else if st.found {
		title, text = "Not in this view", "This page is not for customers, or it has been taken out of the site."
	}
	return []byte(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="` + html.EscapeString(theme.PreviewPolicy) + `">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>` + title + `</title>
<link rel="stylesheet" href="/` + string(a) + `/lab.css">
<script src="` + write.LiveScript + `" defer></script>
</head>
<body>
<main id="Content" data-instead><h1>` + title + `</h1><p>` + html.EscapeString(text) + `</p><p><a href="/` + string(a) + `/">To the front page</a></p></main>
</body>
</html>
`)
}

// number answers with the tree of one number.
func (p *Preview) number(w http.ResponseWriter, r *http.Request) {
	var tree write.Branch
	var ok bool
	q := r.URL.Query()
	number := func(key string) int {
		n, err := strconv.Atoi(q.Get(key))
		if err != nil {
			return -1
		}
		return n
	}
	ask := write.Ask{Page: q.Get("page"), Name: q.Get("name"), Written: q.Get("written"), From: q.Get("drawn"),
		Table: q.Get("table"), Row: number("row"), Column: number("column"), Figure: number("figure"), Step: number("step")}
	p.now(func(s *build.Followed) { tree, ok = s.Tree(ask) })
	if !ok {
		http.Error(w, "That page has no such number, or has errors at the moment.", http.StatusNotFound)
		return
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	e := json.NewEncoder(w)
	e.Encode(p.placed(tree))
}
