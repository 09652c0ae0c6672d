package record

import (
	"strings"

	"labsite/recipes/source"
	"labsite/render/build"
	"labsite/render/content"
)

// Listing are the records of a page.
type Listing struct {
	Page, File string
	// Columns are the names of the file's columns, in its order.
	Columns []string
	// Records are the rows, each with its cells by column, in the file's order.
	Records []map[string]string
	// Unfinished is how many of them were not finished.
	Unfinished int
}

// List reads the records that a page keeps. The listing is nil if the list has an error.
func List(site *build.Site, p *content.Page) (*Listing, source.List) {
	sheet := site.Desk().Read(p).Sheet
	if sheet == nil || sheet.Keeps == nil {
		return nil, source.List{source.RecordKeepsNone(p.Path).AtFile(p.Path)}
	}
	out := &Listing{Page: p.Path, File: content.Outside(sheet.Keeps.Path), Records: []map[string]string{}}
	text, ok := site.Content.Text(out.File)
	if !ok {
		if site.Content.HasFile(out.File) {
			return nil, source.List{source.CannotRead("the system reported an error").AtFile(out.File)}
		}
		return out, nil
	}
	k := &kept{file: out.File, raw: []byte(text)}
	if list := k.read(); list.Errors() > 0 {
		return nil, list
	}
	for _, head := range k.heads {
		name, _, _ := strings.Cut(head, "[")
		out.Columns = append(out.Columns, strings.TrimSpace(name))
	}
	for _, row := range k.rows {
		cells := map[string]string{}
		for i, cell := range row.cells {
			cells[out.Columns[i]] = cell
		}
		if cells["by"] == Unfinished {
			out.Unfinished++
		}
		out.Records = append(out.Records, cells)
	}
	return out, nil
}
