package site

// LiveScript is where the preview serves the script of its own that every page gets there.
const LiveScript = "/proof/live.js"

// live makes a page one of the preview: it may ask what has changed.
func (r *renderer) live(v *Shell) {
	v.Policy = PreviewPolicy
	v.Scripts = append([]string{LiveScript}, v.Scripts...)
	v.Preview = "Worked out from the files as they are now."
}
