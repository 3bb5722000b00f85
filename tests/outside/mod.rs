//! wale against what has been published. Every check names its source. A fact of the trade without one is marked
//! `common practice, no source`; a value that was not looked up is marked `from memory`. No standard is claimed to be kept
//! whose text was not seen.
//!
//! There are two kinds of check, and they prove different things:
//!
//! - `computed`: a question is put to wale, and what wale works out (rows of a length, the order of stitches, which needle
//!   stands outermost, whether something is found) is held against the printed answer. These prove that *wale is right*.
//! - `written`: a structure is written down in the language by the same hand that copied the published table. That the two
//!   agree proves little, since one hand can err twice. So a reader of traces in `fabric.rs`, which takes nothing from
//!   wale, works out the fabric: the loops of each needle, their faces, what each was drawn through, how the yarn runs and
//!   which way stitches lean. What the source says of the fabric in words is held against that. These prove that *the
//!   language can say the structure, and that what wale makes of it is that fabric*.
//!
//! A check that cannot fail proves nothing. So each check is a function of the hand that writes the patterns
//! ([`hand::Hand`]), and its test also gives it slips of that hand, every one of which it must refuse.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]
#![allow(clippy::print_stdout, reason = "the slips that were tried are told with --nocapture")]

#[macro_use]
mod hand;
mod computed;
mod fabric;
mod written;
