package page

import (
	"slices"

	"labsite/recipes/source/tree"
)

// Front is the table of a page's front matter: every key that the decoders know, and what an
// editor and a schema say of it.
func Front() *tree.Entry { return &front }

// Lab is the same table for labsite.yaml.
func Lab() *tree.Entry { return &lab }

// underFront lists the keys known below a key, for the decoders.
func underFront(way ...string) []string { return front.Under(way...).Known() }

func set(name, says string, keys ...tree.Entry) tree.Entry {
	return tree.Entry{Name: name, Says: says, Keys: keys}
}

func each(name, says string, item tree.Entry) tree.Entry {
	return tree.Entry{Name: name, Says: says, Item: &item}
}

func plain(name string, reads tree.Reads, says string) tree.Entry {
	return tree.Entry{Name: name, Says: says, Reads: reads}
}

func words(name, says string, words ...string) tree.Entry {
	return tree.Entry{Name: name, Says: says, Reads: tree.Plain, Words: words}
}

// named is a set of names that the writer chooses; the value of each is a text, read as reads
// says, or a set of keys.
func named(names, reads tree.Reads, says string, keys ...tree.Entry) tree.Entry {
	return tree.Entry{Name: tree.Chosen, Says: says, Names: names, Reads: reads, Keys: keys}
}

func needed(e tree.Entry) tree.Entry {
	e.Needed = true
	return e
}

// oneOrMore is a text or a list of such texts.
func oneOrMore(name string, reads tree.Reads, says string) tree.Entry {
	item := plain("", reads, says)
	return tree.Entry{Name: name, Says: says, Reads: reads, Item: &item}
}

// run is a given value and the values that it runs through.
func run(name, says string) tree.Entry {
	values := named(tree.Given, tree.Values, "The values of this given, one by one, or from one end to the other by a step.")
	item := plain("", tree.Values, "One of the values.")
	values.Item = &item
	return tree.Entry{Name: name, Says: says, Reads: tree.Given, Keys: []tree.Entry{values}}
}

var signalled = []tree.Entry{
	needed(words("word", "The signal word of ANSI Z535.6, the gravest first.", SignalWords...)),
	needed(plain("text", tree.Prose, "What to do, and against what.")),
}

var control = set("control", "Document control: number, revision, status and approval of the page.",
	needed(plain("number", tree.Plain, "The number of the document; no two pages share one.")),
	needed(plain("revision", tree.Whole, "The revision, a whole number.")),
	needed(words("status", "How far the page has come.", "draft", "approved", "withdrawn")),
	plain("owner", tree.Plain, "The role that owns the page."),
	plain("approved_by", tree.Plain, "The role that approved it."),
	plain("approved", tree.Date, "The day on which it was approved."),
	plain("effective", tree.Date, "The day from which it holds."),
	plain("review", tree.Period, "How long after that day it is reviewed."),
	set("changes", "What changed in each revision.", named(tree.Whole, tree.Plain, "What changed in this revision.")),
)

var given = set("given", "Values that somebody sets, or that the lab owns.",
	named(tree.NewName, tree.Quantity, "A given value.",
		plain("label", tree.Plain, "What readers know it by; with a label they may set it."),
		plain("value", tree.Quantity, "The page's own value."),
		plain("example", tree.Quantity, "An example of a reading that somebody enters."),
		plain("from", tree.Quantity, "The smallest value that may be set."),
		plain("to", tree.Quantity, "The largest value that may be set."),
		plain("step", tree.Quantity, "The step from one value to the next."),
		oneOrMore("choices", tree.Cells, "The values to choose from, or a column that has them."),
		plain("source", tree.Plain, "Where the value comes from."),
		plain("owner", tree.Plain, "The role that answers for it."),
		plain("within", tree.Quantity, "How far the true value may lie from it, half the width of an even spread."),
		plain("review", tree.Period, "How long until somebody must review it."),
	))

var figures = set("figures", "Values that are worked out.",
	named(tree.NewName, tree.Formula, "A figure: its formula, or a set of keys.",
		plain("label", tree.Plain, "What readers know it by; with a label it is shown among the results."),
		needed(plain("formula", tree.Formula, "How it is worked out.")),
		plain("show", tree.Form, "How it is shown: a step, a unit or a form."),
		plain("else", tree.Plain, "What to show in its place if its formula is refused."),
	))

