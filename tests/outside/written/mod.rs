//! Structures, racking and shaping as they are published, written down in the language. What a source says in words is held
//! against the fabric that the reader of traces works out, not against the pattern's own text.

mod lace;
mod racking;
mod structures;
mod table;
