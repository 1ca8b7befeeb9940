package editor

import "encoding/json"

// The part of the Language Server Protocol, 3.17, that is spoken here. Of what
// a client sends only the fields that are read are named, so that a client
// newer than this page is still understood.

// position counts lines and UTF-16 units from 0.
type position struct {
	Line      uint32 `json:"line"`
	Character uint32 `json:"character"`
}

type span struct {
	Start position `json:"start"`
	End   position `json:"end"`
}

type location struct {
	URI   string `json:"uri"`
	Range span   `json:"range"`
}

type textEdit struct {
	Range   span   `json:"range"`
	NewText string `json:"newText"`
}

// severity of a diagnostic.
type severity int

const (
	severityError severity = iota + 1
	severityWarning
	severityInformation
)

type diagnostic struct {
	Range    span               `json:"range"`
	Severity severity           `json:"severity"`
	Code     string             `json:"code,omitempty"`
	Source   string             `json:"source"`
	Message  string             `json:"message"`
	Related  []relatedDiagnosis `json:"relatedInformation,omitempty"`
}

type relatedDiagnosis struct {
	Location location `json:"location"`
	Message  string   `json:"message"`
}

type publishDiagnostics struct {
	URI         string       `json:"uri"`
	Version     *int32       `json:"version,omitempty"`
	Diagnostics []diagnostic `json:"diagnostics"`
}

type documentID struct {
	URI string `json:"uri"`
}

type versionedID struct {
	URI     string `json:"uri"`
	Version int32  `json:"version"`
}

type initializeParams struct {
	ProcessID    *int    `json:"processId"`
	RootURI      *string `json:"rootUri"`
	Folders      []struct{ URI string }
	Capabilities struct {
		Workspace struct {
			DidChangeWatchedFiles struct {
				DynamicRegistration bool `json:"dynamicRegistration"`
			} `json:"didChangeWatchedFiles"`
		} `json:"workspace"`
		TextDocument struct {
			Completion struct {
				CompletionItem struct {
					SnippetSupport bool `json:"snippetSupport"`
				} `json:"completionItem"`
			} `json:"completion"`
			DocumentSymbol struct {
				Hierarchical bool `json:"hierarchicalDocumentSymbolSupport"`
			} `json:"documentSymbol"`
			CodeAction struct {
				ResolveSupport struct {
					Properties []string `json:"properties"`
				} `json:"resolveSupport"`
			} `json:"codeAction"`
		} `json:"textDocument"`
	} `json:"capabilities"`
}

// UnmarshalJSON reads every field by itself: one that is not as expected is as
// if it were not there, and the conversation begins all the same.
func (p *initializeParams) UnmarshalJSON(data []byte) error {
	var fields map[string]json.RawMessage
	if err := json.Unmarshal(data, &fields); err != nil {
		return err
	}
	for name, into := range map[string]any{
		"processId": &p.ProcessID, "rootUri": &p.RootURI, "workspaceFolders": &p.Folders, "capabilities": &p.Capabilities,
	} {
		if raw, ok := fields[name]; ok {
			_ = json.Unmarshal(raw, into) // what could be read is kept
		}
	}
	return nil
}

type initializeResult struct {
	Capabilities capabilities `json:"capabilities"`
	ServerInfo   serverInfo   `json:"serverInfo"`
}

type serverInfo struct {
	Name    string `json:"name"`
	Version string `json:"version"`
}

type capabilities struct {
	PositionEncoding   string            `json:"positionEncoding"`
	TextDocumentSync   syncOptions       `json:"textDocumentSync"`
	HoverProvider      bool              `json:"hoverProvider"`
	DefinitionProvider bool              `json:"definitionProvider"`
	SymbolProvider     bool              `json:"documentSymbolProvider"`
	CompletionProvider completionOptions `json:"completionProvider"`
	CodeActionProvider codeActionOptions `json:"codeActionProvider"`
}

// syncWhole: the client sends the whole text at every change.
const syncWhole = 1

type syncOptions struct {
	OpenClose bool `json:"openClose"`
	Change    int  `json:"change"`
	Save      bool `json:"save"`
}

type completionOptions struct {
	TriggerCharacters []string `json:"triggerCharacters"`
}

type codeActionOptions struct {
	Kinds           []string `json:"codeActionKinds"`
	ResolveProvider bool     `json:"resolveProvider"`
}

type didOpen struct {
	TextDocument struct {
		versionedID
		Text string `json:"text"`
	} `json:"textDocument"`
}

