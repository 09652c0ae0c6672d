package preview

import (
	"context"
	"errors"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"sync/atomic"
	"time"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/build"
)

// Options say what is previewed and how.
type Options struct {
	// Dir is the content folder.
	Dir string
	// Audience is whose view the start address shows; the other is one switch away.
	Audience page.Audience
	// Port is where to listen; 0 takes any that is free.
	Port int
	// Editor is an address that opens an editor, with {file}, {line} and {column} to fill in; ""
	// for none.
	Editor string
	// Now tells the time, whose day decides which reviews are overdue; nil for the
	// machine's own clock.
	Now func() time.Time
	// Say is called with a sentence for whoever is at the terminal; nil if there is nobody.
	Say func(text string)
	// Looking says to look at the files every second instead of having the system report changes.
	Looking bool
}

// Preview is a preview that is being served.
type Preview struct {
	opt      Options
	full     string // the content folder's full path
	listener net.Listener
	site     atomic.Pointer[build.Followed]
	watch    *watch
	hub      *hub
	good     goodPages
	woken    chan struct{}                      // there is work for the background
	waiting  atomic.Int32                       // how many calls of now are under way
	guarding atomic.Pointer[context.CancelFunc] // cuts tryGuards short
	asked    atomic.Int64                       // when now was last called, in nanoseconds
	updating sync.Mutex
	dayMu    sync.Mutex
	day      string // that the pages were worked out for
	change   change
}

// Start reads the content folder's list of pages, begins to follow it, and listens. If the folder
// cannot be read, the list says why; the error is that of the network or of ctx.
func Start(ctx context.Context, opt Options) (*Preview, source.List, error) {
	full, err := filepath.Abs(opt.Dir)
	if err != nil {
		return nil, nil, err
	}
	if opt.Say == nil {
		opt.Say = func(string) {}
	}
	if opt.Audience == "" {
		opt.Audience = page.Staff
	}
	if opt.Now == nil {
		opt.Now = time.Now
	}
	l, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(opt.Port)))
	if err != nil {
		return nil, nil, err
	}
	p := &Preview{opt: opt, full: full, listener: l, woken: make(chan struct{}, 1)}
	p.hub = &hub{preview: p, clients: map[*client]bool{}}
	// Watching begins first, so that no change between reading and watching is lost.
	p.watch = newWatch(full, opt.Looking, opt.Say)
	now := opt.Now()
	p.day = dayOf(now)
	s, list := build.Follow(ctx, opt.Dir, build.Options{Day: now, Drafts: true})
	if s == nil {
		p.watch.close()
		l.Close()
		return nil, list, ctx.Err()
	}
	p.site.Store(s)
	return p, nil, nil
}

// Address is where the preview is served, "http://127.0.0.1:4127/".
func (p *Preview) Address() string { return "http://" + p.listener.Addr().String() + "/" }

// Serve answers until ctx ends; then it closes everything it opened, its port among them.
func (p *Preview) Serve(ctx context.Context) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	server := &http.Server{
		Handler: p.handler(),
		// A browser that goes away without a word must not hold anything up.
		ReadHeaderTimeout: 10 * time.Second,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    1 << 16,
		BaseContext:       func(net.Listener) context.Context { return ctx },
	}
	var wait sync.WaitGroup
	wait.Go(func() { p.watch.run(ctx, p.update, func() ([]string, bool) { return p.site.Load().Again() }) })
	wait.Go(func() { p.background(ctx) })
	wait.Go(func() { p.days(ctx) })
	wait.Go(func() {
		<-ctx.Done()
		server.Close()
	})
	err := server.Serve(p.listener)
	if errors.Is(err, http.ErrServerClosed) {
		err = nil
	}
	stop()
	wait.Wait()
	p.watch.close()
	p.site.Load().Close()
	return err
}

// pause is how long the background waits after a request.
const pause = 250 * time.Millisecond

