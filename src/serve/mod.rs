//! The language server without its streams: open texts go in, questions come in, answers go out.
//!
//! [`Workspace`] keeps the texts, says what must be checked ([`Job`]) and what is to be shown. A [`Job`] and a question
//! ([`answer()`]) work on the [`Texts`] of one moment, so that they can be done elsewhere while the texts change. Nothing here
//! waits, reads a file, or knows of threads; files come from the [`Libraries`] that are handed in.

mod actions;
mod answer;
mod complete;
mod desk;
mod diagnose;
mod failure;
mod format;
mod hints;
mod hover;
mod knit;
mod outline;
mod place;
mod reading;
mod rename;
mod text;
mod texts;
mod words;
mod workspace;

pub use answer::{Question, answer, capabilities, encoding, is_known};
pub use failure::Failure;
pub use format::formatted;
pub use place::is_file;
pub use reading::Shelf;
pub use text::Encoding;
pub use texts::{Libraries, Texts};
pub use workspace::{Job, Looked, Workspace};
