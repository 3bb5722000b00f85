//! wale: a small text language for two-bed hand knitting, and its compiler. Text in, values out: this library opens
//! no files, reads no environment and prints nothing.

pub mod beds;
pub mod catalogue;
pub mod clean;
pub mod compare;
mod compile;
#[cfg(test)]
mod counted;
mod draw;
pub mod explain;
pub mod finding;
pub mod knitted;
pub mod mend;
mod names;
pub mod plan;
pub mod play;
pub mod rules;
#[cfg(feature = "serve")]
pub mod serve;
pub mod source;
pub mod syntax;
pub mod tell;
#[cfg(test)]
mod tests;
mod words;
pub mod write;

pub use compile::{Checked, check, check_while};
