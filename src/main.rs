//! The `wale` command: reads the arguments, hands over to the command, and ends with its exit code.

mod command;

use std::process::ExitCode;

fn main() -> ExitCode {
    command::main()
}
