package preview

import (
	"encoding/json"
	"net/http"
	"net/url"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/build"
	"labsite/render/routes"
)

// hub knows the open pages and sends each what concerns it.
type hub struct {
	preview *Preview
	mu      sync.Mutex
	clients map[*client]bool
}

// client is one open page.
type client struct {
	audience page.Audience
	address  string
	out      chan message // the message not sent yet; a newer one replaces it
	mu       sync.Mutex
	hash     string // of the page that it shows
	sent     string // the last message, so that none is sent twice
	page     string // the path of the page that it shows
}

// message is what an open page is sent: its HTML if that changed, and what to say beside it.
type message struct {
	HTML    string  `json:"html,omitempty"`
	Hash    string  `json:"hash"`
	Page    string  `json:"page"`
	Found   bool    `json:"found"`
	Style   bool    `json:"style,omitempty"` // only the look changed
	Errors  []note  `json:"errors"`
	Notes   []note  `json:"notes"`
	Others  []other `json:"others"` // other files with errors
	Waiting int     `json:"waiting"`
	Guarded string  `json:"guarded,omitempty"` // how many changes of the page its checks notice
	Save    *save   `json:"save"`
	Editor  bool    `json:"editor"`
	Staff   bool    `json:"staff"`
	Address string  `json:"address"`
}

// note is one thing to say about a place.
type note struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Place   string `json:"place"` // file:line:column
	Code    string `json:"code"`
	Message string `json:"message"`
	Hint    string `json:"hint"`
	Advice  bool   `json:"advice,omitempty"` // even a strict check ignores it
	Text    string `json:"text"`
	Mark    string `json:"mark"`
	Open    string `json:"open,omitempty"` // an address that opens the editor
	// Given or Figure names the value that the note is about, if it is about one.
	Given  string `json:"given,omitempty"`
	Figure string `json:"figure,omitempty"`
}

type other struct {
	File    string `json:"file"`
	Errors  int    `json:"errors"`
	Address string `json:"address,omitempty"`
}

func (p *Preview) note(d source.Diagnostic) note {
	n := note{File: d.File, Line: d.Line, Column: d.Column, Code: d.Code, Message: d.Message, Hint: d.Hint, Advice: d.Severity == source.Advice}
	n.Text, n.Mark = d.Excerpt()
	n.Place = place(d.File, d.Line, d.Column)
	n.Open = p.editor(d.File, d.Line, d.Column)
	return n
}

func place(file string, line, column int) string {
	return file + ":" + strconv.Itoa(line) + ":" + strconv.Itoa(column)
}

// editor is the address that opens a place in the writer's editor, "" if none is set.
func (p *Preview) editor(file string, line, column int) string {
	if p.opt.Editor == "" {
		return ""
	}
	return strings.NewReplacer("{file}", escapePath(filepath.Join(p.full, filepath.FromSlash(file))),
		"{line}", strconv.Itoa(line), "{column}", strconv.Itoa(column)).Replace(p.opt.Editor)
}

// serve keeps an open page up to date, by server-sent events (HTML standard, section 9.2).
func (h *hub) serve(w http.ResponseWriter, r *http.Request) {
	at, err := url.PathUnescape(r.URL.Query().Get("at")) // escaped, as in the browser's address
	a, address, ok := split(at)
	flusher, can := w.(http.Flusher)
	if !ok || !can || err != nil {
		http.Error(w, "There is no such address.", http.StatusNotFound)
		return
	}
	c := &client{audience: a, address: address, out: make(chan message, 1), hash: r.URL.Query().Get("have")}
	w.Header().Set("Content-Type", "text/event-stream")
	h.mu.Lock()
	h.clients[c] = true
	h.mu.Unlock()
	defer func() {
		h.mu.Lock()
		delete(h.clients, c)
		h.mu.Unlock()
	}()
	w.Write([]byte("retry: 500\n\n"))
	flusher.Flush()
	h.tellOne(c, build.Changed{}, true)
	h.preview.wake() // to try changes on it
	alive := time.NewTicker(20 * time.Second)
	defer alive.Stop()
	for {
		var err error
		select {
		case <-r.Context().Done():
			return
		case <-alive.C:
			_, err = w.Write([]byte(": still here\n\n"))
		case m := <-c.out:
			var b []byte
			if b, err = json.Marshal(m); err == nil {
				_, err = w.Write(append(append([]byte("data: "), b...), "\n\n"...))
			}
		}
		if err != nil {
			return
		}
		flusher.Flush()
	}
}

