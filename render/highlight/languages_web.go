package highlight

import "github.com/alecthomas/chroma/v2"

var markupText = newLanguage("html htm xml svg", "<!-- a note -->\n<p class=\"first\" hidden>Mix &amp; stir</p>\n", func() chroma.Rules {
	return chroma.Rules{
		"root": {
			{Pattern: `<!--[\w\W]*?-->`, Type: chroma.Comment},
			{Pattern: `<[!?][^>]*>`, Type: chroma.CommentPreproc},
			{Pattern: `&\S*?;`, Type: chroma.NameEntity},
			{Pattern: `(</?)([\w:.-]+)`, Type: chroma.ByGroups(chroma.Punctuation, chroma.NameTag), Mutator: chroma.Push("tag")},
			{Pattern: `[^<&]+|[<&]`, Type: chroma.Text},
		},
		"tag": {
			{Pattern: blanks, Type: chroma.Text},
			{Pattern: `([\w:@.-]+)(\s*=)`, Type: chroma.ByGroups(chroma.NameAttribute, chroma.Operator)},
			{Pattern: `"[^"]*"|'[^']*'`, Type: chroma.LiteralString},
			{Pattern: `/?>`, Type: chroma.Punctuation, Mutator: chroma.Pop(1)},
			{Pattern: `[\w:@.-]+`, Type: chroma.NameAttribute},
			{Pattern: anything, Type: chroma.Text},
		},
	}
})

var css = newLanguage("css", "/* ink */\n.note:hover, #top { color: #6b1d5c; margin: 0 1.5em; content: \"x\"; }\n@media print { a { color: inherit } }\n", func() chroma.Rules {
	return chroma.Rules{
		"root": {
			{Pattern: `/\*[\w\W]*?\*/`, Type: chroma.Comment},
			{Pattern: `@[\w-]+`, Type: chroma.Keyword},
			{Pattern: `\{`, Type: chroma.Punctuation, Mutator: chroma.Push("block")},
			{Pattern: `(\.)([\w-]+)`, Type: chroma.ByGroups(chroma.Punctuation, chroma.NameClass)},
			{Pattern: `#[\w-]+`, Type: chroma.NameVariable},
			{Pattern: `(::?)([\w-]+)`, Type: chroma.ByGroups(chroma.Punctuation, chroma.NameDecorator)},
			{Pattern: doubleQuoted + `|` + singleQuoted, Type: chroma.LiteralString},
			{Pattern: `[\w-]+`, Type: chroma.NameTag},
			{Pattern: `[\[\](){},;=>+~*|^$]`, Type: chroma.Punctuation},
			{Pattern: blanks, Type: chroma.Text},
			{Pattern: anything, Type: chroma.Text},
		},
		"block": {
			{Pattern: `/\*[\w\W]*?\*/`, Type: chroma.Comment},
			{Pattern: `\}`, Type: chroma.Punctuation, Mutator: chroma.Pop(1)},
			{Pattern: `([\w-]+)(\s*)(:)(?=[^{}]*[;}])`, Type: chroma.ByGroups(chroma.Keyword, chroma.Text, chroma.Punctuation), Mutator: chroma.Push("value")},
			chroma.Include("root"),
		},
		"value": {
			{Pattern: `;`, Type: chroma.Punctuation, Mutator: chroma.Pop(1)},
			{Pattern: `(?=\})`, Type: chroma.Text, Mutator: chroma.Pop(1)},
			{Pattern: `/\*[\w\W]*?\*/`, Type: chroma.Comment},
			{Pattern: doubleQuoted + `|` + singleQuoted, Type: chroma.LiteralString},
			{Pattern: `#[0-9a-fA-F]+`, Type: chroma.LiteralNumberHex},
			{Pattern: `[-+]?(\d*\.)?\d+(%|[a-z]+)?`, Type: chroma.LiteralNumberFloat},
			{Pattern: `[\w-]+(?=\()`, Type: chroma.NameFunction},
			{Pattern: `--[\w-]+`, Type: chroma.NameVariable},
			{Pattern: `![a-z]+`, Type: chroma.Keyword},
			{Pattern: `[\w-]+`, Type: chroma.Text},
			{Pattern: `[(),/*+]`, Type: chroma.Punctuation},
			{Pattern: blanks, Type: chroma.Text},
			{Pattern: anything, Type: chroma.Text},
		},
	}
})

var javascript = newLanguage("javascript js mjs typescript ts", "// half\nconst half = (x) => { return x / 2.5; };\nhand.set(\"tank\", `a ${half(3)}`, null);\n", func() chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: `//[^\n]*|/\*[\w\W]*?\*/`, Type: chroma.Comment},
		{Pattern: doubleQuoted + `|` + singleQuoted + "|`(\\\\.|[^`\\\\])*`", Type: chroma.LiteralString},
		// A slash begins a regular expression unless a value may have ended before it.
		{Pattern: `(?<=(^|[=(,:\[!&|?{};]|return)\s*)/(\\.|\[(\\.|[^\]\\\n])*\]|[^/\\\[\n*])+/[a-z]*`, Type: chroma.LiteralStringRegex},
		{Pattern: words("async await break case catch class const continue debugger default delete do else enum export extends finally for from function if implements import in instanceof interface let new of return static super switch this throw try type typeof var void while with yield"), Type: chroma.Keyword},
		{Pattern: words("true false null undefined NaN Infinity"), Type: chroma.KeywordConstant},
		{Pattern: `[A-Za-z_$][\w$]*(?=\s*\()`, Type: chroma.NameFunction},
		{Pattern: `[A-Za-z_$][\w$]*`, Type: chroma.NameOther},
		{Pattern: number, Type: chroma.LiteralNumberFloat},
		{Pattern: `[-+*/%=<>!&|^~?:]+`, Type: chroma.Operator},
		{Pattern: `[\[\](){},;.]`, Type: chroma.Punctuation},
		{Pattern: blanks, Type: chroma.Text},
		{Pattern: anything, Type: chroma.Text},
	}}
})
