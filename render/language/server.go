package language

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"github.com/creachadair/jrpc2"

	"labsite/render/build"
	"labsite/render/content"
)

// Options say how a server works.
type Options struct {
	// Dir is the content folder; if it is "", Find looks for one, starting from the folder that the
	// editor has open, or from where the server was started.
	Dir  string
	Find func(from string) string
	// Now tells the time, whose day decides which reviews are overdue.
	Now func() time.Time
	// Version is that of the program.
	Version string
}

// Error codes of the protocol, beyond those of JSON-RPC.
const (
	codeNotInitialized = -32002
	codeCancelled      = -32800
	codeFailed         = -32803
)

// stage is how far a session has got.
type stage uint8

const (
	begun stage = iota
	initialized
	shut
)

// server is one session with an editor.
type server struct {
	opt      Options
	ctx      context.Context
	rpc      *jrpc2.Server
	wire     *wire
	asked    sync.WaitGroup // messages that are not answered yet
	last     chan struct{}  // closed when the latest message is answered
	turn     chan struct{}  // holds one token: whoever takes it may use the fields below, up to worker
	stage    stage
	folder   folder
	site     *build.Followed
	open     map[string]*document // by path
	hints    bool                 // inlay hints are wanted
	snippets bool                 // completions may have places to fill in
	watch    bool                 // the client can report changes of files
	moving   bool                 // the client can rename files on request
	relating bool                 // the client shows the related places of a diagnostic
	left     bool                 // the client said exit after shutdown

	worker sync.WaitGroup
	stop   context.CancelFunc
	wake   chan struct{}
	mu     sync.Mutex
	dirty  []string               // pages to report on first, by path
	told   map[string]content.Sum // of the last report on each file, by path; none if nothing is wrong

	idle    chan struct{}      // wakes guards, the worker
	refresh bool               // the client can be asked to fetch lenses again
	unguard context.CancelFunc // cuts guards short
	known   map[string]guarded // what guards found, by path
}

// ErrLeft is the error of Serve when the editor left without shutting the session down.
var ErrLeft = errors.New("the editor left without shutting the session down")

// Serve talks to one editor until it leaves, the pipe ends or ctx does. Nothing but messages
// of the protocol is written to out.
func Serve(ctx context.Context, in io.Reader, out io.Writer, opt Options) error {
	ctx, stop := context.WithCancel(ctx)
	s := &server{opt: opt, ctx: ctx, stop: stop, turn: make(chan struct{}, 1), open: map[string]*document{}, hints: true,
		wake: make(chan struct{}, 1), told: map[string]content.Sum{}, idle: make(chan struct{}, 1), known: map[string]guarded{}}
	s.turn <- struct{}{}
	s.last = make(chan struct{})
	close(s.last)
	s.rpc = jrpc2.NewServer(s, &jrpc2.ServerOptions{AllowPush: true, DisableBuiltin: true, Concurrency: 1 << 20})
	from, into := io.Pipe() // since nothing can end a read from a terminal
	go func() {
		_, err := io.Copy(into, in)
		into.CloseWithError(err)
	}()
	s.wire = newWire(from, out)
	context.AfterFunc(ctx, s.wire.end)
	s.rpc.Start(s.wire)
	err := s.rpc.Wait()
	stop()
	s.worker.Wait()
	<-s.turn
	if s.site != nil {
		s.site.Close()
	}
	switch {
	case s.left:
		return nil
	case err != nil:
		return err
	}
	return ErrLeft
}

// Assign returns the handler of a method; see jrpc2.Assigner. The library calls it in the order of
// the messages, and they are answered in that order.
func (s *server) Assign(ctx context.Context, name string) jrpc2.Handler {
	switch name {
	case "$/cancelRequest":
		return s.cancel
	case "$/labsite/over":
		return func(context.Context, *jrpc2.Request) (any, error) {
			s.asked.Wait()
			s.wire.answered()
			return nil, nil
		}
	}
	m, is := methods[name]
	if !is {
		return nil
	}
	s.asked.Add(1)
	before, done := s.last, make(chan struct{})
	s.last = done
	var begun atomic.Bool
	pass := func() {
		s.asked.Done()
		<-before
		close(done)
	}
	context.AfterFunc(ctx, func() { // cancelled so early that the library never calls the handler
		if begun.CompareAndSwap(false, true) {
			pass()
		}
	})
	return func(ctx context.Context, r *jrpc2.Request) (any, error) {
		if !begun.CompareAndSwap(false, true) {
			return nil, jrpc2.Errorf(codeCancelled, "cancelled")
		}
		select {
		case <-before:
			defer s.asked.Done()
			defer close(done)
			return s.answer(ctx, name, m, r)
		case <-ctx.Done():
			go pass()
			return nil, jrpc2.Errorf(codeCancelled, "cancelled")
		}
	}
}

