//! From the method of a question to its answer.

use super::desk::Desk;
use super::failure::Failure;
use super::reading::Shelf;
use super::text::{Encoding, Lines};
use super::texts::{Libraries, Texts};
use super::{actions, complete, format, hints, hover, outline, place, rename};
use gen_lsp_types::{
    CodeActionKind, CodeActionOptions, CodeActionParams, CompletionOptions, CompletionParams, DefinitionParams,
    DocumentFormattingParams, DocumentHighlightParams, DocumentSymbolParams, FoldingRangeParams, HoverParams,
    InlayHintParams, Position, PositionEncodingKind, PrepareRenameParams, ReferenceParams, RenameOptions, RenameParams,
    Save, SaveOptions, ServerCapabilities, TextDocumentPositionParams, TextDocumentSyncKind, TextDocumentSyncOptions,
    Uri, WorkspaceSymbolParams,
};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// A question, with everything that its answer is made from as it was when the question was put.
pub struct Question<'q> {
    /// The method.
    pub method: &'q str,
    /// The details.
    pub params: Value,
    /// The texts.
    pub texts: &'q Texts,
    /// How columns are counted.
    pub encoding: Encoding,
    /// Whether the editor takes edits that name the version of the text that they are made for.
    pub versioned: bool,
    /// The files beside the texts.
    pub libraries: &'q Libraries,
    /// Whether the answer is still wanted.
    pub wanted: &'q dyn Fn() -> bool,
}

const METHODS: &[&str] = &[
    "textDocument/codeAction",
    "textDocument/completion",
    "textDocument/definition",
    "textDocument/documentHighlight",
    "textDocument/documentSymbol",
    "textDocument/foldingRange",
    "textDocument/formatting",
    "textDocument/hover",
    "textDocument/inlayHint",
    "textDocument/prepareRename",
    "textDocument/references",
    "textDocument/rename",
    "workspace/symbol",
];

/// Those whose answers name places in files that need not be open.
const ACROSS_FILES: &[&str] = &[
    "textDocument/codeAction",
    "textDocument/definition",
    "textDocument/prepareRename",
    "textDocument/references",
    "textDocument/rename",
    "workspace/symbol",
];

/// Whether there is an answer to that method at all.
#[must_use]
pub fn is_known(method: &str) -> bool {
    METHODS.contains(&method)
}

/// How columns are to be counted: in bytes where the client offers that, and in units of 16 bits where it does not.
#[must_use]
pub fn encoding(initialize: &Value) -> Encoding {
    let offered = initialize.pointer("/capabilities/general/positionEncodings").and_then(Value::as_array);
    let bytes = offered.is_some_and(|offered| offered.iter().any(|kind| kind == "utf-8"));
    if bytes { Encoding::Utf8 } else { Encoding::Utf16 }
}

/// What the server can do.
#[must_use]
pub fn capabilities(encoding: Encoding) -> ServerCapabilities {
    ServerCapabilities {
        position_encoding: Some(match encoding {
            Encoding::Utf8 => PositionEncodingKind::UTF8,
            Encoding::Utf16 => PositionEncodingKind::UTF16,
        }),
        text_document_sync: Some(
            TextDocumentSyncOptions {
                open_close: Some(true),
                change: Some(TextDocumentSyncKind::Incremental),
                save: Some(Save::SaveOptions(SaveOptions { include_text: Some(false) })),
                ..TextDocumentSyncOptions::default()
            }
            .into(),
        ),
        completion_provider: Some(CompletionOptions {
            trigger_characters: Some([" ", "\"", "(", "-"].map(str::to_owned).to_vec()),
            ..CompletionOptions::default()
        }),
        hover_provider: Some(true.into()),
        definition_provider: Some(true.into()),
        references_provider: Some(true.into()),
        document_highlight_provider: Some(true.into()),
        document_symbol_provider: Some(true.into()),
        workspace_symbol_provider: Some(true.into()),
        folding_range_provider: Some(true.into()),
        inlay_hint_provider: Some(true.into()),
        document_formatting_provider: Some(true.into()),
        rename_provider: Some(RenameOptions { prepare_provider: Some(true), ..RenameOptions::default() }.into()),
        code_action_provider: Some(
            CodeActionOptions {
                code_action_kinds: Some(vec![CodeActionKind::QuickFix, CodeActionKind::SourceFixAll]),
                ..CodeActionOptions::default()
            }
            .into(),
        ),
        ..ServerCapabilities::default()
    }
}

/// Answers a question about the texts.
///
/// # Errors
/// A [`Failure`]: an unknown method or text, details that cannot be read, an answer that is not wanted any more.
pub fn answer(question: &Question<'_>, shelf: &Shelf) -> Result<Value, Failure> {
    let &Question { method, texts, encoding, versioned, libraries, wanted, .. } = question;
    if !wanted() {
        return Err(Failure::cancelled());
    }
    if ACROSS_FILES.contains(&method) {
        shelf.look_at_files(libraries);
    }
    let desk = Desk { texts, encoding, libraries, shelf, versioned, wanted };
    let ask = Asking { desk, method, params: &question.params };
    let result = ask.answer()?;
    if wanted() { Ok(result) } else { Err(Failure::cancelled()) }
}

