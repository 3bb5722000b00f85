//! The `wale` command, run in a folder of its own.
#![allow(dead_code, missing_docs, unreachable_pub)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// A folder of its own for one test, removed at the end.
pub struct Place(pub PathBuf);

impl Place {
    pub fn new(name: &str) -> Self {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&path);
        fs::create_dir_all(&path).expect("a folder for the test");
        Self(path)
    }

    pub fn file(&self, name: &str, bytes: &[u8]) -> &Self {
        fs::write(self.0.join(name), bytes).expect("a file for the test");
        self
    }

    /// The command in this folder, without anything from the environment that decides on colour.
    pub fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_wale"));
        command.args(arguments).current_dir(&self.0).env_remove("NO_COLOR").env_remove("CLICOLOR_FORCE");
        command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
        command
    }

    pub fn run(&self, arguments: &[&str]) -> (Option<i32>, String, String) {
        told(&self.command(arguments).output().expect("the command runs"))
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

/// The exit code, the output and the error output.
pub fn told(output: &Output) -> (Option<i32>, String, String) {
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("the command writes UTF-8");
    (output.status.code(), text(&output.stdout), text(&output.stderr))
}
