package highlight

import "github.com/alecthomas/chroma/v2"

var yaml = newLanguage("yaml yml", "# a mix\ntitle: \"Stock\"\ngiven:\n  tank: {value: 500 ml, whole: true}\nnotes:\n  - 12.5\n", func() chroma.Rules {
	const plain = `[^\s"'\[\]{},#&*!|>%@:-][^\n:#,\[\]{}]*?`
	return chroma.Rules{"root": {
		{Pattern: `#[^\n]*`, Type: chroma.Comment},
		{Pattern: `^(---|\.\.\.)(?=\s|$)`, Type: chroma.Punctuation},
		// A block text goes on as long as its lines are indented more than its key.
		{
			Pattern: `^( *)([^\s:#-][^\n:]*)(:)( +)([|>][-+0-9]*)( *\n)((?:\1 +[^\n]*\n?|[ \t]*\n)+)`,
			Type:    chroma.ByGroups(chroma.Text, chroma.NameTag, chroma.Punctuation, chroma.Text, chroma.Punctuation, chroma.Text, chroma.LiteralString),
		},
		{Pattern: `(` + plain + `|` + doubleQuoted + `|` + singleQuoted + `)(:)(?=\s|$)`, Type: chroma.ByGroups(chroma.NameTag, chroma.Punctuation)},
		{Pattern: doubleQuoted + `|` + singleQuoted, Type: chroma.LiteralString},
		{Pattern: `(true|false|yes|no|null|~)(?=\s*([,\]}\n]|$))`, Type: chroma.KeywordConstant},
		{Pattern: `\d{4}-\d\d-\d\d(?=\s*([,\]}\n]|$))`, Type: chroma.LiteralDate},
		{Pattern: `[-+]?\d[\d_]*(\.\d+)?([eE][-+]?\d+)?(?=\s*([,\]}\n]|$))`, Type: chroma.LiteralNumberFloat},
		{Pattern: `[&*!][^\s,\[\]{}]+`, Type: chroma.NameLabel},
		{Pattern: `-(?=\s)|[\[\]{},:?|>]`, Type: chroma.Punctuation},
		{Pattern: plain + `(?=\s*([,\]}\n]|$)|\s+#)`, Type: chroma.Literal},
		{Pattern: `\n|[ \t]+`, Type: chroma.Text},
		{Pattern: anything, Type: chroma.Literal},
	}}
})

var jsonText = newLanguage("json json5 jsonc", "{\"tank\": 500, \"film\": [\"slow\", null], \"tested\": true}\n", func() chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: doubleQuoted + `(?=\s*:)`, Type: chroma.NameTag},
		{Pattern: doubleQuoted, Type: chroma.LiteralString},
		{Pattern: words("true false null"), Type: chroma.KeywordConstant},
		{Pattern: `-?` + number, Type: chroma.LiteralNumberFloat},
		{Pattern: `//[^\n]*|/\*[\w\W]*?\*/`, Type: chroma.Comment},
		{Pattern: `[\[\]{},:]`, Type: chroma.Punctuation},
		{Pattern: blanks, Type: chroma.Text},
		{Pattern: anything, Type: chroma.Text},
	}}
})

var csv = newLanguage("csv", "film,minutes [min]\n\"slow, fine\",12.5\n", func() chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: `"(""|[^"])*"`, Type: chroma.LiteralString},
		{Pattern: `[-+]?\d+(\.\d+)?(?=,|\r?\n|$)`, Type: chroma.LiteralNumberFloat},
		{Pattern: `,`, Type: chroma.Punctuation},
		{Pattern: `[^,"\n]+|"`, Type: chroma.Literal},
		{Pattern: `\n`, Type: chroma.Text},
	}}
})

var ini = newLanguage("ini toml conf cfg", "; for the printer\n[paper]\nwidth = 210\nname = \"matt\"\n", func() chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: `[;#][^\n]*`, Type: chroma.Comment},
		{Pattern: `^\s*\[[^\n]*\]`, Type: chroma.Keyword},
		{Pattern: `^([ \t]*)([^\s=;#\[][^\n=]*?)([ \t]*)(=)`, Type: chroma.ByGroups(chroma.Text, chroma.NameAttribute, chroma.Text, chroma.Operator)},
		{Pattern: doubleQuoted + `|` + singleQuoted, Type: chroma.LiteralString},
		{Pattern: words("true false yes no on off"), Type: chroma.KeywordConstant},
		{Pattern: `[-+]?` + number, Type: chroma.LiteralNumberFloat},
		{Pattern: `[\[\]{},]`, Type: chroma.Punctuation},
		{Pattern: blanks, Type: chroma.Text},
		{Pattern: anything, Type: chroma.LiteralString},
	}}
})

var diff = newLanguage("diff patch", "--- a\n+++ b\n@@ -1 +1 @@\n-old\n+new\n same\n", func() chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: `^(---|\+\+\+|@@|diff |index )[^\n]*`, Type: chroma.GenericHeading},
		{Pattern: `^\+[^\n]*`, Type: chroma.GenericInserted},
		{Pattern: `^-[^\n]*`, Type: chroma.GenericDeleted},
		{Pattern: `[^\n]+|\n`, Type: chroma.Text},
	}}
})
