package language

import (
	"context"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/creachadair/jrpc2"
	"github.com/creachadair/jrpc2/channel"
)

// editor is the client in an editor. The library frames its messages, so that the two ends do not
// share code.
type editor struct {
	t    testing.TB
	dir  string
	rpc  *jrpc2.Client
	in   *io.PipeWriter
	done chan error

	mu   sync.Mutex
	more *sync.Cond
	told map[string]publishParams // the last one of each file
	ver  map[string]int
	asks map[string]int // how often the server asked the editor for what
	text map[string]string
}

var testDay = time.Date(2026, 11, 28, 0, 0, 0, 0, time.UTC)

// begin starts a server on a folder and an initialized editor.
func begin(t testing.TB, dir string) *editor {
	t.Helper()
	toServer, in := io.Pipe()
	out, fromServer := io.Pipe()
	e := &editor{t: t, dir: dir, in: in, done: make(chan error, 1), told: map[string]publishParams{}, asks: map[string]int{}, ver: map[string]int{}, text: map[string]string{}}
	e.more = sync.NewCond(&e.mu)
	go func() {
		err := Serve(context.Background(), toServer, fromServer, Options{Dir: dir, Now: func() time.Time { return testDay }})
		fromServer.Close()
		e.done <- err
	}()
	e.rpc = jrpc2.NewClient(listening{channel.LSP(out, in), e.hear}, &jrpc2.ClientOptions{OnCallback: e.called})
	var hello struct {
		Capabilities map[string]any `json:"capabilities"`
	}
	e.ask("initialize", map[string]any{"processId": nil, "rootUri": "file://" + filepath.ToSlash(dir), "capabilities": map[string]any{
		"textDocument": map[string]any{"publishDiagnostics": map[string]any{"relatedInformation": true}},
		"workspace": map[string]any{"didChangeWatchedFiles": map[string]any{"dynamicRegistration": true}, "codeLens": map[string]any{"refreshSupport": true},
			"workspaceEdit": map[string]any{"documentChanges": true, "resourceOperations": []string{"rename"}}}}}, &hello)
	if hello.Capabilities["textDocumentSync"] == nil {
		t.Fatalf("the server can do %v", hello.Capabilities)
	}
	e.notify("initialized", map[string]any{})
	t.Cleanup(e.leave)
	return e
}

// called answers what the server asks of the editor.
func (e *editor) called(_ context.Context, r *jrpc2.Request) (any, error) {
	e.mu.Lock()
	e.asks[r.Method()]++
	e.mu.Unlock()
	e.more.Broadcast()
	return nil, nil
}

// asked waits until the server has asked for something more often than before.
func (e *editor) asked(method string, before int) (now int) {
	e.mu.Lock()
	defer e.mu.Unlock()
	for e.asks[method] <= before {
		e.more.Wait()
	}
	return e.asks[method]
}

// listening hears notifications in the order in which the server sends them; the library's client
// passes them on in whatever order they are scheduled.
type listening struct {
	channel.Channel
	hear func(message []byte)
}

func (l listening) Recv() ([]byte, error) {
	raw, err := l.Channel.Recv()
	if err == nil {
		l.hear(raw)
	}
	return raw, err
}

func (e *editor) hear(raw []byte) {
	var message struct {
		Method string        `json:"method"`
		Params publishParams `json:"params"`
	}
	if json.Unmarshal(raw, &message) != nil || message.Method != "textDocument/publishDiagnostics" {
		return
	}
	p := message.Params
	e.mu.Lock()
	e.told[p.URI] = p
	e.mu.Unlock()
	e.more.Broadcast()
}

func (e *editor) leave() {
	if e.rpc == nil {
		return
	}
	var none any
	e.ask("shutdown", nil, &none)
	e.notify("exit", nil)
	if err := <-e.done; err != nil {
		e.t.Errorf("the server left with %v", err)
	}
	e.in.Close()
	e.rpc.Close()
	e.rpc = nil
}

