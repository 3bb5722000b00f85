//! The `wale` command.
fn main() {}