func (h *hub) all() []*client {
	h.mu.Lock()
	defer h.mu.Unlock()
	var out []*client
	for c := range h.clients {
		out = append(out, c)
	}
	return out
}

// pages lists the files of the open pages.
func (h *hub) pages() []string {
	var out []string
	for _, c := range h.all() {
		c.mu.Lock()
		if c.page != "" && !slices.Contains(out, c.page) {
			out = append(out, c.page)
		}
		c.mu.Unlock()
	}
	return out
}

// refresh tells every open page of a change of files, those about all pages last, since they take
// longest.
func (h *hub) refresh(c build.Changed) {
	var last []*client
	for _, x := range h.all() {
		if routes.OfAll(x.address) {
			last = append(last, x)
			continue
		}
		h.tellOne(x, c, false)
	}
	for _, x := range last {
		h.tellOne(x, c, false)
	}
}

// tell tells every open page what has been found out since.
func (h *hub) tell() { h.refresh(build.Changed{}) }

func (h *hub) tellOne(c *client, change build.Changed, always bool) {
	p := h.preview
	c.mu.Lock()
	defer c.mu.Unlock()
	st := p.state(c.audience, c.address)
	c.page = st.page
	m := message{Hash: st.hash, Page: st.page, Found: st.found, Errors: []note{}, Notes: []note{}, Others: []other{}, Style: change.Style,
		Staff: c.audience == page.Staff, Address: c.address, Editor: p.opt.Editor != ""}
	for _, d := range st.list {
		n := p.note(d)
		if d.Severity == source.Error {
			m.Errors = append(m.Errors, n)
		} else if d.File == st.page || source.Measured(d.Code) {
			m.Notes = append(m.Notes, n)
		}
	}
	p.now(func(s *build.Followed) {
		p.advise(s, &m)
		p.change.add(s.TakeChanges())
		m.Others = othersOf(s, m.Errors, c.audience)
	})
	m.Save = p.change.now(c.audience)
	if len(m.Errors) == 0 && st.hash != c.hash {
		m.HTML = string(st.html)
		c.hash = st.hash
		if st.html == nil {
			m.HTML = string(p.instead(c.audience, c.address, st))
		}
	}
	b, _ := json.Marshal(m)
	if !always && !m.Style && string(b) == c.sent {
		return
	}
	again := m
	again.HTML = ""
	b, _ = json.Marshal(again)
	c.sent = string(b)
	c.hand(m)
}

// advise adds advice for the writer of a page, and where on the page each note belongs.
func (p *Preview) advise(s *build.Followed, m *message) {
	m.Guarded = s.Guarded(m.Page)
	for _, d := range s.Advice(m.Page) {
		m.Notes = append(m.Notes, p.note(d))
	}
	for i := range m.Notes {
		if n := &m.Notes[i]; n.File == m.Page {
			n.Given, n.Figure = s.Named(m.Page, n.Line)
		}
	}
}

// mostOthers bounds the other files with errors that a page lists.
const mostOthers = 50

// othersOf lists the files with errors, except those whose errors the page shows already.
func othersOf(s *build.Followed, told []note, a page.Audience) []other {
	here := map[string]bool{}
	for _, n := range told {
		here[n.File] = true
	}
	out := []other{}
	for _, f := range s.Faulty() {
		if here[f.File] || len(out) == mostOthers {
			continue
		}
		o := other{File: f.File, Errors: f.Errors}
		if f.Address != "" {
			o.Address = "/" + string(a) + "/" + f.Address
		}
		out = append(out, o)
	}
	return out
}

// hand gives a message to the page. If it has not taken the last one yet, the new one stands for
// both.
func (c *client) hand(m message) {
	select {
	case old := <-c.out:
		if m.HTML == "" {
			m.HTML = old.HTML
		}
		m.Style = m.Style || old.Style
	default:
	}
	c.out <- m
}
