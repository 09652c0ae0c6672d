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
	// Editor is an address that opens an editor, with {file}, {line} and {column} where
	// they go; "" for none.
	Editor string
	// Now tells the time, whose day decides which reviews are overdue; nil for the
	// machine's own clock.
	Now func() time.Time
	// Say is told, in a sentence, what somebody at the terminal should know; nil for nobody.
	Say func(text string)
	// Looking says to look at the files every second instead of being told by the system.
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
	waiting  atomic.Int32                       // requests that want the site now
	guarding atomic.Pointer[context.CancelFunc] // ends the trying of guards, for whoever waits
	asked    atomic.Int64                       // when somebody wanted it last, in nanoseconds
	updating sync.Mutex
	dayMu    sync.Mutex
	day      string // that the pages were worked out for
	change   change
}

// Start reads the content folder's list of pages, begins to follow it, and listens. The
// list says why there is no Preview where the folder cannot be read; the error is of the
// network.
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
	// Watching begins first, so that no change falls between reading and watching.
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

// pause is how long the background waits after somebody wanted a page.
const pause = 250 * time.Millisecond

// background works out the pages that nobody looks at, so that what is wrong with them and
// which of their numbers changed is known; whoever waits for a page goes first.
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
			// while somebody writes or reads, the machine is theirs
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
			continue // somebody came between
		}
		select {
		case <-ctx.Done():
			return
		case <-p.woken:
		}
	}
}

// tryGuards changes the open pages on purpose, so that each can say how well it is guarded. It
// stops as soon as somebody wants a page, and tells whether any is left to be tried.
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

// now takes the site for somebody who waits.
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

// update is called with the paths that changed, relative to the content folder, none for
// "look at everything", one burst at a time.
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

// days follows the calendar. A timer set to midnight would stand still while the machine
// sleeps, so the clock is looked at now and then, and before a page is shown.
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

// dayOf is the day as pages tell it, by the machine's own time, and as reviews fall due,
// which is by universal time.
func dayOf(t time.Time) string { return t.Format(time.DateOnly) + t.UTC().Format(time.DateOnly) }

// turn brings the pages to a new day, where one has begun.
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

// reopen follows the folder of this name where another one has taken its place, and says
// whether one has.
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
