package highlight

import "github.com/alecthomas/chroma/v2"

var shell = newLanguage("sh bash shell console zsh", "# once a day\nfor f in *.csv; do\n  cp \"$f\" ${HOME}/kept && echo 'done' $1\ndone\n", func() chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: `(?<=^|\s)#[^\n]*`, Type: chroma.Comment},
		{Pattern: `\\.`, Type: chroma.LiteralStringEscape},
		{Pattern: `"(\\.|[^"\\])*"|'[^']*'`, Type: chroma.LiteralString},
		{Pattern: `\$\{[^}\n]*\}|\$[\w#?@*!$-]`, Type: chroma.NameVariable},
		{Pattern: `\$\w+`, Type: chroma.NameVariable},
		{Pattern: `(?<=^|[\s;&|(])(if|then|else|elif|fi|for|in|do|done|while|until|case|esac|function|return|select)(?=[\s;)]|$)`, Type: chroma.Keyword},
		{Pattern: `(?<=^|[\s;&|(])(cd|echo|exit|export|local|printf|read|set|shift|source|test|trap|unset|wait)(?=[\s;)]|$)`, Type: chroma.NameBuiltin},
		{Pattern: `(\w+)(=)`, Type: chroma.ByGroups(chroma.NameVariable, chroma.Operator)},
		{Pattern: `(?<=\s)\d+(?=[\s;)]|$)`, Type: chroma.LiteralNumberInteger},
		{Pattern: `&&|\|\||[|&<>!=]`, Type: chroma.Operator},
		{Pattern: `[\[\](){};]`, Type: chroma.Punctuation},
		{Pattern: blanks, Type: chroma.Text},
		{Pattern: `[^\s\\"'$|&<>!=\[\](){};]+|\$`, Type: chroma.Text},
		{Pattern: anything, Type: chroma.Text},
	}}
})

var python = newLanguage("python py", "# a mean\ndef mean(rows):\n    \"\"\"Of all rows.\"\"\"\n    return sum(rows) / len(rows) if rows else None\n", func() chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: `#[^\n]*`, Type: chroma.Comment},
		{Pattern: `[rbfuRBFU]{0,2}("""[\w\W]*?"""|'''[\w\W]*?''')`, Type: chroma.LiteralString},
		{Pattern: `[rbfuRBFU]{0,2}(` + doubleQuoted + `|` + singleQuoted + `)`, Type: chroma.LiteralString},
		{Pattern: `@[\w.]+`, Type: chroma.NameDecorator},
		{Pattern: `(def|class)(\s+)(` + name + `)`, Type: chroma.ByGroups(chroma.Keyword, chroma.Text, chroma.NameFunction)},
		{Pattern: words("and as assert async await break class continue def del elif else except finally for from global if import in is lambda nonlocal not or pass raise return try while with yield"), Type: chroma.Keyword},
		{Pattern: words("True False None"), Type: chroma.KeywordConstant},
		{Pattern: called, Type: chroma.NameFunction},
		{Pattern: name, Type: chroma.Name},
		{Pattern: number, Type: chroma.LiteralNumberFloat},
		{Pattern: `[-+*/%=<>!&|^~@]+`, Type: chroma.Operator},
		{Pattern: `[\[\](){},:;.]`, Type: chroma.Punctuation},
		{Pattern: blanks, Type: chroma.Text},
		{Pattern: anything, Type: chroma.Text},
	}}
})

var golang = newLanguage("go golang", "// Half halves.\nfunc Half(x float64) float64 {\n\tif x == 0 { return 0 }\n\treturn x / 2.5 + len(\"a\")\n}\n", func() chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: `//[^\n]*|/\*[\w\W]*?\*/`, Type: chroma.Comment},
		{Pattern: doubleQuoted + `|` + singleQuoted + "|`[^`]*`", Type: chroma.LiteralString},
		{Pattern: words("break case chan const continue default defer else fallthrough for func go goto if import interface map package range return select struct switch type var true false nil iota"), Type: chroma.Keyword},
		{Pattern: words("any bool byte complex64 complex128 error float32 float64 int int8 int16 int32 int64 rune string uint uint8 uint16 uint32 uint64 uintptr") + `(?!\s*\()`, Type: chroma.KeywordType},
		{Pattern: called, Type: chroma.NameFunction},
		{Pattern: name, Type: chroma.Name},
		{Pattern: number, Type: chroma.LiteralNumberFloat},
		{Pattern: `[-+*/%=<>!&|^:]+`, Type: chroma.Operator},
		{Pattern: `[\[\](){},;.~]`, Type: chroma.Punctuation},
		{Pattern: blanks, Type: chroma.Text},
		{Pattern: anything, Type: chroma.Text},
	}}
})

var sql = newLanguage("sql", "-- by film\nselect film, avg(minutes) from times where bath > 18.5 and film <> 'slow';\n", func() chroma.Rules {
	return chroma.Rules{"root": {
		{Pattern: `--[^\n]*|/\*[\w\W]*?\*/`, Type: chroma.Comment},
		{Pattern: `'(''|[^'])*'`, Type: chroma.LiteralString},
		{Pattern: `"[^"\n]*"`, Type: chroma.Name},
		{Pattern: `(?i)` + words("all alter and as asc between by case create default delete desc distinct drop else end exists from full group having in inner insert into is join key left like limit not null on or order outer primary references right select set table then union unique update values view when where with"), Type: chroma.Keyword},
		{Pattern: called, Type: chroma.NameFunction},
		{Pattern: name, Type: chroma.Name},
		{Pattern: number, Type: chroma.LiteralNumberFloat},
		{Pattern: `[-+*/%=<>!|]+`, Type: chroma.Operator},
		{Pattern: `[(),;.]`, Type: chroma.Punctuation},
		{Pattern: blanks, Type: chroma.Text},
		{Pattern: anything, Type: chroma.Text},
	}}
})
