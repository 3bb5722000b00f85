//! The state of the beds at a row.
