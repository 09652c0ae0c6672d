package content

import "slices"

// Moved lists the files that have changed since the folder was walked: what was read of them may belong
// to another state of the folder than the rest.
func (c *Content) Moved() []string {
	now := &Content{Settings: c.Settings, theme: c.theme, root: c.root, fsys: c.fsys,
		files: map[string]bool{}, stamps: map[string]stamp{}, links: map[string]bool{}, recorded: map[string]bool{}}
	now.walk()
	now.rememberTheme()
	var out []string
	for p, was := range c.stamps {
		if is, there := now.stamps[p]; !there || !is.same(was) {
			out = append(out, p)
		}
	}
	for p := range now.stamps {
		if _, was := c.stamps[p]; !was {
			out = append(out, p)
		}
	}
	slices.Sort(out)
	return out
}