// answer calls a method, while nothing else uses the server.
func (s *server) answer(ctx context.Context, name string, m method, r *jrpc2.Request) (out any, err error) {
	<-s.turn
	defer func() {
		s.turn <- struct{}{}
		if fault := recover(); fault != nil {
			out, err = nil, jrpc2.Errorf(jrpc2.InternalError, "%s failed: %v", name, fault)
		}
	}()
	switch {
	case ctx.Err() != nil:
		return nil, jrpc2.Errorf(codeCancelled, "cancelled")
	case s.stage == begun && name != "initialize" && name != "exit":
		return nil, jrpc2.Errorf(codeNotInitialized, "initialize comes first")
	case s.stage == shut && name != "exit":
		return nil, jrpc2.Errorf(jrpc2.InvalidRequest, "the session is shut down")
	}
	return m(s, r)
}

// method answers one request or takes one notification. It holds the token of the server's turn.
type method func(s *server, r *jrpc2.Request) (any, error)

// taking makes a method of a function that takes its parameters decoded.
func taking[P any](do func(s *server, p P) (any, error)) method {
	return func(s *server, r *jrpc2.Request) (any, error) {
		var p P
		if r.HasParams() {
			if err := json.Unmarshal([]byte(r.ParamString()), &p); err != nil {
				return nil, jrpc2.Errorf(jrpc2.InvalidParams, "%s: %v", r.Method(), err)
			}
		}
		return do(s, p)
	}
}

// methods are the methods of the protocol that the server answers.
var methods map[string]method

func init() {
	methods = map[string]method{
		"initialize":                       taking((*server).initialize),
		"initialized":                      taking((*server).initialized),
		"shutdown":                         taking((*server).shutdown),
		"exit":                             taking((*server).exit),
		"textDocument/didOpen":             taking((*server).didOpen),
		"textDocument/didChange":           taking((*server).didChange),
		"textDocument/didSave":             taking((*server).didSave),
		"textDocument/didClose":            taking((*server).didClose),
		"workspace/didChangeWatchedFiles":  taking((*server).didChangeWatchedFiles),
		"workspace/didChangeConfiguration": taking((*server).didChangeConfiguration),
		"workspace/willRenameFiles":        taking((*server).willRenameFiles),
		"textDocument/codeAction":          taking((*server).codeAction),
		"textDocument/completion":          taking((*server).completion),
		"textDocument/hover":               taking((*server).hover),
		"textDocument/definition":          taking((*server).definition),
		"textDocument/references":          taking((*server).references),
		"textDocument/prepareRename":       taking((*server).prepareRename),
		"textDocument/rename":              taking((*server).rename),
		"textDocument/documentSymbol":      taking((*server).documentSymbol),
		"workspace/symbol":                 taking((*server).workspaceSymbol),
		"textDocument/foldingRange":        taking((*server).foldingRange),
		"textDocument/semanticTokens/full": taking((*server).semanticTokens),
		"textDocument/inlayHint":           taking((*server).inlayHint),
		"textDocument/codeLens":            taking((*server).codeLens),
		"textDocument/formatting":          taking((*server).formatting),
	}
}

func (s *server) cancel(_ context.Context, r *jrpc2.Request) (any, error) {
	var p struct {
		ID json.RawMessage `json:"id"`
	}
	if err := r.UnmarshalParams(&p); err == nil {
		s.rpc.CancelRequest(string(p.ID))
	}
	return nil, nil
}

