package content

import (
	"path"
	"slices"
	"strings"

	"labsite/recipes/formulary"
	"labsite/recipes/hazard"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

func (c *Content) readSettings() {
	c.Settings, c.settingsSaid = page.DefaultSettings(), nil
	raw, problem, ok := c.read(page.SettingsFile, mostSettings)
	if !ok {
		if problem.Code != "" {
			c.settingsSaid = source.List{problem.AtFile(page.SettingsFile)}
		}
		return
	}
	f, list := source.New(page.SettingsFile, raw)
	settings, more := page.DecodeSettings(f)
	c.Settings, c.settingsSaid = settings, append(list, more...)
	quantity.LetCount(settings.Counts)
}

// formulasFolder holds the lab's own bench formulas.
const formulasFolder = "formulary"

// FormulaFiles lists the files of the lab's own bench formulas, by path.
func (c *Content) FormulaFiles() []string {
	var names []string
	for p := range c.files {
		if path.Dir(p) == formulasFolder && strings.HasSuffix(p, ".yaml") {
			names = append(names, p)
		}
	}
	slices.Sort(names)
	return names
}

// readFormulas adds the lab's own bench formulas to the built-in ones.
func (c *Content) readFormulas() {
	c.FormulasBroken, c.formulasSaid = false, nil
	names := c.FormulaFiles()
	var own []*source.File
	for _, p := range names {
		raw, problem, ok := c.read(p, mostFormulas)
		if !ok {
			c.formulasSaid = append(c.formulasSaid, problem.AtFile(p))
			c.FormulasBroken = true
			continue
		}
		f, list := source.New(p, raw)
		c.formulasSaid = append(c.formulasSaid, list...)
		if list.Errors() == 0 {
			own = append(own, f)
		} else {
			c.FormulasBroken = true
		}
	}
	c.Formulas = formulary.Load()
	if len(own) == 0 {
		return
	}
	set, list := c.Formulas.WithOwn(own)
	c.formulasSaid = append(c.formulasSaid, list...)
	c.FormulasBroken = c.FormulasBroken || list.Errors() > 0
	if set != nil {
		c.Formulas = set
	}
}

// readSubstances reads the lab's own substances and safety data sheets.
func (c *Content) readSubstances() {
	c.Substances, c.SubstancesBroken, c.substancesSaid = nil, false, nil
	raw, problem, ok := c.read(hazard.OwnFile, mostSubstances)
	if !ok {
		if problem.Code != "" {
			c.substancesSaid = source.List{problem.AtFile(hazard.OwnFile)}
			c.SubstancesBroken = true
		}
		return
	}
	f, list := source.New(hazard.OwnFile, raw)
	if list.Errors() == 0 {
		own, more := hazard.ReadOwn(f)
		c.Substances = own
		list = append(list, more...)
		list = append(list, own.Overdue(c.Day)...)
	}
	c.SubstancesBroken = list.Errors() > 0
	c.substancesSaid = list
}