var limits = each("limits", "What to say, or to refuse, when a condition holds.", set("", "A limit.",
	needed(plain("when", tree.Formula, "The condition, a formula that is yes or no.")),
	plain("notice", tree.Prose, "What to say when it holds."),
	plain("caution", tree.Prose, "A caution to give when it holds."),
	plain("warning", tree.Prose, "A warning to give when it holds."),
	plain("refuse", tree.Prose, "Why the page then gives no number."),
	plain("each", tree.DataFile, "The data file on each of whose rows the condition is tried."),
))

var checks = each("checks", "Tests of the page's numbers.", set("", "A check.",
	set("at", "The given values that are set for the check.", named(tree.Given, tree.Quantity, "The value to set.")),
	tree.Entry{Name: "expect", Says: "What must come out: figures with their values, or what the page must say.", Reads: tree.Plain,
		Words: []string{"refused", "notice", "caution", "warning", "no notice", "no caution", "no warning"},
		Keys:  []tree.Entry{named(tree.Figure, tree.Values, "The value expected, with its tolerance.")}},
	plain("source", tree.Plain, "Where the expected value comes from."),
	plain("always", tree.Formula, "A rule that must hold whatever is set."),
))

var steps = each("steps", "A process, step by step.", set("", "A step.",
	needed(plain("do", tree.Prose, "What is done.")),
	plain("for", tree.Formula, "How long, a formula of a time."),
	tree.Entry{Name: "agitate", Says: "How the tank is moved, in words or by moments.", Reads: tree.Prose, Keys: []tree.Entry{
		plain("first", tree.Quantity, "How long it is moved without a pause from the start."),
		plain("every", tree.Quantity, "How long from one moment to the next, counted from the start."),
		plain("inversions", tree.Whole, "How many times it is turned over each time."),
		plain("turning", tree.Quantity, "How long it is moved each time."),
	}},
	plain("drain", tree.Quantity, "How long before the end pouring out begins."),
	plain("aim", tree.Prose, "A value with its tolerance."),
	plain("hold", tree.Plain, "Who must initial before it goes on."),
	words("dark", "Whether it is done in darkness.", "true", "false", "yes", "no"),
	plain("note", tree.Prose, "A remark, in Markdown."),
	tree.Entry{Name: "caution", Says: "A caution by its name, or a word and a text.", Reads: tree.Warning, Keys: signalled},
))

var tables = set("tables", "Tables of figures, of rows of a data file, or weighing lists.",
	named(tree.NewName, tree.Nowhere, "A table.",
		needed(plain("caption", tree.Prose, "What it shows.")),
		run("rows", "The given value that changes from row to row."),
		columns(),
		oneOrMore("cell", tree.Figure, "The figure in each cell, or several."),
		each("list", "The figures of a weighing list, in their order.", plain("", tree.Figure, "A figure.")),
		each("blanks", "The columns of a weighing list that are filled in by hand.", plain("", tree.Plain, "A heading.")),
		plain("of", tree.DataFile, "The data file whose rows it shows."),
		plain("where", tree.Formula, "Which rows: a condition on the columns of the file."),
		plain("order", tree.Column, "The column that sorts the rows; - before it puts the largest first."),
		each("totals", "Columns whose sum is shown below them.", plain("", tree.Column, "A column that is shown.")),
	))

// columns of a table are the values of a given, or columns of a data file.
func columns() tree.Entry {
	e := run("columns", "The given value that changes from column to column, or the columns of the data file that are shown.")
	item := plain("", tree.Column, "A column of the data file.")
	e.Item = &item
	return e
}

var charts = set("charts", "Charts of figures and of measured points.",
	named(tree.NewName, tree.Nowhere, "A chart.",
		needed(plain("caption", tree.Prose, "What it shows.")),
		plain("x", tree.Given, "The given value along the axis."),
		oneOrMore("y", tree.Figure, "The figure that is drawn, or several of one kind."),
		run("lines", "A given value with a line for each of its values."),
		set("points", "Measured points: two columns of a data file.",
			plain("x", tree.Cells, "The column along the axis."), plain("y", tree.Cells, "The column that was measured.")),
		tree.Entry{Name: "limits", Says: "What the points are judged by: a method, or the lab's own limits.", Reads: tree.Plain, Words: []string{"individuals", "ewma"},
			Keys: []tree.Entry{
				plain("aim", tree.Figure, "The value aimed at."),
				plain("action", tree.Figure, "How far a reading may lie from the aim before somebody acts."),
				plain("control", tree.Figure, "How far it may lie from the aim before the process is stopped."),
			}},
		plain("baseline", tree.Plain, "From how many of the first readings a method works its limits out, 20 or more."),
	))

