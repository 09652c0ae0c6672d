package hazard

import "labsite/recipes/source/tree"

// Own is the table of the shop's own file: the keys that its reader knows, and what editors and
// the schema say about them.
func Own() *tree.Entry { return &ownFile }

func leaf(name string, reads tree.Reads, says string) tree.Entry {
	return tree.Entry{Name: name, Says: says, Reads: reads}
}

func needed(e tree.Entry) tree.Entry {
	e.Needed = true
	return e
}

// texts is a list of texts, or one text for a list of one.
func texts(name string, reads tree.Reads, says string) tree.Entry {
	item := leaf("", reads, says)
	return tree.Entry{Name: name, Says: says, Reads: reads, Item: &item}
}

var ownSubstance = tree.Entry{Says: "A substance or a mixture of the shop.", Keys: []tree.Entry{
	needed(leaf("name", tree.Plain, "The name by which pages call it.")),
	texts("synonyms", tree.Plain, "Other names of it."),
	leaf("cas", tree.Plain, "Its CAS number."),
	leaf("ec", tree.Plain, "Its EC number."),
	leaf("formula", tree.Plain, "Its chemical formula."),
	leaf("molar_mass", tree.Quantity, "Its molar mass, checked against the formula."),
	texts("roles", tree.Plain, "What it is used for."),
	texts("contains", tree.Chemical, "Entries of the hazard list that it contains."),
	needed(texts("statements", tree.Plain, "Codes of hazard statements, from section 2 of the data sheet.")),
	leaf("signal_word", tree.Plain, "The signal word of the data sheet."),
	texts("pictograms", tree.Plain, "Codes of pictograms of the data sheet."),
	texts("precautionary", tree.Plain, "Codes of precautionary statements of the data sheet."),
	{Name: "advice", Says: "What to wear and how to handle it, in short phrases.", Keys: []tree.Entry{
		leaf("gloves", tree.Plain, "What gloves."),
		leaf("eyes", tree.Plain, "How the eyes are protected."),
		leaf("ventilation", tree.Plain, "How the room is ventilated."),
		leaf("dust", tree.Plain, "How dust is kept down."),
		leaf("heat", tree.Plain, "What heat does."),
		leaf("sensitiser", tree.Plain, "Whether it can cause an allergy."),
		leaf("pregnancy", tree.Plain, "What to mind in pregnancy."),
	}},
	texts("remarks", tree.Plain, "Remarks."),
	texts("keep_apart", tree.Plain, "What it must be kept apart from."),
	leaf("waste", tree.Plain, "The kind of waste that it is."),
	leaf("note", tree.Plain, "A note for those who keep the file."),
	{Name: "sheet", Says: "The supplier's safety data sheet.", Needed: true, Keys: []tree.Entry{
		needed(leaf("author", tree.Plain, "Who issued it.")),
		needed(leaf("date", tree.Date, "The day of issue.")),
		leaf("edition", tree.Plain, "Its edition."),
		leaf("review", tree.Period, "How long after that day it is reviewed."),
	}},
	{Name: "reviewed", Says: "Who checked this row against the sheet, and when.", Keys: []tree.Entry{
		needed(leaf("by", tree.Plain, "A role.")), needed(leaf("date", tree.Date, "The day."))}},
}}

var signedRow = tree.Entry{Says: "A row of the built-in list that a qualified person has checked.", Keys: []tree.Entry{
	needed(leaf("name", tree.Chemical, "The row.")), needed(leaf("by", tree.Plain, "A role.")), needed(leaf("date", tree.Date, "The day."))}}

var ownFile = tree.Entry{Says: "A shop's own substances, and rows of the hazard list that it signs.", Keys: []tree.Entry{
	{Name: "precautionary", Says: "Which set of precautionary statements is law here.", Reads: tree.Plain, Words: []string{"clp", "un-rev-10"}},
	{Name: "reviewed", Says: "Rows of the built-in list that a qualified person has checked.", Item: &signedRow},
	{Name: "substances", Says: "The shop's own substances and mixtures.", Item: &ownSubstance},
}}
