//! Tests of the library as a whole that need what only its inside can see.

mod once;
mod schemas;
