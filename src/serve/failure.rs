//! Why a question has no answer.

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Failure {
    /// The number that the protocol has for it.
    pub code: i32,
    /// A sentence.
    pub message: String,
}

impl Failure {
    pub(super) const INVALID_PARAMS: i32 = -32602;
    pub(super) const METHOD_NOT_FOUND: i32 = -32601;
    pub(super) const INTERNAL: i32 = -32603;
    pub(super) const REQUEST_FAILED: i32 = -32803;
    pub(super) const CONTENT_MODIFIED: i32 = -32801;
    pub(super) const REQUEST_CANCELLED: i32 = -32800;

    /// The question was understood and cannot be answered as it is put.
    pub(super) fn request(message: String) -> Self {
        Self { code: Self::REQUEST_FAILED, message }
    }

    /// Nobody wants the answer any more.
    #[must_use]
    pub fn cancelled() -> Self {
        Self { code: Self::REQUEST_CANCELLED, message: "the question was taken back".to_owned() }
    }

    /// The text has changed since.
    #[must_use]
    pub fn overtaken() -> Self {
        Self { code: Self::CONTENT_MODIFIED, message: "the text has changed since the question was put".to_owned() }
    }

    /// Nothing was wrong with the question: the answer ran into a fault of wale.
    #[must_use]
    pub fn fault() -> Self {
        let message = "wale could not answer this because of a fault of its own. Nothing was changed, and other questions \
                       are answered as before. Please report what you asked and the pattern with it.";
        Self { code: Self::INTERNAL, message: message.to_owned() }
    }

    /// Nothing answers to that method.
    #[must_use]
    pub fn unknown(method: &str) -> Self {
        let shown: String = crate::clean::line(method).chars().take(80).collect();
        Self { code: Self::METHOD_NOT_FOUND, message: format!("wale does not know the method `{shown}`") }
    }

    /// The details of the question are not what the protocol says.
    #[must_use]
    pub fn details(method: &str, error: &serde_json::Error) -> Self {
        Self { code: Self::INVALID_PARAMS, message: format!("the details of `{method}` cannot be read: {error}") }
    }
}
