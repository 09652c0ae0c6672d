package build

import (
	"context"
	"crypto/sha256"
	"sync"
	"sync/atomic"

	"labsite/recipes/page"
	"labsite/recipes/script"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/routes"
	"labsite/render/work"
	"labsite/render/write"
)

// Target takes the files of a site; publish.Staging is one. Its methods are called from
// several goroutines.
type Target interface {
	// Put takes a file. The caller may use the bytes again when it returns.
	Put(address string, b []byte) error
	// Keep says that the file at an address is unchanged and has this digest. It returns false if
	// no such file is there, so that its bytes must be put.
	Keep(address string, digest Digest) (bool, error)
}

// Publish works out all pages and hands the files of an audience's site to a target: new ones with
// their bytes, unchanged ones by their digests. The list says what is wrong; if it holds an error,
// the target has only a part of the site and must be abandoned. Each worker hands over and frees a
// page before it makes the next.
func (s *Site) Publish(ctx context.Context, a page.Audience, to Target) (source.List, error) {
	r := &run{site: s, ctx: ctx, outputs: []*output{s.output(a, to)}}
	return r.all()
}

// Check does all that Publish does for both audiences, and hands nothing on.
func (s *Site) Check(ctx context.Context) (source.List, error) {
	r := &run{site: s, ctx: ctx, outputs: []*output{s.output(page.Customers, nil), s.output(page.Staff, nil)}}
	return r.all()
}

// run is one publish or check.
type run struct {
	site    *Site
	ctx     context.Context
	outputs []*output
	wrong   atomic.Bool // an error was found: nothing more is written
	done    atomic.Int64
	mu      sync.Mutex // guards what is below
	list    source.List
	failed  error // from the target, or because ctx ended
}

