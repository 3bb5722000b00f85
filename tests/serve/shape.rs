//! The shape of what the server says, against the protocol as another library has it: `lsp-types`, written by hand from the
//! protocol's specification, while the server's own types are made from the protocol's model by `gen-lsp-types`. What is
//! read with those types and written again must be what it was, so that no field has another name or form.

use lsp_types as l;
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

fn round<T: Serialize + DeserializeOwned>(what: &str, value: &Value) {
    let read: T = serde_json::from_value(value.clone()).unwrap_or_else(|error| panic!("{what}: {error}: {value:#}"));
    let written = serde_json::to_value(&read).unwrap();
    assert_eq!(bare(written), bare(value.clone()), "{what}");
}

/// Without what is null, which stands for what is not there.
fn bare(value: Value) -> Value {
    match value {
        Value::Object(fields) => {
            Value::Object(fields.into_iter().filter(|(_, value)| !value.is_null()).map(|(k, v)| (k, bare(v))).collect())
        }
        Value::Array(items) => Value::Array(items.into_iter().map(bare).collect()),
        other => other,
    }
}

/// Checks the result of a question.
pub fn is_of_the_protocol(method: &str, value: &Value) {
    match method {
        "initialize" => round::<l::InitializeResult>(method, value),
        "textDocument/hover" => round::<Option<l::Hover>>(method, value),
        "textDocument/completion" => round::<Option<l::CompletionResponse>>(method, value),
        "textDocument/definition" => round::<Option<l::GotoDefinitionResponse>>(method, value),
        "textDocument/references" => round::<Option<Vec<l::Location>>>(method, value),
        "textDocument/documentHighlight" => round::<Option<Vec<l::DocumentHighlight>>>(method, value),
        "textDocument/prepareRename" => round::<Option<l::PrepareRenameResponse>>(method, value),
        "textDocument/rename" => round::<Option<l::WorkspaceEdit>>(method, value),
        "textDocument/documentSymbol" => round::<Option<l::DocumentSymbolResponse>>(method, value),
        "textDocument/foldingRange" => round::<Option<Vec<l::FoldingRange>>>(method, value),
        "textDocument/formatting" => round::<Option<Vec<l::TextEdit>>>(method, value),
        "textDocument/inlayHint" => round::<Option<Vec<l::InlayHint>>>(method, value),
        "textDocument/codeAction" => round::<Option<l::CodeActionResponse>>(method, value),
        "workspace/symbol" => round::<Option<Vec<l::WorkspaceSymbol>>>(method, value),
        "shutdown" => assert!(value.is_null()),
        other => panic!("no shape is known for {other}"),
    }
}

/// Checks what is told without being asked.
pub fn is_notification(method: &str, params: &Value) {
    match method {
        "textDocument/publishDiagnostics" => round::<l::PublishDiagnosticsParams>(method, params),
        other => panic!("no shape is known for {other}"),
    }
}
