package language

import "encoding/json"

// The parts of the protocol's types that are used here, with the names and fields of its
// specification, version 3.17.

type position struct {
	Line      int `json:"line"`
	Character int `json:"character"`
}

type textRange struct {
	Start position `json:"start"`
	End   position `json:"end"`
}

type location struct {
	URI   string    `json:"uri"`
	Range textRange `json:"range"`
}

type identifier struct {
	URI     string `json:"uri"`
	Version *int   `json:"version,omitempty"`
}

type textDocument struct {
	URI     string `json:"uri"`
	Version int    `json:"version"`
	Text    string `json:"text"`
}

type openParams struct {
	TextDocument textDocument `json:"textDocument"`
}

type changeParams struct {
	TextDocument   identifier `json:"textDocument"`
	ContentChanges []struct {
		Range *textRange `json:"range"`
		Text  string     `json:"text"`
	} `json:"contentChanges"`
}

type documentParams struct {
	TextDocument identifier `json:"textDocument"`
}

type placeParams struct {
	TextDocument identifier `json:"textDocument"`
	Position     position   `json:"position"`
}

type referenceParams struct {
	placeParams
	Context struct {
		IncludeDeclaration bool `json:"includeDeclaration"`
	} `json:"context"`
}

type renameParams struct {
	placeParams
	NewName string `json:"newName"`
}

type rangeParams struct {
	TextDocument identifier `json:"textDocument"`
	Range        textRange  `json:"range"`
}

type symbolParams struct {
	Query string `json:"query"`
}

type watchedParams struct {
	Changes []struct {
		URI string `json:"uri"`
	} `json:"changes"`
}

type initializeParams struct {
	RootURI          *string `json:"rootUri"`
	RootPath         *string `json:"rootPath"`
	WorkspaceFolders []struct {
		URI string `json:"uri"`
	} `json:"workspaceFolders"`
	InitializationOptions json.RawMessage `json:"initializationOptions"`
	Capabilities          struct {
		TextDocument struct {
			Completion struct {
				CompletionItem struct {
					SnippetSupport bool `json:"snippetSupport"`
				} `json:"completionItem"`
			} `json:"completion"`
			PublishDiagnostics struct {
				RelatedInformation bool `json:"relatedInformation"`
			} `json:"publishDiagnostics"`
		} `json:"textDocument"`
		Workspace struct {
			WorkspaceEdit struct {
				DocumentChanges    bool     `json:"documentChanges"`
				ResourceOperations []string `json:"resourceOperations"`
			} `json:"workspaceEdit"`
			CodeLens struct {
				RefreshSupport bool `json:"refreshSupport"`
			} `json:"codeLens"`
			DidChangeWatchedFiles struct {
				DynamicRegistration bool `json:"dynamicRegistration"`
			} `json:"didChangeWatchedFiles"`
		} `json:"workspace"`
	} `json:"capabilities"`
}

// Severities of diagnostics.
const (
	severityError       = 1
	severityWarning     = 2
	severityInformation = 3
)

type diagnostic struct {
	Range    textRange `json:"range"`
	Severity int       `json:"severity"`
	Code     string    `json:"code"`
	Source   string    `json:"source"`
	Message  string    `json:"message"`
	Related  []related `json:"relatedInformation,omitempty"`
}

type related struct {
	Location location `json:"location"`
	Message  string   `json:"message"`
}

type publishParams struct {
	URI         string       `json:"uri"`
	Version     *int         `json:"version,omitempty"`
	Diagnostics []diagnostic `json:"diagnostics"`
}

type textEdit struct {
	Range   textRange `json:"range"`
	NewText string    `json:"newText"`
}

type workspaceEdit struct {
	Changes map[string][]textEdit `json:"changes"`
}

type renameFilesParams struct {
	Files []struct {
		OldURI string `json:"oldUri"`
		NewURI string `json:"newUri"`
	} `json:"files"`
}

type versionedIdentifier struct {
	URI     string `json:"uri"`
	Version *int   `json:"version"` // null if the file is not open
}

type documentEdit struct {
	TextDocument versionedIdentifier `json:"textDocument"`
	Edits        []textEdit          `json:"edits"`
}

type renameFile struct {
	Kind   string `json:"kind"`
	OldURI string `json:"oldUri"`
	NewURI string `json:"newUri"`
}

type codeAction struct {
	Title       string        `json:"title"`
	Kind        string        `json:"kind"`
	Diagnostics []diagnostic  `json:"diagnostics"`
	IsPreferred bool          `json:"isPreferred,omitempty"`
	Edit        workspaceEdit `json:"edit"`
}

type markup struct {
	Kind  string `json:"kind"`
	Value string `json:"value"`
}

type hover struct {
	Contents markup    `json:"contents"`
	Range    textRange `json:"range"`
}

// Kinds of completion items and symbols.
const (
	itemFunction = 3
	itemField    = 5
	itemVariable = 6
	itemUnit     = 11
	itemValue    = 12
	itemFile     = 17

	symbolFile     = 1
	symbolField    = 8
	symbolFunction = 12
	symbolVariable = 13
	symbolConstant = 14
	symbolString   = 15
	symbolObject   = 19
)

type completionItem struct {
	Label            string    `json:"label"`
	Kind             int       `json:"kind"`
	Detail           string    `json:"detail,omitempty"`
	Documentation    *markup   `json:"documentation,omitempty"`
	SortText         string    `json:"sortText,omitempty"`
	InsertTextFormat int       `json:"insertTextFormat,omitempty"`
	TextEdit         *textEdit `json:"textEdit,omitempty"`
}

type completionList struct {
	IsIncomplete bool             `json:"isIncomplete"`
	Items        []completionItem `json:"items"`
}

type documentSymbol struct {
	Name           string           `json:"name"`
	Detail         string           `json:"detail,omitempty"`
	Kind           int              `json:"kind"`
	Range          textRange        `json:"range"`
	SelectionRange textRange        `json:"selectionRange"`
	Children       []documentSymbol `json:"children,omitempty"`
}

type workspaceSymbol struct {
	Name          string   `json:"name"`
	Kind          int      `json:"kind"`
	Location      location `json:"location"`
	ContainerName string   `json:"containerName,omitempty"`
}

type foldingRange struct {
	StartLine int    `json:"startLine"`
	EndLine   int    `json:"endLine"`
	Kind      string `json:"kind,omitempty"`
}

type semanticTokens struct {
	Data []int `json:"data"`
}

type inlayHint struct {
	Position    position `json:"position"`
	Label       string   `json:"label"`
	PaddingLeft bool     `json:"paddingLeft"`
}

type codeLens struct {
	Range   textRange `json:"range"`
	Command command   `json:"command"`
}

type command struct {
	Title   string `json:"title"`
	Command string `json:"command"`
}
