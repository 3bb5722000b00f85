//! From statements to steps: what is left when names, units, sizes, definitions and repeats are worked out.

mod draft;
mod extent;
mod gap;
mod loops;
pub(super) mod lowering;
mod occupancy;
mod pieces;
mod repeat;
mod row;
mod speech;
mod statement;
mod stitch;
