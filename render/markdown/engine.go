package markdown

import (
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/util"
)

// The three parsers are made once and shared: all that a call needs is in its parser.Context. A text of
// the front matter has no footnotes, since their numbers would start again within the page.
var (
	bodyReader   = newReader(features{blocks: true, notes: true, linked: true})
	textReader   = newReader(features{blocks: true, linked: true})
	inlineReader = newReader(features{linked: true})
)

type features struct {
	blocks bool // headings, lists, tables and so on; otherwise only paragraphs
	notes  bool // footnotes
	linked bool // bare addresses become links
}

func newReader(f features) parser.Parser {
	at := util.Prioritized
	inlines := []util.PrioritizedValue{
		at(&codeSpans{parser.NewCodeSpanParser()}, 100),
		at(placementParser{}, 150),
		at(&links{parser.NewLinkParser()}, 200),
		at(parser.NewAutoLinkParser(), 300),
		at(parser.NewRawHTMLParser(), 400),
		at(&delimiters{parser.NewEmphasisParser()}, 500),
		at(&delimiters{extension.NewStrikethroughParser()}, 500),
	}
	if f.linked {
		inlines = append(inlines, at(&bareLinks{extension.NewLinkifyParser()}, 999))
	}
	if !f.blocks {
		return parser.NewParser(
			parser.WithBlockParsers(at(anyLine{parser.NewParagraphParser()}, 1000)),
			parser.WithInlineParsers(inlines...),
		)
	}
	blocks := []util.PrioritizedValue{
		at(parser.NewSetextHeadingParser(), 100),
		at(&nested{parser: extension.NewDefinitionListParser()}, 101),
		at(extension.NewDefinitionDescriptionParser(), 102),
		at(parser.NewThematicBreakParser(), 200),
		at(&nested{parser: parser.NewListParser(), asksFirst: true}, 300),
		at(parser.NewListItemParser(), 400),
		at(parser.NewCodeBlockParser(), 500),
		at(parser.NewATXHeadingParser(), 600),
		at(parser.NewFencedCodeBlockParser(), 700),
		at(&nested{parser: parser.NewBlockquoteParser()}, 800),
		at(parser.NewHTMLBlockParser(), 900),
		at(parser.NewParagraphParser(), 1000),
	}
	inlines = append(inlines, at(extension.NewTaskCheckBoxParser(), 0))
	trees := []util.PrioritizedValue{at(extension.NewTableASTTransformer(), 0)}
	if f.notes {
		blocks = append(blocks, at(&nested{parser: &noteBlocks{extension.NewFootnoteBlockParser()}}, 999))
		inlines = append(inlines, at(&noteMarks{extension.NewFootnoteParser()}, 101))
		trees = append(trees, at(extension.NewFootnoteASTTransformer(), 999))
	}
	return parser.NewParser(
		parser.WithBlockParsers(blocks...),
		parser.WithInlineParsers(inlines...),
		parser.WithParagraphTransformers(
			at(&definitions{parser.LinkReferenceParagraphTransformer}, 100),
			at(&tables{extension.NewTableParagraphTransformer()}, 200),
		),
		parser.WithASTTransformers(trees...),
	)
}
