//! The command: what it says, what it writes, and that no pattern is ever lost on the way.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// A folder of its own for one test, removed at the end.
struct Place(PathBuf);

impl Place {
    fn new(name: &str) -> Self {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("tidy-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&path);
        fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    fn file(&self, name: &str, bytes: &[u8]) -> PathBuf {
        let path = self.0.join(name);
        fs::write(&path, bytes).unwrap();
        path
    }

    fn bytes(&self, name: &str) -> Vec<u8> {
        fs::read(self.0.join(name)).unwrap()
    }

    /// How many files there are: none may be left behind.
    fn count(&self) -> usize {
        fs::read_dir(&self.0).unwrap().count()
    }

    fn command(&self, program: &str, arguments: &[&str]) -> Command {
        let mut command = Command::new(program);
        command.args(arguments).current_dir(&self.0);
        command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
        command
    }

    /// Exit code, output and report of `wale tidy`.
    fn tidy(&self, arguments: &[&str]) -> (Option<i32>, String, String) {
        let arguments = [&["tidy"], arguments].concat();
        told(&self.command(env!("CARGO_BIN_EXE_wale"), &arguments).output().unwrap())
    }

    fn tidy_input(&self, arguments: &[&str], input: &[u8]) -> (Option<i32>, String, String) {
        let arguments = [&["tidy"], arguments].concat();
        let mut child = self.command(env!("CARGO_BIN_EXE_wale"), &arguments).stdin(Stdio::piped()).spawn().unwrap();
        child.stdin.take().unwrap().write_all(input).unwrap();
        told(&child.wait_with_output().unwrap())
    }

    /// The same in a shell that does something first.
    #[cfg(target_os = "linux")]
    fn tidy_after(&self, script: &str, arguments: &[&str]) -> (Option<i32>, String, String) {
        let script = format!("{script}; exec \"$0\" tidy \"$@\"");
        let arguments = [&["-c", &script, env!("CARGO_BIN_EXE_wale")], arguments].concat();
        told(&self.command("sh", &arguments).output().unwrap())
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn told(output: &Output) -> (Option<i32>, String, String) {
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    (output.status.code(), text(&output.stdout), text(&output.stderr))
}

const TIDY: &[u8] = b"pattern \"Breakwater scarf\"\n\nyarn slate {\n    strands 2\n}\n";
const UNTIDY: &[u8] = b"pattern   \"Breakwater scarf\"\n\n\nyarn slate\n{\nstrands 2 }";

#[test]
fn files_are_tidied_in_their_place() {
    let place = Place::new("files");
    place.file("scarf.wale", UNTIDY);
    place.file("hat.wale", UNTIDY);
    place.file("done.wale", TIDY);
    let said = (Some(0), "tidied: scarf.wale\n".to_owned(), String::new());
    assert_eq!(place.tidy(&["scarf.wale"]), said);
    assert_eq!(place.bytes("scarf.wale"), TIDY);
    assert_eq!(place.tidy(&["scarf.wale"]), (Some(0), "scarf.wale: tidy\n".to_owned(), String::new()));
    let said = (Some(0), "tidied: hat.wale\n1 of 3 files tidied\n".to_owned(), String::new());
    assert_eq!(place.tidy(&["scarf.wale", "hat.wale", "done.wale"]), said);
    assert_eq!(place.bytes("hat.wale"), TIDY);
    let said = (Some(0), "3 files: tidy\n".to_owned(), String::new());
    assert_eq!(place.tidy(&["scarf.wale", "hat.wale", "done.wale"]), said);
    assert_eq!((place.bytes("done.wale"), place.count()), (TIDY.to_vec(), 3));
}

#[test]
fn a_tidy_file_is_not_even_written() {
    let place = Place::new("untouched");
    let before = fs::metadata(place.file("done.wale", TIDY)).unwrap().modified().unwrap();
    std::thread::sleep(std::time::Duration::from_millis(20));
    assert_eq!(place.tidy(&["done.wale"]).0, Some(0));
    assert_eq!(fs::metadata(place.0.join("done.wale")).unwrap().modified().unwrap(), before);
}

#[test]
fn checking_changes_nothing_and_names_the_first_line() {
    let place = Place::new("check");
    place.file("scarf.wale", UNTIDY);
    place.file("ends.wale", b"yarn slate {}\nyarn foam {}\r\n");
    place.file("done.wale", TIDY);
    let shown = "scarf.wale:1: this is the first line that is not tidy\n--- scarf.wale\n+++ scarf.wale, tidied\n@@ -1,6 +1,5 @@\n-pattern   \"Breakwater scarf\"\n-\n+pattern \"Breakwater scarf\"\n \n-yarn slate\n-{\n-strands 2 }\n\\ No newline at end of file\n+yarn slate {\n+    strands 2\n+}\n\n";
    let (code, output, report) = place.tidy(&["--check", "scarf.wale"]);
    assert_eq!((code, report.as_str()), (Some(1), ""));
    assert_eq!(output, format!("{shown}scarf.wale is not tidy. Without --check, `wale tidy` makes it so.\n"));
    let (code, output, report) = place.tidy(&["--check", "done.wale", "scarf.wale", "ends.wale"]);
    assert_eq!((code, report.as_str()), (Some(1), ""));
    assert!(output.starts_with(shown), "{output}");
    let ends = "ends.wale:2: this is the first line that is not tidy\nIts words stand as they should, but its lines do not all end alike.\n\n2 of 3 files are not tidy. Without --check, `wale tidy` makes them so.\n";
    assert!(output.ends_with(ends), "{output}");
    assert_eq!(place.tidy(&["--check", "done.wale"]), (Some(0), "done.wale: tidy\n".to_owned(), String::new()));
    assert_eq!((place.bytes("scarf.wale"), place.count()), (UNTIDY.to_vec(), 3));
    // Not all of a long file is shown.
    place.file("long.wale", "yarn  slate {}\n".repeat(1000).as_bytes());
    let (_, output, _) = place.tidy(&["--check", "long.wale"]);
    assert!(output.lines().count() < 50 && output.contains("\n... and 1963 more lines\n"), "{output}");
}

#[test]
fn standard_input_goes_to_the_output() {
    let place = Place::new("input");
    place.file("scarf.wale", UNTIDY);
    let tidy = String::from_utf8(TIDY.to_vec()).unwrap();
    assert_eq!(place.tidy_input(&["-"], UNTIDY), (Some(0), tidy.clone(), String::new()));
    assert_eq!(place.tidy_input(&["-"], TIDY), (Some(0), tidy.clone(), String::new()));
    assert_eq!(place.tidy_input(&["-"], b""), (Some(0), String::new(), String::new()));
    // What is said of a file does not get into the text.
    let said = "tidied: scarf.wale\n".to_owned();
    assert_eq!(place.tidy_input(&["scarf.wale", "-"], UNTIDY), (Some(0), tidy.clone(), said));
    let (code, output, report) = place.tidy_input(&["-", "-"], UNTIDY);
    assert_eq!((code, output), (Some(2), tidy));
    assert!(report.contains("standard input can be read once only"), "{report}");
    let (code, output, _) = place.tidy_input(&["--check", "-"], UNTIDY);
    assert_eq!(code, Some(1));
    assert!(output.starts_with("standard input:1: "), "{output}");
    assert!(output.ends_with("standard input is not tidy. Without --check, `wale tidy` makes it so.\n"), "{output}");
    // An editor that takes the output for its text loses nothing.
    let open = "piece  \"A\" {\n";
    let (code, output, report) = place.tidy_input(&["-"], open.as_bytes());
    assert_eq!((code, output.as_str()), (Some(1), open));
    assert!(report.contains("error[unclosed-brace]") && report.contains("standard input is left as it is"), "{report}");
}

#[test]
fn what_cannot_be_tidied_is_left_as_it_is() {
    let place = Place::new("left");
    for (name, bytes, said) in [
        ("open.wale", &b"piece  \"A\" {\n"[..], "error[unclosed-brace]"),
        ("closed.wale", b"yarn  slate {}\n}\n", "error[stray-brace]"),
        ("open.wale", b"piece \"A\"\n    note \"a\"\n    row front   knit\n", "error[missing-block]"),
        ("two.wale", b"<<<<<<< here\nyarn  a {}\n=======\n>>>>>>> there\n", "error[merge-marker]"),
        ("letter.wale", b"Dear Bollard Room,\n    the wool has come.\n", "error[not-tidied]"),
        ("zeros.wale", &[0; 1000], "error[not-tidied]"),
    ] {
        place.file(name, bytes);
        for arguments in [&[name][..], &["--check", name]] {
            let (code, output, report) = place.tidy(arguments);
            assert_eq!((code, output.as_str()), (Some(1), ""), "{name}: {report}");
            assert!(report.starts_with(said) && report.contains(&format!("`{name}` is left as it is")), "{report}");
        }
        assert_eq!(place.bytes(name), bytes);
    }
    place.file("scarf.wale", UNTIDY);
    let (code, output, _) = place.tidy(&["open.wale", "scarf.wale"]);
    assert_eq!((code, output.as_str()), (Some(1), "tidied: scarf.wale\n1 of 2 files tidied, 1 left as it is\n"));
}

#[test]
fn lines_that_cannot_be_read_are_counted() {
    let place = Place::new("unread");
    place.file("scarf.wale", b"  yorn slate {}\nyarn  foam {}\n");
    let (code, output, report) = place.tidy(&["scarf.wale"]);
    assert_eq!((code, output.as_str()), (Some(0), "tidied: scarf.wale\n"));
    assert!(report.starts_with("wale: `scarf.wale` has a place that cannot be read."), "{report}");
    assert_eq!(place.bytes("scarf.wale"), b"yorn slate {}\nyarn foam {}\n");
}

#[test]
fn what_is_no_text_is_not_touched() {
    let place = Place::new("notext");
    fs::create_dir(place.0.join("folder.wale")).unwrap();
    for (name, bytes, said) in [
        ("latin.wale", &b"pattern \"caf\xe9\"   \n"[..], "is not UTF-8 text: line 1"),
        ("wide.wale", b"\xff\xfep\0a\0", "UTF-16"),
    ] {
        place.file(name, bytes);
        for arguments in [&[name][..], &["--check", name]] {
            let (code, output, report) = place.tidy(arguments);
            assert_eq!((code, output.as_str()), (Some(2), ""));
            assert!(report.contains(said), "{report}");
        }
        assert_eq!(place.bytes(name), bytes);
    }
    for (name, said) in
        [("gone.wale", "there is no file"), ("folder.wale", "is a folder"), ("/dev/null", "is a device")]
    {
        let (code, _, report) = place.tidy(&[name]);
        assert!(code == Some(2) && report.contains(said), "{report}");
    }
    // The others are tidied all the same.
    place.file("scarf.wale", UNTIDY);
    let (code, output, _) = place.tidy(&["latin.wale", "scarf.wale"]);
    assert_eq!((code, output.as_str()), (Some(2), "tidied: scarf.wale\n"));
}

#[cfg(unix)]
mod on_unix {
    use super::*;
    use std::io::Read;
    use std::os::unix::fs::{MetadataExt, PermissionsExt, symlink};

    fn mode(path: &Path) -> u32 {
        fs::metadata(path).unwrap().permissions().mode() & 0o7777
    }

    #[test]
    fn permissions_and_links_stay() {
        let place = Place::new("link");
        fs::create_dir(place.0.join("folder")).unwrap();
        let real = place.file("folder/scarf.wale", UNTIDY);
        fs::set_permissions(&real, fs::Permissions::from_mode(0o640)).unwrap();
        symlink("folder/scarf.wale", place.0.join("link.wale")).unwrap();
        symlink("link.wale", place.0.join("again.wale")).unwrap();
        let owner = |path: &Path| fs::metadata(path).map(|file| (file.uid(), file.gid())).unwrap();
        // Only the keeper of the machine can give a file to somebody else.
        let given = std::os::unix::fs::chown(&real, Some(1234), Some(5678)).is_ok();
        println!(
            "whether another owner is kept {}",
            if given { "is tried" } else { "is not tried: it takes the right to give files away" }
        );
        let before = owner(&real);
        assert_eq!(place.tidy(&["again.wale"]).0, Some(0));
        for link in ["again.wale", "link.wale"] {
            assert!(fs::symlink_metadata(place.0.join(link)).unwrap().is_symlink());
        }
        assert_eq!((mode(&real), owner(&real)), (0o640, before));
        assert_eq!(fs::read(&real).unwrap(), TIDY);
        assert_eq!((place.count(), fs::read_dir(place.0.join("folder")).unwrap().count()), (3, 1));
    }

    /// The old file is never written to: who has it open reads it to its end.
    #[test]
    fn the_old_file_is_whole_until_the_new_one_is() {
        let place = Place::new("whole");
        let mut open = fs::File::open(place.file("scarf.wale", UNTIDY)).unwrap();
        assert_eq!(place.tidy(&["scarf.wale"]).0, Some(0));
        let mut old = Vec::new();
        open.read_to_end(&mut old).unwrap();
        assert_eq!((old, place.bytes("scarf.wale")), (UNTIDY.to_vec(), TIDY.to_vec()));
    }

    #[test]
    fn a_file_that_may_only_be_read_is_not_replaced() {
        let place = Place::new("readonly");
        let path = place.file("scarf.wale", UNTIDY);
        fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).unwrap();
        let (code, output, report) = place.tidy(&["scarf.wale"]);
        assert_eq!((code, output.as_str()), (Some(2), ""));
        assert!(report.contains("`scarf.wale` may be read only, so it is not tidied."), "{report}");
        assert_eq!((fs::read(&path).unwrap(), mode(&path), place.count()), (UNTIDY.to_vec(), 0o444, 1));
        // What is tidy already needs no writing.
        let path = place.file("done.wale", TIDY);
        fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).unwrap();
        assert_eq!(place.tidy(&["done.wale"]).0, Some(0));
    }

    /// A folder that nothing can be written in. Who may do everything is put into the place of somebody who may not.
    #[test]
    fn a_folder_that_may_only_be_read_gets_a_clear_word() {
        let place = Place::new("folder");
        let path = place.file("scarf.wale", UNTIDY);
        fs::set_permissions(&path, fs::Permissions::from_mode(0o666)).unwrap();
        fs::set_permissions(&place.0, fs::Permissions::from_mode(0o555)).unwrap();
        let wale = env!("CARGO_BIN_EXE_wale");
        let may_all = fs::write(place.0.join("other.wale"), b"").is_ok();
        let (code, _, report) = if may_all {
            fs::remove_file(place.0.join("other.wale")).unwrap();
            let nobody = ["--reuid=65534", "--regid=65534", "--clear-groups", wale, "tidy", "scarf.wale"];
            match place.command("setpriv", &nobody).output() {
                Ok(output) if output.status.code() == Some(2) || output.status.success() => told(&output),
                other => {
                    println!("not tried: this user may write everywhere, and cannot be made another ({other:?})");
                    return;
                }
            }
        } else {
            place.tidy(&["scarf.wale"])
        };
        fs::set_permissions(&place.0, fs::Permissions::from_mode(0o755)).unwrap();
        assert_eq!(code, Some(2), "{report}");
        let said = "wale: `scarf.wale` is not tidied, because nothing can be written in its folder";
        assert!(report.starts_with(said) && report.contains("It is as it was."), "{report}");
        assert_eq!((fs::read(&path).unwrap(), place.count()), (UNTIDY.to_vec(), 1));
    }

    /// The file that is written first needs a name too.
    #[test]
    fn a_name_may_be_as_long_as_names_can_be() {
        let place = Place::new("longname");
        let name = format!("{}.wale", "s".repeat(250));
        place.file(&name, UNTIDY);
        assert_eq!(place.tidy(&[&name]).0, Some(0));
        assert_eq!((place.bytes(&name), place.count()), (TIDY.to_vec(), 1));
    }
}

#[cfg(target_os = "linux")]
mod on_linux {
    use super::*;

    fn long() -> Vec<u8> {
        [UNTIDY, &b"\n# A long word of explanation.\n".repeat(4_000)].concat()
    }

    /// A limit on the size of files stands for a full disk.
    #[test]
    fn a_full_disk_does_not_cost_the_pattern() {
        let place = Place::new("limit");
        place.file("scarf.wale", &long());
        let (code, _, report) = place.tidy_after("trap '' XFSZ; ulimit -f 8", &["scarf.wale"]);
        assert_eq!(code, Some(2), "{report}");
        let said = "wale: `scarf.wale` cannot be tidied: ";
        assert!(report.starts_with(said) && report.contains("It is as it was. Make room on the disk"), "{report}");
        assert_eq!((place.bytes("scarf.wale"), place.count()), (long(), 1));
    }

    /// The same limit without a word of warning: the process is ended in the middle of writing.
    #[test]
    fn a_crash_does_not_cost_the_pattern() {
        let place = Place::new("crash");
        place.file("scarf.wale", &long());
        let (code, output, _) = place.tidy_after("ulimit -c 0; ulimit -f 8", &["scarf.wale"]);
        assert_eq!((code, output.as_str()), (None, ""), "it is ended by a signal");
        assert_eq!(place.bytes("scarf.wale"), long());
        // And the next time all goes well, whatever was left lying there.
        assert_eq!(place.tidy(&["scarf.wale"]).0, Some(0));
        assert!(place.bytes("scarf.wale").starts_with(&TIDY[..TIDY.len() - 2]));
    }

    /// A disk of 64 KiB that is nearly full, where there is the right to make one.
    #[test]
    fn a_truly_full_disk_does_not_cost_the_pattern() {
        let place = Place::new("disk");
        fs::create_dir(place.0.join("disk")).unwrap();
        place.file("scarf.wale", &long()[..40_000]);
        let script = "mount -t tmpfs -o size=64k none disk || exit 77; cp scarf.wale disk/; \"$0\" tidy disk/scarf.wale; \
                      code=$?; cmp scarf.wale disk/scarf.wale || exit 78; ls -A disk | wc -l; exit $code";
        let arguments = ["--mount", "sh", "-c", script, env!("CARGO_BIN_EXE_wale")];
        match place.command("unshare", &arguments).output() {
            Ok(output) if output.status.code() == Some(2) || output.status.code() == Some(78) => {
                let (code, output, report) = told(&output);
                assert_eq!((code, output.trim()), (Some(2), "1"), "{report}");
                assert!(report.contains("It is as it was. Make room on the disk"), "{report}");
            }
            Ok(output) if output.status.success() => panic!("there was room: {output:?}"),
            other => println!("not tried: no disk could be made for it ({other:?})"),
        }
    }
}
