//! The rules whose findings are made in this room. `wrong-bed`, `open-repeat`, `ragged-repeat` and `off-bed` are about
//! knitting and may be found while playing as well; the others are about the language.

mod worked;
mod written;

use crate::catalogue::Rule;

pub(crate) use crate::syntax::rules::{RESERVED_WORD, TOO_DEEP, TOO_MANY_FINDINGS};
pub(crate) use worked::*;
pub(crate) use written::*;

/// All of them but those that reading a text shares.
pub(crate) static RULES: [&[&Rule]; 2] = [written::RULES, worked::RULES];