// background works out the pages that nobody looks at, so that what is wrong with them and which of
// their numbers changed is known. Requests go first.
func (p *Preview) background(ctx context.Context) {
	for {
		if ctx.Err() != nil {
			return
		}
		if p.waiting.Load() > 0 {
			time.Sleep(time.Millisecond)
			continue
		}
		if rest := pause - time.Since(time.Unix(0, p.asked.Load())); rest > 0 && !p.site.Load().Urgent() {
			// the machine belongs to whoever is writing or reading
			select {
			case <-ctx.Done():
			case <-time.After(rest):
			case <-p.woken:
			}
			continue
		}
		left, urgent := p.site.Load().WorkOne()
		if urgent == 0 && p.change.add(p.site.Load().TakeChanges()) {
			p.hub.tell()
		}
		if left > 0 {
			continue
		}
		p.hub.tell()
		if p.tryGuards(ctx) {
			continue // a request cut it short
		}
		select {
		case <-ctx.Done():
			return
		case <-p.woken:
		}
	}
}

// tryGuards tries changes on the open pages, so that each can say how well it is guarded. It stops
// as soon as somebody wants a page, and reports whether any is left to try.
func (p *Preview) tryGuards(ctx context.Context) (left bool) {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	p.guarding.Store(&stop)
	defer p.guarding.Store(nil)
	told := false
	for _, path := range p.hub.pages() {
		if p.waiting.Load() > 0 || ctx.Err() != nil {
			return true
		}
		told = p.site.Load().TryGuards(ctx, path) || told
	}
	if ctx.Err() != nil {
		return true
	}
	if told {
		p.hub.tell()
	}
	return false
}

func (p *Preview) wake() {
	select {
	case p.woken <- struct{}{}:
	default:
	}
}

// now calls do with the site for somebody who waits, ahead of the background.
func (p *Preview) now(do func(s *build.Followed)) {
	p.waiting.Add(1)
	if stop := p.guarding.Load(); stop != nil {
		(*stop)()
	}
	p.asked.Store(time.Now().UnixNano())
	defer func() {
		p.asked.Store(time.Now().UnixNano())
		p.waiting.Add(-1)
	}()
	do(p.site.Load())
}

// update takes in a burst of changes, by paths relative to the content folder; none means to look
// at everything.
func (p *Preview) update(ctx context.Context, paths []string) {
	p.updating.Lock()
	defer p.updating.Unlock()
	another := p.reopen(ctx)
	var c build.Changed
	p.now(func(s *build.Followed) { c = s.Update(paths) })
	if another {
		c.Files = []string{"."}
	}
	if len(c.Files) == 0 {
		return
	}
	p.change.begin(c)
	p.hub.refresh(c)
	p.wake()
}

// days follows the calendar. A timer set to midnight would stop while the machine sleeps, so it
// looks at the clock every few seconds; each request for a page does as well.
func (p *Preview) days(ctx context.Context) {
	tick := time.NewTicker(10 * time.Second)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			p.turn()
		}
	}
}

// dayOf joins the day that pages show, in local time, and the day by which reviews fall due, in
// universal time.
func dayOf(t time.Time) string { return t.Format(time.DateOnly) + t.UTC().Format(time.DateOnly) }

// turn moves the site to a new day, if one has begun.
func (p *Preview) turn() {
	now := p.opt.Now()
	p.dayMu.Lock()
	same := p.day == dayOf(now)
	p.day = dayOf(now)
	p.dayMu.Unlock()
	if same {
		return
	}
	p.updating.Lock()
	defer p.updating.Unlock()
	p.now(func(s *build.Followed) { s.Turn(now) })
	p.hub.tell()
	p.wake()
}

// reopen follows the folder of this name afresh if another one has taken its place, and tells
// whether it did.
func (p *Preview) reopen(ctx context.Context) bool {
	old := p.site.Load()
	now, err := os.Stat(p.full)
	if err != nil || old.Same(now) {
		return false
	}
	s, _ := build.Follow(ctx, p.full, build.Options{Day: p.opt.Now(), Drafts: true})
	if s == nil {
		return false
	}
	p.site.Store(s)
	old.Close()
	return true
}
