//! The `wale` command as it is called: exit codes, what is read and refused, and what goes to which stream.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// A folder of its own for one test, removed at the end.
struct Place(PathBuf);

impl Place {
    fn new(name: &str) -> Self {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&path);
        fs::create_dir_all(&path).expect("a folder for the test");
        Self(path)
    }

    fn file(&self, name: &str, bytes: &[u8]) -> &Self {
        fs::write(self.0.join(name), bytes).expect("a file for the test");
        self
    }

    /// The command in this folder, without anything from the environment that decides on colour.
    fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_wale"));
        command.args(arguments).current_dir(&self.0).env_remove("NO_COLOR").env_remove("CLICOLOR_FORCE");
        command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
        command
    }

    fn run(&self, arguments: &[&str]) -> (Option<i32>, String, String) {
        told(&self.command(arguments).output().expect("the command runs"))
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn told(output: &Output) -> (Option<i32>, String, String) {
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("the command writes UTF-8");
    (output.status.code(), text(&output.stdout), text(&output.stderr))
}

const CLEAN: &[u8] = b"pattern \"Breakwater scarf\"\n";

#[test]
fn a_clean_pattern_ends_with_0() {
    let place = Place::new("clean");
    place.file("breakwater.wale", CLEAN).file("lantern.wale", CLEAN);
    let (code, output, report) = place.run(&["check", "breakwater.wale"]);
    assert_eq!((code, output.as_str(), report.as_str()), (Some(0), "breakwater.wale: nothing to mend\n", ""));
    let (code, output, _) = place.run(&["check", "breakwater.wale", "lantern.wale"]);
    assert_eq!((code, output.as_str()), (Some(0), "2 files: nothing to mend\n"));
    let (code, output, _) = place.run(&["check", "--format", "short", "breakwater.wale"]);
    assert_eq!((code, output.as_str()), (Some(0), ""));
    let (code, output, _) = place.run(&["check", "--format", "json", "breakwater.wale", "lantern.wale"]);
    let read: serde_json::Value = serde_json::from_str(&output).expect("it is one JSON text");
    assert_eq!(code, Some(0));
    assert_eq!(read["findings_version"], 1);
    assert_eq!(read["files"], serde_json::json!(["breakwater.wale", "lantern.wale"]));
}

#[test]
fn wrong_use_ends_with_2_and_help_with_0() {
    let place = Place::new("use");
    for arguments in [&[][..], &["chekc"], &["check"], &["check", "--format", "loud", "a.wale"], &["--color", "x"]] {
        let (code, output, report) = place.run(arguments);
        assert_eq!((code, output.as_str()), (Some(2), ""), "{arguments:?}");
        assert!(!report.is_empty(), "{arguments:?}");
    }
    for arguments in [&["--help"][..], &["check", "--help"]] {
        let (code, output, _) = place.run(arguments);
        assert_eq!(code, Some(0));
        for line in ["0  nothing to mend", "1  there are findings", "2  wrong use", "NO_COLOR"] {
            assert!(output.contains(line), "{arguments:?}: {line}");
        }
    }
}

#[test]
fn what_cannot_be_read_is_told_and_ends_with_2() {
    let place = Place::new("unreadable");
    place.file("latin.wale", b"pattern \"Br\xe9akwater\"\n").file("wide.wale", b"\xff\xfep\0a\0");
    fs::create_dir(place.0.join("patterns")).expect("a folder for the test");
    for (name, words) in [
        ("gone.wale", "there is no file `gone.wale`. Check the spelling"),
        ("patterns", "`patterns` is a folder. Give the names"),
        ("latin.wale", "`latin.wale` is not UTF-8 text: line 1 holds the byte 0xe9"),
        ("wide.wale", "`wide.wale` is written in UTF-16. Save it as UTF-8"),
        ("\u{1b}[31m", "there is no file `␛[31m`"),
    ] {
        let (code, output, report) = place.run(&["check", name]);
        assert_eq!((code, output.as_str()), (Some(2), ""), "{name}");
        assert!(report.starts_with(&format!("wale: {words}")), "{name}: {report}");
    }
}

#[test]
fn one_unreadable_file_does_not_hide_the_others() {
    let place = Place::new("others");
    place.file("breakwater.wale", CLEAN);
    let (code, output, report) = place.run(&["check", "gone.wale", "breakwater.wale"]);
    assert_eq!((code, output.as_str()), (Some(2), "breakwater.wale: nothing to mend\n"));
    assert!(report.contains("gone.wale"), "{report}");
}

#[cfg(unix)]
#[test]
fn what_never_ends_is_not_waited_for() {
    let place = Place::new("endless");
    for name in ["/dev/zero", "/dev/null"] {
        let (code, _, report) = place.run(&["check", name]);
        assert_eq!(code, Some(2), "{name}");
        assert!(report.contains("is a device or a pipe"), "{report}");
    }
    let made = Command::new("mkfifo").arg(place.0.join("pipe.wale")).status();
    if made.is_ok_and(|status| status.success()) {
        let (code, _, report) = place.run(&["check", "pipe.wale"]);
        assert_eq!(code, Some(2));
        assert!(report.contains("send it to standard input"), "{report}");
    }
    let zero = fs::File::open("/dev/zero").expect("the system has it");
    let output = place.command(&["check", "-"]).stdin(zero).output().expect("the command runs");
    let (code, _, report) = told(&output);
    assert_eq!(code, Some(2));
    assert!(report.contains("standard input is longer than 64 MiB"), "{report}");
}

#[test]
fn a_dash_is_standard_input() {
    let place = Place::new("input");
    let with_input = |arguments: &[&str], bytes: &[u8]| {
        let mut running = place.command(arguments).stdin(Stdio::piped()).spawn().expect("the command starts");
        running.stdin.take().expect("it has an input").write_all(bytes).expect("it reads");
        told(&running.wait_with_output().expect("the command ends"))
    };
    let (code, output, _) = with_input(&["check", "-"], CLEAN);
    assert_eq!((code, output.as_str()), (Some(0), "standard input: nothing to mend\n"));
    let (code, _, report) = with_input(&["check", "-"], b"row \xff");
    assert_eq!(code, Some(2));
    assert!(report.starts_with("wale: standard input is not UTF-8 text"), "{report}");
    let (code, _, report) = with_input(&["check", "-", "-"], CLEAN);
    assert_eq!(code, Some(2));
    assert!(report.contains("can be read once only"), "{report}");
}

#[test]
fn a_closed_pipe_ends_quietly() {
    let place = Place::new("pipe");
    place.file("breakwater.wale", CLEAN);
    for arguments in [&["check", "breakwater.wale"][..], &["check", "--format", "json", "breakwater.wale"], &["--help"]]
    {
        let (reader, writer) = std::io::pipe().expect("a pipe for the test");
        drop(reader);
        let output = place.command(arguments).stdout(writer).output().expect("the command runs");
        let (code, _, report) = told(&output);
        assert_eq!((code, report.as_str()), (Some(0), ""), "{arguments:?}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_told() {
    let place = Place::new("full");
    place.file("breakwater.wale", CLEAN);
    let full = fs::File::create("/dev/full").expect("the system has it");
    let output = place.command(&["check", "breakwater.wale"]).stdout(full).output().expect("the command runs");
    let (code, _, report) = told(&output);
    assert_eq!(code, Some(2));
    assert!(report.starts_with("wale: the output cannot be written"), "{report}");
}

#[test]
fn there_is_no_colour_in_a_pipe() {
    let place = Place::new("colour");
    place.file("breakwater.wale", CLEAN);
    for name in ["NO_COLOR", "UNRELATED"] {
        let output = place.command(&["check", "breakwater.wale"]).env(name, "1").output().expect("the command runs");
        assert!(!output.stdout.contains(&0x1b));
    }
}