func (r *run) say(list source.List) {
	if len(list) == 0 {
		return
	}
	if list.Errors() > 0 {
		r.wrong.Store(true)
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.list = append(r.list, list...)
}

func (r *run) fail(err error) {
	if err == nil {
		return
	}
	r.wrong.Store(true)
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.failed == nil {
		r.failed = err
	}
}

func (r *run) all() (source.List, error) {
	s := r.site
	s.opt.Store.load(s)
	r.say(s.said())
	r.pages()
	r.waiting()
	if r.ctx.Err() != nil {
		return nil, r.ctx.Err()
	}
	for _, o := range r.outputs {
		if !r.wrong.Load() {
			r.shared(o)
		}
	}
	if r.ctx.Err() != nil {
		return nil, r.ctx.Err()
	}
	if moved := s.Content.Moved(); len(moved) > 0 {
		r.say(source.List{source.FolderMoved(len(moved)).AtFile(moved[0])})
	}
	if r.failed == nil && r.list.Errors() == 0 {
		s.opt.Store.save(s)
	}
	return r.list.Sorted().Bounded(), r.failed
}

// pages makes all pages, each worker at a desk of its own.
func (r *run) pages() {
	s := r.site
	var next atomic.Int64
	total := len(s.Content.Pages)
	content.Each(r.ctx, content.Workers, func(int) {
		w := r.worker()
		for {
			i := int(next.Add(1)) - 1 // one by one, since some pages take ten times as long as others
			if i >= total || r.ctx.Err() != nil {
				return
			}
			w.page(s.Content.Pages[i])
			w.desk.Trim()
			if done := r.done.Add(1); s.opt.Progress != nil {
				r.mu.Lock()
				s.opt.Progress(int(done), total)
				r.mu.Unlock()
			}
		}
	})
}

// waiting works out the revisions that wait for their day, so that their errors are known
// before that day comes.
func (r *run) waiting() {
	desk := r.site.Desk()
	for _, p := range r.site.Content.Waiting() {
		full := desk.Make(p)
		if r.ctx.Err() != nil {
			return
		}
		r.say(full.List.Sorted())
		desk.Trim()
	}
}

// keptByWorker is how many pages a worker holds in full besides the one it makes: those that others
// draw on are asked for again and again.
const keptByWorker = 16

// worker makes pages one after another.
type worker struct {
	run     *run
	desk    *work.Desk
	writers []*write.Writer // for each output
	referee *script.Referee
}

func (r *run) worker() *worker {
	w := &worker{run: r, desk: r.site.Desk()}
	w.desk.Keep = keptByWorker
	for _, o := range r.outputs {
		w.writers = append(w.writers, write.NewWriter(o.site.Site, w.desk))
	}
	return w
}

// page makes a page unless its result still holds, and writes its files if anything that they
// show has changed.
func (w *worker) page(p *content.Page) {
	r, m := w.run, w.run.site.Memory
	result := m.Result(w.desk, p)
	if r.ctx.Err() != nil {
		return
	}
	r.say(result.List)
	r.say(result.DataSaid)
	if share := r.site.Content.Settings.Guarded; share > 0 && !m.mutationsKnown(result) {
		if tried, ok := w.desk.Guarding(r.ctx, p); ok {
			m.setMutations(result, tried)
		}
	}
	for i, o := range r.outputs {
		if r.wrong.Load() || !p.ShownTo(o.site.Audience) {
			continue
		}
		w.files(result, p, o, w.writers[i])
	}
}

// files hands the files of a page to the target.
func (w *worker) files(result *Result, p *content.Page, o *output, writer *write.Writer) {
	key := o.pageKey(result, p)
	kept, all := o.keep(w.run, result.filesOf(o.site.Audience, key))
	if all {
		return
	}
	full := w.desk.Make(p)
	if w.desk.Ended() {
		return
	}
	w.agree(full, result)
	var files []File
	var fault source.List
	guarded(p.Path, &fault, func() {
		routes.Page(writer, p, func(address string, b []byte, list source.List) {
			w.run.say(list)
			if b == nil {
				return
			}
			f := File{address, sha256.Sum256(b)}
			if !kept[address] {
				o.put(w.run, f, b)
			}
			files = append(files, f)
		})
	})
	w.run.say(fault)
	writer.Forget(full)
	if !w.run.wrong.Load() {
		w.run.site.Memory.setFiles(result, o.site.Audience, key, files)
	}
}

// engine is the runtime that readers load, compiled once for all workers.
var engine = sync.OnceValues(func() (script.Engine, error) { return script.Compile(routes.Core()) })

// agree runs the page's script at the page's own values and at those of its checks, and reports
// where it differs from Go, so that a reader's browser computes what was tested. A script that an
// earlier run tried at the same values is not run again.
func (w *worker) agree(full *work.Page, result *Result) {
	if full.Script == nil {
		return
	}
	js, err := full.Script.Formulas()
	var sum content.Sum
	if err == nil {
		if sum = triedSum(full, js); w.run.site.Memory.agreed(result, sum) {
			return
		}
		err = w.start()
	}
	if err != nil {
		w.run.say(source.List{source.ScriptFails(err.Error()).At(full.File.Span(0, 3))})
		return
	}
	list := w.referee.Agree(w.run.ctx, full.Script.Page(), js)
	w.run.say(list)
	if len(list) == 0 {
		w.run.site.Memory.setAgreed(result, sum)
	}
}

// start starts the worker's script engine on first use.
func (w *worker) start() error {
	if w.referee != nil {
		return nil
	}
	e, err := engine()
	if err == nil {
		w.referee, err = e.Referee()
	}
	return err
}

// triedSum is the sum of a script and of the values at which it is tried.
func triedSum(full *work.Page, js []byte) content.Sum {
	s := content.NewSummer(string(js))
	for _, c := range full.Sheet.Checks {
		for _, set := range c.At {
			s.Add(set.Text)
		}
		s.Add("")
	}
	for _, g := range full.Sheet.Given {
		s.Add(g.Value.Text)
	}
	return s.Sum()
}
