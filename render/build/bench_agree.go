package build

// benchAgrees holds the scripts by which the lab's own bench formulas are tried to Go, at their
// worked examples. Those of the built-in ones are held by a test of package write.
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
