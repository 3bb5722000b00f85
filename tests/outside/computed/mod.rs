//! What wale works out, held against a printed answer: rows of a length, orders of stitches, set-outs, ends of the beds, and
//! whether something is found. A wrong answer of wale fails here.

mod crossing;
mod ends;
mod lengths;
mod limits;
mod set_outs;
mod shaping;
