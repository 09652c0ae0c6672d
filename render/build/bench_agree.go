package build

// benchAgrees compares the scripts of the lab's own bench formulas with Go, at their worked
// examples. For the built-in ones a test of package write does that.
func (r *run) benchAgrees(o *output) {
	w := r.worker()
	for _, e := range o.site.BenchShown() {
		if !e.Own || r.ctx.Err() != nil {
			continue
		}
		full := o.site.BenchTrial(e)
		if full == nil || full.Script == nil {
			continue
		}
		js, err := full.Script.Formulas()
		if err == nil {
			err = w.start()
		}
		if err != nil {
			r.fail(err)
			return
		}
		r.say(w.referee.Agree(r.ctx, full.Script.Page(), js))
	}
}
