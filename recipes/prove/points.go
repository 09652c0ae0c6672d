package prove

import "labsite/recipes/source"

// pointsBeyond reports measured points beyond the limits of their charts, each at its line of the
// data file: what a chart shows to whoever opens the page, a check must say as well. Of many it
// reports the newest, on which somebody can still act.
func (c *Case) pointsBeyond() source.List {
	var list source.List
	for _, x := range c.Sheet.Charts {
		if x.Points == nil || x.Limits == nil || c.Refused() {
			continue
		}
		j := c.Judge(x)
		rows := j.beyond()
		y := x.Points.Y
		for _, row := range rows[max(0, len(rows)-mostRowsHeld):] {
			shown := y.Shown(&c.Frame, row).Text
			said := source.PointOut(x.Name, shown, j.Why[row], len(rows))
			if j.Off != nil {
				said = source.PointBeyond(x.Name, shown, j.Off[row], j.Stop[row], len(rows))
			}
			list = append(list, said.At(y.At(row)))
		}
	}
	return list
}