struct Asking<'q> {
    desk: Desk<'q>,
    method: &'q str,
    params: &'q Value,
}

impl Asking<'_> {
    fn answer(&self) -> Result<Value, Failure> {
        let desk = &self.desk;
        match self.method {
            "textDocument/hover" => {
                let params: HoverParams = self.details()?;
                let (name, at) = self.place(&params.text_document_position_params)?;
                said(&hover::hover(desk, &name, at))
            }
            "textDocument/completion" => {
                let params: CompletionParams = self.details()?;
                let (name, at) = self.place(&params.text_document_position_params)?;
                said(&complete::items(desk, &name, at))
            }
            "textDocument/definition" => {
                let params: DefinitionParams = self.details()?;
                let (name, at) = self.place(&params.text_document_position_params)?;
                said(&rename::definition(desk, &name, at).or_else(|| rename::used_file(desk, &name, at)))
            }
            "textDocument/references" => {
                let params: ReferenceParams = self.details()?;
                let (name, at) = self.place(&params.text_document_position_params)?;
                said(&rename::references(desk, &name, at, params.context.include_declaration))
            }
            "textDocument/documentHighlight" => {
                let params: DocumentHighlightParams = self.details()?;
                let (name, at) = self.place(&params.text_document_position_params)?;
                said(&rename::highlights(desk, &name, at))
            }
            "textDocument/prepareRename" => {
                let params: PrepareRenameParams = self.details()?;
                let (name, at) = self.place(&params.text_document_position_params)?;
                said(&rename::prepare(desk, &name, at)?)
            }
            "textDocument/rename" => {
                let params: RenameParams = self.details()?;
                let (name, at) = self.place(&params.text_document_position_params)?;
                said(&rename::rename(desk, &name, at, &params.new_name)?)
            }
            "textDocument/documentSymbol" => {
                let params: DocumentSymbolParams = self.details()?;
                self.of_tree(&params.text_document.uri, outline::symbols)
            }
            "textDocument/foldingRange" => {
                let params: FoldingRangeParams = self.details()?;
                self.of_tree(&params.text_document.uri, outline::folds)
            }
            "workspace/symbol" => {
                let params: WorkspaceSymbolParams = self.details()?;
                said(&outline::everywhere(desk, &params.query))
            }
            "textDocument/inlayHint" => {
                let params: InlayHintParams = self.details()?;
                let name = self.text(&params.text_document.uri)?;
                said(&hints::hints(desk, &name, params.range.start.line, params.range.end.line))
            }
            "textDocument/codeAction" => {
                let params: CodeActionParams = self.details()?;
                let name = self.text(&params.text_document.uri)?;
                said(&actions::actions(desk, &name, params.range, params.context.only.as_deref())?)
            }
            "textDocument/formatting" => {
                let params: DocumentFormattingParams = self.details()?;
                let name = self.text(&params.text_document.uri)?;
                let text = desk.texts.get(&name).map(|open| &*open.text).unwrap_or_default();
                let edits = format::formatted(&name, text).map(|new| format::line_edits(text, &new, desk.encoding));
                said(&edits)
            }
            method => Err(Failure::unknown(method)),
        }
    }

    fn details<T: DeserializeOwned>(&self) -> Result<T, Failure> {
        T::deserialize(self.params).map_err(|error| Failure::details(self.method, &error))
    }

    /// The name of an open text.
    fn text(&self, uri: &Uri) -> Result<String, Failure> {
        let name = place::name_of(uri.as_ref());
        if self.desk.texts.get(&name).is_some() {
            return Ok(name);
        }
        let shown: String = crate::clean::line(uri.as_ref()).chars().take(200).collect();
        Err(Failure {
            code: Failure::INVALID_PARAMS,
            message: format!("`{shown}` is not open. Open it before asking about it."),
        })
    }

    /// The text and the byte that a question is about.
    fn place(&self, params: &TextDocumentPositionParams) -> Result<(String, usize), Failure> {
        let name = self.text(&params.text_document.uri)?;
        let at = self.byte(&name, params.position);
        Ok((name, at))
    }

    fn byte(&self, name: &str, position: Position) -> usize {
        let text = self.desk.texts.get(name).map(|open| &*open.text).unwrap_or_default();
        Lines::new(text, self.desk.encoding).offset(position)
    }

    /// Something that is made of the tree of one text alone.
    fn of_tree<T: Serialize>(
        &self,
        uri: &Uri,
        make: impl Fn(&crate::syntax::tree::Tree, &Lines<'_>) -> Vec<T>,
    ) -> Result<Value, Failure> {
        let name = self.text(uri)?;
        let Some(reading) = self.desk.reading(&name) else { return said::<Vec<T>>(&Vec::new()) };
        let Some((file, tree)) = reading.file(&name) else { return said::<Vec<T>>(&Vec::new()) };
        said(&make(tree, &Lines::new(reading.sources().get(file).text(), self.desk.encoding)))
    }
}

fn said<T: Serialize>(what: &T) -> Result<Value, Failure> {
    serde_json::to_value(what)
        .map_err(|error| Failure { code: Failure::INTERNAL, message: format!("the answer cannot be written: {error}") })
}
