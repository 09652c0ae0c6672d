package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"labsite/recipes/hazard"
	"labsite/recipes/page"
	"labsite/recipes/schema"
	"labsite/recipes/source"
)

// schemas holds what the command can print, by name.
var schemas = map[string]func() []byte{
	"page":    func() []byte { return schema.Of("A page's front matter", page.Front()) },
	"lab":     func() []byte { return schema.Of(page.SettingsFile, page.Lab()) },
	"hazards": func() []byte { return schema.Of(hazard.OwnFile, hazard.Own()) },
	"colours": func() []byte { return schema.Colours(page.FormulaKeys()) },
}

var schemaNames = []string{"page", "lab", "hazards", "colours"}

func schemaCommand(s *screen) *cobra.Command {
	return &cobra.Command{
		Use:   "schema page|lab|hazards|colours",
		Short: "Print schemas and a grammar by which editors check and colour files",
		Long: `Schema prints a JSON Schema (2020-12) of a page's front matter, of labsite.yaml (lab) or
of hazards.yaml (hazards), with a sentence for each key, made from the table by which the
program reads them. It knows shapes, keys and words; only labsite check knows what a
formula means. With colours it prints a TextMate grammar for formulas instead.`,
		Example:   "  labsite schema page > page.schema.json\n  labsite schema colours > labsite.tmLanguage.json",
		ValidArgs: schemaNames,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return errors.New("say which schema: labsite schema page, lab, hazards or colours")
			}
			if schemas[args[0]] == nil {
				if near := source.Nearest(args[0], schemaNames); near != "" {
					return fmt.Errorf("there is no schema %s; did you mean %s?", args[0], near)
				}
				return fmt.Errorf("there is no schema %s; there are %s", args[0], strings.Join(schemaNames, ", "))
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if s.json {
				return errors.New("schema always prints JSON; leave --json out")
			}
			_, err := s.out.Write(schemas[args[0]]())
			return err
		},
	}
}