func (s *server) initialize(p initializeParams) (any, error) {
	if s.stage != begun {
		return nil, jrpc2.Errorf(jrpc2.InvalidRequest, "the session is initialized")
	}
	s.configure(p.InitializationOptions)
	dir := s.opt.Dir
	if dir == "" {
		dir = s.opt.Find(openFolder(p))
	}
	var err error
	if s.folder, err = newFolder(dir); err != nil {
		return nil, jrpc2.Errorf(jrpc2.InternalError, "%v", err)
	}
	site, list := build.Follow(s.ctx, s.folder.path, build.Options{Day: s.opt.Now(), Drafts: true})
	if site == nil {
		why := "the content folder cannot be read"
		if len(list) > 0 {
			why = fmt.Sprintf("%s: %s", list[0].File, list[0].Message)
		}
		return nil, jrpc2.Errorf(jrpc2.InternalError, "%s", why)
	}
	s.site = site
	s.stage = initialized
	s.watch = p.Capabilities.Workspace.DidChangeWatchedFiles.DynamicRegistration
	s.relating = p.Capabilities.TextDocument.PublishDiagnostics.RelatedInformation
	s.snippets = p.Capabilities.TextDocument.Completion.CompletionItem.SnippetSupport
	edits := p.Capabilities.Workspace.WorkspaceEdit
	s.moving = edits.DocumentChanges && slices.Contains(edits.ResourceOperations, "rename")
	s.refresh = p.Capabilities.Workspace.CodeLens.RefreshSupport
	s.worker.Add(2)
	go s.tell()
	go s.guards()
	return map[string]any{"capabilities": capabilities(), "serverInfo": map[string]string{"name": "labsite", "version": s.opt.Version}}, nil
}

// openFolder is the folder that an editor has open, "" for none.
func openFolder(p initializeParams) string {
	for _, f := range p.WorkspaceFolders {
		if dir, ok := pathOf(f.URI); ok {
			return dir
		}
	}
	if p.RootURI != nil {
		if dir, ok := pathOf(*p.RootURI); ok {
			return dir
		}
	}
	if p.RootPath != nil {
		return *p.RootPath
	}
	return ""
}

// settings are what an editor's configuration may set.
type settings struct {
	Labsite *settings `json:"labsite"` // editors nest them by the server's name, or not
	Hints   *bool     `json:"hints"`
}

func (s *server) configure(raw json.RawMessage) {
	var set settings
	if len(raw) == 0 || json.Unmarshal(raw, &set) != nil {
		return
	}
	if set.Labsite != nil {
		set = *set.Labsite
	}
	if set.Hints != nil {
		s.hints = *set.Hints
	}
}

func (s *server) didChangeConfiguration(p struct {
	Settings json.RawMessage `json:"settings"`
}) (any, error) {
	s.configure(p.Settings)
	return nil, nil
}

// initialized asks the client to report files that change behind the editor's back.
func (s *server) initialized(struct{}) (any, error) {
	if s.watch {
		go s.rpc.Callback(s.ctx, "client/registerCapability", map[string]any{"registrations": []any{map[string]any{
			"id": "files", "method": "workspace/didChangeWatchedFiles",
			"registerOptions": map[string]any{"watchers": []any{map[string]string{"globPattern": "**/*"}}},
		}}})
	}
	s.work()
	return nil, nil
}

func (s *server) shutdown(struct{}) (any, error) {
	s.stage = shut
	return nil, nil
}

func (s *server) exit(struct{}) (any, error) {
	s.left = s.stage == shut
	s.wire.end()
	return nil, nil
}

// capabilities tells the client what the server can do.
func capabilities() any {
	return map[string]any{
		"positionEncoding":           "utf-16",
		"textDocumentSync":           map[string]any{"openClose": true, "change": 2, "save": map[string]bool{"includeText": false}},
		"completionProvider":         map[string]any{"triggerCharacters": []string{".", "{", " ", "#"}},
		"hoverProvider":              true,
		"definitionProvider":         true,
		"referencesProvider":         true,
		"renameProvider":             map[string]bool{"prepareProvider": true},
		"documentSymbolProvider":     true,
		"workspaceSymbolProvider":    true,
		"foldingRangeProvider":       true,
		"semanticTokensProvider":     map[string]any{"legend": map[string]any{"tokenTypes": tokenTypes, "tokenModifiers": []string{}}, "full": true},
		"inlayHintProvider":          true,
		"codeLensProvider":           map[string]bool{"resolveProvider": false},
		"documentFormattingProvider": true,
		"workspace": map[string]any{"fileOperations": map[string]any{"willRename": map[string]any{"filters": []any{
			map[string]any{"scheme": "file", "pattern": map[string]string{"glob": "**/*"}}}}}},
		"codeActionProvider": map[string]any{"codeActionKinds": []string{"quickfix"}},
	}
}