func (e *editor) ask(method string, params, out any) {
	e.t.Helper()
	r, err := e.rpc.Call(context.Background(), method, params)
	if err != nil {
		e.t.Fatalf("%s: %v", method, err)
	}
	if err := r.UnmarshalResult(out); err != nil {
		e.t.Fatalf("%s: %v in %s", method, err, r.ResultString())
	}
}

func (e *editor) notify(method string, params any) {
	e.t.Helper()
	if err := e.rpc.Notify(context.Background(), method, params); err != nil {
		e.t.Fatal(err)
	}
}

func (e *editor) uri(name string) string {
	return "file://" + filepath.ToSlash(filepath.Join(e.dir, name))
}

// open opens a file with its text on disk.
func (e *editor) open(name string) {
	e.t.Helper()
	raw, err := os.ReadFile(filepath.Join(e.dir, name))
	if err != nil {
		e.t.Fatal(err)
	}
	e.openAs(name, string(raw))
}

func (e *editor) openAs(name, text string) {
	e.t.Helper()
	e.ver[name], e.text[name] = 1, text
	e.notify("textDocument/didOpen", map[string]any{"textDocument": map[string]any{"uri": e.uri(name), "languageId": "markdown", "version": 1, "text": text}})
}

// put replaces all of an open file's text.
func (e *editor) put(name, text string) {
	e.t.Helper()
	e.ver[name]++
	e.text[name] = text
	e.notify("textDocument/didChange", map[string]any{"textDocument": map[string]any{"uri": e.uri(name), "version": e.ver[name]}, "contentChanges": []any{map[string]any{"text": text}}})
}

// typed types a text letter by letter after the first occurrence of another, one change for each
// letter.
func (e *editor) typed(name, behind, text string) {
	e.t.Helper()
	at := strings.Index(e.text[name], behind) + len(behind)
	for _, r := range text {
		p := place(e.text[name], at)
		e.ver[name]++
		e.text[name] = e.text[name][:at] + string(r) + e.text[name][at:]
		at += len(string(r))
		e.notify("textDocument/didChange", map[string]any{"textDocument": map[string]any{"uri": e.uri(name), "version": e.ver[name]},
			"contentChanges": []any{map[string]any{"range": textRange{p, p}, "text": string(r)}}})
	}
}

// place counts without the server's code: lines, then UTF-16 units.
func place(text string, at int) position {
	line := strings.Count(text[:at], "\n")
	begin := strings.LastIndexByte(text[:at], '\n') + 1
	n := 0
	for _, r := range text[begin:at] {
		n++
		if r > 0xffff {
			n++
		}
	}
	return position{line, n}
}

// heard waits until the diagnostics of a file's newest text are as wanted.
func (e *editor) heard(name string, wanted func(publishParams) bool) publishParams {
	e.t.Helper()
	e.mu.Lock()
	defer e.mu.Unlock()
	for {
		p, is := e.told[e.uri(name)]
		if is && (e.ver[name] == 0 || p.Version != nil && *p.Version == e.ver[name]) && (wanted == nil || wanted(p)) {
			return p
		}
		e.more.Wait()
	}
}

func codes(p publishParams) (out []string) {
	for _, d := range p.Diagnostics {
		out = append(out, d.Code)
	}
	return out
}

// at makes the parameters for a place: the file, and where the mark ‸ is in a part of its text.
func (e *editor) at(name, marked string) map[string]any {
	e.t.Helper()
	before, after, found := strings.Cut(marked, "‸")
	i := strings.Index(e.text[name], before+after)
	if !found || i < 0 {
		e.t.Fatalf("%q is not in %s", marked, name)
	}
	return map[string]any{"textDocument": map[string]any{"uri": e.uri(name)}, "position": place(e.text[name], i+len(before))}
}

// edited puts edits into a text, the last one first.
func edited(text string, edits []textEdit) string {
	for i := len(edits) - 1; i >= 0; i-- {
		text = spliced(text, edits[i].Range, edits[i].NewText)
	}
	return text
}

func show(v any) string {
	raw, _ := json.Marshal(v)
	return string(raw)
}