var substance = tree.Entry{Says: "A substance by its name or CAS number.", Reads: tree.Chemical, Keys: []tree.Entry{
	needed(plain("name", tree.Chemical, "Its generic name or CAS number.")),
	plain("strength", tree.Quantity, "How strong it is, by weight."),
}}

var makes = set("makes", "What the page makes, for labels of its containers.",
	named(tree.NewName, tree.Nowhere, "A product.",
		plain("label", tree.Plain, "Its name on the label."),
		needed(plain("amount", tree.Formula, "How much is made, or how much goes into a container.")),
		each("contains", "Substances that it contains; they are among the page's own.", substance),
		plain("lasts", tree.Formula, "How long it keeps from the day of mixing, or its last day of use."),
		plain("opened", tree.Formula, "How long it keeps once opened."),
		plain("store", tree.Plain, "How it is stored."),
	))

var front = set("", "The front matter of a page.",
	needed(plain("title", tree.Plain, "The title, the page's first heading.")),
	needed(words("audience", "Who the page is for.", "customers", "staff")),
	plain("summary", tree.Plain, "What the page is for, in a sentence."),
	each("topics", "What it is about, for lists and the search.", plain("", tree.Plain, "A topic.")),
	each("season", "The months in which visitors come for it, for the front page and its section.", words("", "A month.", Months...)),
	plain("order", tree.Quantity, "Moves the page up its section, smaller first."),
	control,
	set("cautions", "Safety messages, placed by their names or standing at the top.",
		named(tree.NewName, tree.Warning, "A signal word and a text, or the name of a standing caution.", signalled...)),
	each("supplies", "What is used up.", plain("", tree.Prose, "A supply.")),
	each("tools", "What is needed and stays.", plain("", tree.Prose, "A tool.")),
	set("draws_on", "Other pages whose values this one uses.",
		named(tree.NewName, tree.Path, "The page drawn on.",
			needed(plain("page", tree.Path, "Its file, from this one.")),
			set("at", "Its given values, set by formulas of this page.", named(tree.Drawn, tree.Formula, "The value that it is given.")))),
	set("data", "Data files: CSV next to the page or in a folder above.",
		named(tree.NewName, tree.Path, "A data file.",
			needed(plain("file", tree.Path, "The file, from this one.")),
			plain("source", tree.Plain, "Where its rows come from: measured here and the day, or not yet measured here."),
			set("adds", "Columns that are worked out for each row.", named(tree.NewName, tree.Formula, "How it is worked out from the row's columns.")))),
	plain("keeps", tree.Path, "The file next to the page in which its records are kept."),
	given, figures, limits, checks, steps, tables, charts,
	each("substances", "Substances that the page handles, from the hazard list.", substance),
	makes,
)

var lab = set("", "What a lab says of its site as a whole.",
	plain("name", tree.Plain, "The lab's name."),
	plain("address", tree.Plain, "Where the site is published, for feeds, cards and codes."),
	plain("language", tree.Plain, "The language of the pages, a BCP 47 tag."),
	words("units", "Which units are shown first.", "metric", "us"),
	plain("notice", tree.Plain, "The standing notice, instead of the built-in one."),
	plain("theme", tree.Path, "A folder whose files take the place of the built-in theme's."),
	each("counts", "The lab's own counted things, besides rolls, sheets and the like.", plain("", tree.Plain, "A word for one of them.")),
	words("html", "Whether a safe set of HTML elements in pages is let through.", "true", "false"),
	each("customers_see", "What customers are told about who is responsible for a page.", words("", "What they are told.", BehindPages...)),
	each("alike", "Words that mean the same to the search, besides those that it knows.", each("", "A group of them.", plain("", tree.Plain, "A word, or several that follow one another."))),
	plain("guarded", tree.Quantity, "The share of the changes tried on a page that its checks should notice."),
)

// FormulaKeys lists the keys of the front matter whose value is a formula.
func FormulaKeys() []string {
	var out []string
	var walk func(e *tree.Entry)
	walk = func(e *tree.Entry) {
		for i := range e.Keys {
			k := &e.Keys[i]
			if k.Reads == tree.Formula && k.Name != tree.Chosen && !slices.Contains(out, k.Name) {
				out = append(out, k.Name)
			}
			walk(k)
		}
		if e.Item != nil {
			walk(e.Item)
		}
	}
	walk(&front)
	return out
}
