package page_test

import (
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// FuzzTable reads any bytes as a data file. There is always a table or an error, all columns have the
// same length, and every place is in the file.
func FuzzTable(f *testing.F) {
	for _, seed := range []string{
		"film,ei,minutes [min]\nslow,100,6.5\nfast,320,8 min 30 s\n",
		"strength,minutes\n1+50,6 min\n1+100,11 min\n",
		"date,low,high\n2026-09-14,0.10,1.20\n2026-09-15,0.11,1.19\n",
		"bath [°C],minutes [min]\n18,13\n\"20\",11\n68 °F,11\n",
		"a,b\n\"x\ny\",1\n\"\"\"q\"\"\",2\n", "a\n", "", "a,a\n1,2\n", "a,b\n1\n", "a [text]\n5 ml\n", "a [foo]\n1\n",
		"a [%]\n18\n5 %\n", "a\n1\nx\n", "a,b\r\n1,2\r\n", "\ufeffa\n1\n", "a\n\"\n", "a\n1,5\n", "a [ml]\n5 min\n", "a\n\x00\n",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		if len(raw) > 1<<16 {
			return
		}
		file, list := source.New("x.csv", raw)
		if list.Errors() > 0 {
			return
		}
		table, list := page.ReadTable(file)
		if (table == nil) != (list.Errors() > 0) {
			t.Fatalf("table %v with %d errors", table != nil, list.Errors())
		}
		for _, d := range list {
			if d.Line < 1 || d.Column < 1 || d.Line > file.Lines() || d.Message == "" || d.Hint == "" && d.Code != "wrong-shape" {
				t.Fatalf("bad diagnostic %+v", d)
			}
		}
		if table == nil {
			return
		}
		rows := len(table.Columns[0].Cells)
		for _, c := range table.Columns {
			if len(c.Cells) != rows || len(c.Values) != rows || len(c.Lines) != rows {
				t.Fatalf("column %s has %d cells, %d values, %d lines of %d rows", c.Name, len(c.Cells), len(c.Values), len(c.Lines), rows)
			}
			for i, v := range c.Values {
				if c.Kind.Sort == quantity.Word && strings.TrimSpace(v.Text) == "" {
					t.Fatalf("empty text in row %d", i)
				}
			}
		}
	})
}