type didChange struct {
	TextDocument   versionedID `json:"textDocument"`
	ContentChanges []struct {
		Range *span  `json:"range"`
		Text  string `json:"text"`
	} `json:"contentChanges"`
}

// onDocument is what a request about one document carries; each request reads
// of it what it needs.
type onDocument struct {
	TextDocument documentID `json:"textDocument"`
	Position     position   `json:"position"`
	Range        span       `json:"range"`
	Context      struct {
		Only []string `json:"only"` // kinds of code actions that are wanted; none: all
	} `json:"context"`
}

type watchedFiles struct {
	Changes []struct {
		URI string `json:"uri"`
	} `json:"changes"`
}

type hoverResult struct {
	Contents markup `json:"contents"`
	Range    span   `json:"range"`
}

// markup is text to show. Kind is always plaintext: what a sheet says is never
// read as markup.
type markup struct {
	Kind  string `json:"kind"`
	Value string `json:"value"`
}

func plainText(s string) markup { return markup{"plaintext", s} }

// itemKind is the little picture beside a completion.
type itemKind int

const (
	itemFunction  itemKind = 3
	itemField     itemKind = 5
	itemVariable  itemKind = 6
	itemClass     itemKind = 7
	itemModule    itemKind = 9
	itemUnit      itemKind = 11
	itemValue     itemKind = 12
	itemEnum      itemKind = 13
	itemKeyword   itemKind = 14
	itemFile      itemKind = 17
	itemReference itemKind = 18
)

const asSnippet = 2

type completionList struct {
	IsIncomplete bool             `json:"isIncomplete"`
	Items        []completionItem `json:"items"`
}

type completionItem struct {
	Label            string    `json:"label"`
	Kind             itemKind  `json:"kind,omitempty"`
	Detail           string    `json:"detail,omitempty"`
	Documentation    *markup   `json:"documentation,omitempty"`
	SortText         string    `json:"sortText"`
	FilterText       string    `json:"filterText,omitempty"`
	InsertTextFormat int       `json:"insertTextFormat,omitempty"`
	TextEdit         *textEdit `json:"textEdit,omitempty"`
}

// symbolKind is the little picture beside an entry of the outline.
type symbolKind int

const (
	symbolModule   symbolKind = 2
	symbolPackage  symbolKind = 4
	symbolClass    symbolKind = 5
	symbolProperty symbolKind = 7
	symbolFunction symbolKind = 12
	symbolObject   symbolKind = 19
	symbolEvent    symbolKind = 24
)

type documentSymbol struct {
	Name           string           `json:"name"`
	Detail         string           `json:"detail,omitempty"`
	Kind           symbolKind       `json:"kind"`
	Range          span             `json:"range"`
	SelectionRange span             `json:"selectionRange"`
	Children       []documentSymbol `json:"children,omitempty"`
}

// flatSymbol is an entry of the outline for a client that knows no other.
type flatSymbol struct {
	Name     string     `json:"name"`
	Kind     symbolKind `json:"kind"`
	Location location   `json:"location"`
	In       string     `json:"containerName,omitempty"`
}

const (
	actionQuickFix = "quickfix"
	actionMendAll  = "source.fixAll.guidecoat"
)

type codeAction struct {
	Title       string         `json:"title"`
	Kind        string         `json:"kind"`
	Diagnostics []diagnostic   `json:"diagnostics,omitempty"`
	IsPreferred bool           `json:"isPreferred,omitempty"`
	Edit        *workspaceEdit `json:"edit,omitempty"`
	Data        *actionData    `json:"data,omitempty"`
}

// actionData says of which text an action is that is worked out when chosen.
type actionData struct {
	URI     string `json:"uri"`
	Version int32  `json:"version"`
}

type workspaceEdit struct {
	Changes map[string][]textEdit `json:"changes"`
}

// messageKind of what is shown or logged.
type messageKind int

const (
	messageError   messageKind = 1
	messageWarning messageKind = 2
	messageInfo    messageKind = 3
)

type showMessage struct {
	Type    messageKind `json:"type"`
	Message string      `json:"message"`
}

type registration struct {
	Registrations []registrationOf `json:"registrations"`
}

type registrationOf struct {
	ID      string       `json:"id"`
	Method  string       `json:"method"`
	Options watchOptions `json:"registerOptions"`
}

type watchOptions struct {
	Watchers []watcher `json:"watchers"`
}

type watcher struct {
	Pattern string `json:"globPattern"`
}

// Error codes of the protocol beside those of JSON-RPC.
const (
	codeNotInitialized   = -32002
	codeRequestCancelled = -32800
	codeRequestFailed    = -32803
)
