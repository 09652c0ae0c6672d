package site

import (
	"labsite/recipes/sheet"
	"labsite/recipes/source"
)

// machineFiles are the jobs that make what is read by scripts, feed readers and search
// engines.
func (r *renderer) machineFiles(put func(name string, b []byte, l source.List)) []func() {
	jobs := []func(){
		func() { put(searchEntries, r.entries(), nil) },
		func() { put(robotsFile, r.robots(), nil) },
	}
	if r.site.Settings.Address == "" {
		return jobs
	}
	jobs = append(jobs, func() { put(feedFile, r.feed(), nil) })
	if r.audience == sheet.Customers {
		jobs = append(jobs, func() {
			for name, b := range r.siteMaps() {
				put(name, b, nil)
			}
		})
	}
	return jobs
}
