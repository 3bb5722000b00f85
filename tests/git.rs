//! What is offered for git, with the git of this computer, in repositories made for the test: the comparison instead of a
//! difference of lines, rows as text, the heads of hunks, merging, and the hook.
#![allow(clippy::print_stdout)]

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

const WALE: &str = env!("CARGO_BIN_EXE_wale");

const SCARF: &str = r#"pattern "Breakwater scarf"

machine club {
    needles 82 each side
}
yarn slate {}

stitch half-cardigan on both {
    row front knit, back knit
    row front knit, back tuck
}

piece "Scarf" {
    in work front L30-R30, back L30-R29
    thread slate
    stitch size 3
    cast on zigzag
    tubular 4 rows
    stitch size 5
    work half-cardigan 264 times
    row both knit
    rows 6 both knit
    onto waste yarn both
}
"#;

/// A repository of its own: no settings of the user or the computer reach it.
struct Repository(PathBuf);

impl Repository {
    fn new(name: &str) -> Self {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("git-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&path);
        fs::create_dir_all(path.join("home")).expect("a folder for the test");
        fs::create_dir_all(path.join("bollard room")).expect("a folder for the test");
        let repository = Self(path);
        repository.git(&["init", "--quiet", "--initial-branch=main", "."]);
        repository.git(&["config", "user.name", "Bollard Room"]);
        repository.git(&["config", "user.email", "bollard-room@example.invalid"]);
        repository.git(&["config", "core.pager", "cat"]);
        repository
    }

    /// With the attributes and the settings that the page in `editors/git` gives.
    fn set_up(name: &str, settings: &[&str]) -> Self {
        let repository = Self::new(name);
        repository.write(".gitattributes", &shipped("gitattributes"));
        let page = shipped("README.md");
        for setting in settings {
            let line = page
                .lines()
                .find(|line| line.starts_with(&format!("git config {setting} ")))
                .unwrap_or_else(|| panic!("the page sets {setting}"));
            // As a shell reads it, with the `wale` that is tested.
            let line = line.replace("\"wale ", &format!("\"'{WALE}' "));
            let output = repository.command("sh").args(["-c", &line]).output().expect("there is a shell");
            assert!(output.status.success(), "{line}: {}", String::from_utf8_lossy(&output.stderr));
        }
        repository
    }

    fn path(&self) -> PathBuf {
        self.0.join("bollard room")
    }

    fn command(&self, program: &str) -> Command {
        let mut command = Command::new(program);
        command
            .current_dir(self.path())
            .env_clear()
            .env("PATH", std::env::var_os("PATH").unwrap_or_default())
            .env("HOME", self.0.join("home"))
            .env("XDG_CONFIG_HOME", self.0.join("home"))
            .env("GIT_CONFIG_GLOBAL", self.0.join("home/gitconfig"))
            .env("GIT_CONFIG_NOSYSTEM", "1")
            .env("GIT_TERMINAL_PROMPT", "0")
            .env("LC_ALL", "C")
            .env("WALE", WALE)
            .stdin(Stdio::null());
        command
    }

    fn tried(&self, arguments: &[&str]) -> Output {
        self.command("git").args(arguments).output().unwrap_or_else(|error| {
            panic!("git cannot be run ({error}). These tests need git; install it, for example the package `git`.")
        })
    }

    /// What git says; it must not fail.
    fn git(&self, arguments: &[&str]) -> String {
        let output = self.tried(arguments);
        let said = String::from_utf8_lossy(&output.stdout).into_owned();
        assert!(output.status.success(), "git {arguments:?}: {said}{}", String::from_utf8_lossy(&output.stderr));
        said
    }

    fn write(&self, name: &str, text: &str) {
        let path = self.path().join(name);
        fs::create_dir_all(path.parent().expect("it is in a folder")).expect("a folder for the test");
        fs::write(path, text).expect("a file for the test");
    }

    fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path().join(name)).expect("it is there")
    }

    fn commit(&self, name: &str, text: &str, message: &str) {
        self.write(name, text);
        self.git(&["add", "--all"]);
        self.git(&["commit", "--quiet", "--no-verify", "-m", message]);
    }

    fn wale(&self, arguments: &[&str]) -> (Option<i32>, String) {
        let output = self.command(WALE).args(arguments).output().expect("the command runs");
        (output.status.code(), String::from_utf8_lossy(&output.stdout).into_owned())
    }
}

impl Drop for Repository {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn shipped(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("editors/git").join(name);
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// With another row of the stitch.
fn slipped() -> String {
    SCARF.replace("back tuck", "back slip")
}

#[test]
fn git_diff_shows_what_is_knitted_otherwise() {
    let repository = Repository::set_up("driver", &["diff.wale.command"]);
    repository.commit("scarf.wale", SCARF, "The scarf");
    repository.write("scarf.wale", &slipped());
    let said = repository.git(&["diff"]);
    assert!(said.contains("wale compare: scarf.wale\n1 change in what is knitted"), "{said}");
    assert!(said.contains("in `half-cardigan`, worked 264 times: the back bed slips instead of tucking."), "{said}");
    assert!(!said.contains("@@"), "git goes on with no difference of lines: {said}");
    // Comments are no change, in a file whose name has a blank as well.
    repository.commit("night watch.wale", SCARF, "Another");
    repository.commit("-odd.wale", SCARF, "A name that begins like an option");
    repository.write("-odd.wale", &slipped());
    assert!(repository.git(&["diff", "--", "-odd.wale"]).contains("wale compare: -odd.wale\n1 change"));
    repository.write("night watch.wale", &format!("# A comment.\n{SCARF}"));
    let said = repository.git(&["diff", "--", "night watch.wale"]);
    assert!(said.contains("The same knitting"), "{said}");
}

#[test]
fn files_that_are_new_gone_renamed_or_unmerged_are_told_of() {
    let repository = Repository::set_up("sides", &["diff.wale.command"]);
    repository.commit("scarf.wale", SCARF, "The scarf");
    repository.commit("towel.wale", &SCARF.replace("Scarf", "Towel"), "The towel");
    repository.git(&["rm", "--quiet", "scarf.wale"]);
    repository.git(&["mv", "towel.wale", "cloth.wale"]);
    repository.write("cloth.wale", &SCARF.replace("Scarf", "Towel").replace("rows 6", "rows 8"));
    repository.write("new.wale", SCARF.replace("Scarf", "Shawl").as_str());
    repository.git(&["add", "--all"]);
    let said = repository.git(&["diff", "--cached", "--no-renames"]);
    assert!(said.contains("wale compare: scarf.wale\nThe pattern is gone. Its piece is \"Scarf\"."), "{said}");
    assert!(said.contains("wale compare: new.wale\nA new pattern. Its piece is \"Shawl\"."), "{said}");
    let said = repository.git(&["diff", "--cached", "-M30%", "--", "towel.wale", "cloth.wale"]);
    assert!(said.contains("wale compare: cloth.wale, which was towel.wale"), "{said}");
    assert!(said.contains("8 rows instead of 6"), "{said}");
    // git hands over a path alone while it is not merged.
    let (code, said) = repository.wale(&["compare", "--git", "scarf.wale"]);
    assert_eq!(code, Some(0));
    assert!(said.starts_with("scarf.wale is not merged yet."), "{said}");
}

#[test]
fn the_driver_never_stops_git() {
    let repository = Repository::set_up("never-stops", &["diff.wale.command"]);
    repository.commit("scarf.wale", SCARF, "The scarf");
    for bad in ["<<<<<<< ours\nrow\n", "\u{0}\u{1}", "", "piece {{{{"] {
        repository.write("scarf.wale", bad);
        repository.git(&["diff"]);
    }
    fs::write(repository.path().join("scarf.wale"), b"\xff\xfe\xfd").expect("a file for the test");
    assert!(repository.git(&["diff"]).contains("UTF-16"), "{}", repository.git(&["diff"]));
    let (code, _) = repository.wale(&["compare", "--git", "a", "b"]);
    assert_eq!(code, Some(2), "two arguments are not from git");
}

#[test]
fn rows_are_what_git_compares() {
    let repository = Repository::set_up("rows", &["diff.wale.textconv", "diff.wale.xfuncname"]);
    repository.commit("scarf.wale", SCARF, "The scarf");
    repository.commit("scarf.wale", &slipped(), "Slip instead");
    let said = repository.git(&["log", "-p", "-1"]);
    assert!(
        said.contains("-        Row. Front: knit. Back: tuck.\n+        Row. Front: knit. Back: slip.\n"),
        "{said}"
    );
    assert!(said.contains("@@ piece \"Scarf\", make 1, on club"), "the hunk names the piece: {said}");
    // A comment alone is no difference of rows.
    repository.write("scarf.wale", &format!("# A comment.\n{}", slipped()));
    assert!(!repository.git(&["diff"]).contains("@@"));
    // A pattern with errors is compared as it is written.
    repository.write("scarf.wale", &slipped().replace("thread slate", "thread granite"));
    let said = repository.git(&["diff"]);
    assert!(said.contains("+    thread granite\n"), "{said}");
    assert_eq!(repository.wale(&["compare", "--rows", "scarf.wale"]), (Some(0), repository.read("scarf.wale")));
}

/// git copies an old version into a folder of its own, where the files that it uses are not.
#[test]
fn used_files_are_found_where_the_page_says() {
    let repository = Repository::set_up("uses", &["diff.wale.textconv", "diff.wale.command"]);
    let apart = SCARF.replace("machine club {\n    needles 82 each side\n}\n", "use \"machines/club.wale\"\n");
    repository.write("machines/club.wale", "machine club {\n    needles 82 each side\n}\n");
    repository.commit("scarf.wale", &apart, "The scarf");
    repository.write("scarf.wale", &apart.replace("back tuck", "back slip"));
    let rows = repository.git(&["diff", "--no-ext-diff"]);
    assert!(rows.contains("-        Row. Front: knit. Back: tuck.\n+"), "{rows}");
    let compared = repository.git(&["diff"]);
    assert!(compared.contains("the back bed slips instead of tucking") && !compared.contains("error"), "{compared}");
    // In a folder of their own, `--in` names it.
    repository.write("patterns/machines/club.wale", "machine club {\n    needles 82 each side\n}\n");
    repository.git(&["rm", "-r", "--quiet", "-f", "machines"]);
    repository.commit("patterns/shawl.wale", &apart, "The shawl");
    repository.write("patterns/shawl.wale", &apart.replace("back tuck", "back slip"));
    let command = format!("'{WALE}' compare --rows --in patterns");
    repository.git(&["config", "diff.wale.textconv", &command]);
    let rows = repository.git(&["diff", "--no-ext-diff", "--", "patterns/shawl.wale"]);
    assert!(rows.contains("-        Row. Front: knit. Back: tuck.\n+"), "{rows}");
}

#[test]
fn hunks_are_headed_by_the_piece_or_the_stitch() {
    let repository = Repository::set_up("heads", &["diff.wale.xfuncname"]);
    repository.commit("scarf.wale", SCARF, "The scarf");
    let heads = |old: &str, new: &str| {
        repository.write("scarf.wale", &SCARF.replace(old, new));
        let said = repository.git(&["diff", "--no-textconv", "-U0"]);
        let head = |line: &str| line.strip_prefix("@@ ")?.split_once("@@ ").map(|(_, head)| head.to_owned());
        said.lines().filter_map(head).collect::<Vec<_>>()
    };
    assert_eq!(heads("rows 6", "rows 8"), ["piece \"Scarf\""]);
    assert_eq!(heads("back tuck", "back slip"), ["stitch half-cardigan on both"]);
    assert_eq!(heads("rows 6 both knit", "rows 6 both knit\n    rows 6 both knit"), ["piece \"Scarf\""]);
    assert_eq!(heads("needles 82", "needles 80"), ["machine club"]);
}

#[test]
fn two_edits_of_different_rows_are_merged_and_the_result_is_clean() {
    let repository = Repository::new("merge");
    repository.commit("scarf.wale", SCARF, "The scarf");
    repository.git(&["checkout", "--quiet", "-b", "longer"]);
    repository.commit("scarf.wale", &SCARF.replace("rows 6 both knit", "rows 8 both knit"), "Longer");
    repository.git(&["checkout", "--quiet", "main"]);
    repository.commit("scarf.wale", &slipped(), "Slip instead");
    repository.git(&["merge", "--quiet", "-m", "Both", "longer"]);
    let merged = repository.read("scarf.wale");
    assert!(merged.contains("rows 8 both knit") && merged.contains("back slip"), "{merged}");
    let (code, said) = repository.wale(&["check", "scarf.wale"]);
    assert_eq!((code, said.as_str()), (Some(0), "scarf.wale: nothing to mend\n"));
}

#[test]
fn two_edits_of_one_row_are_left_to_the_knitter_at_their_line() {
    let repository = Repository::set_up("conflict", &["diff.wale.command"]);
    repository.commit("scarf.wale", SCARF, "The scarf");
    repository.git(&["checkout", "--quiet", "-b", "longer"]);
    repository.commit("scarf.wale", &SCARF.replace("rows 6 both knit", "rows 8 both knit"), "Longer");
    repository.git(&["checkout", "--quiet", "main"]);
    repository.commit("scarf.wale", &SCARF.replace("rows 6 both knit", "rows 4 both knit"), "Shorter");
    let output = repository.tried(&["merge", "-m", "Both", "longer"]);
    assert!(!output.status.success(), "git leaves it to people");
    let at = 1 + repository.read("scarf.wale").lines().position(|line| line.starts_with("<<<<<<<")).expect("a marker");
    let (code, said) = repository.wale(&["check", "--format", "short", "scarf.wale"]);
    assert_eq!(code, Some(1));
    let marker = said.lines().find(|line| line.contains("[merge-marker]")).unwrap_or_else(|| panic!("{said}"));
    assert!(marker.starts_with(&format!("scarf.wale:{at}:")), "{marker}");
    // git shows both sides of what is not merged by itself, and is not stopped.
    assert!(repository.git(&["diff"]).contains("rows 8 both knit"));
}

/// A repository with the hook as it is shipped.
fn with_hook(name: &str) -> Repository {
    let repository = Repository::new(name);
    let hook = repository.path().join(".git/hooks/pre-commit");
    fs::create_dir_all(hook.parent().expect("it is in a folder")).expect("a folder for the hook");
    fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join("editors/git/pre-commit"), &hook).expect("the hook is there");
    repository
}

fn commits(repository: &Repository) -> (bool, String) {
    let output = repository.tried(&["commit", "--quiet", "-m", "Now"]);
    (output.status.success(), String::from_utf8_lossy(&output.stderr).into_owned())
}

#[test]
fn the_hook_checks_what_is_staged_and_not_what_lies_in_the_folder() {
    let repository = with_hook("hook");
    let wrong = SCARF.replace("thread slate", "thread granite");
    // Staged with an error, mended in the folder only.
    repository.write("scarf.wale", &wrong);
    repository.git(&["add", "scarf.wale"]);
    repository.write("scarf.wale", SCARF);
    let (done, said) = commits(&repository);
    assert!(!done, "an error is not committed");
    assert!(said.contains("scarf.wale:15:12: error: ") && said.contains("[unknown-name]"), "{said}");
    // Staged right, spoilt in the folder only.
    repository.git(&["add", "scarf.wale"]);
    repository.write("scarf.wale", &wrong);
    let (done, said) = commits(&repository);
    assert!(!said.contains("error:"), "{said}");
    assert!(!said.contains("[unknown-name]"), "{said}");
    assert!(done, "{said}");
}

#[test]
fn the_hook_finds_used_files_and_names_with_blanks() {
    let repository = with_hook("hook-names");
    let apart = SCARF.replace("machine club {\n    needles 82 each side\n}\n", "use \"machines/club.wale\"\n");
    repository.write("patterns/machines/club.wale", "machine club {\n    needles 82 each side\n}\n");
    repository.write("patterns/night watch.wale", &apart);
    repository.git(&["add", "--all"]);
    let (done, said) = commits(&repository);
    assert!(!said.contains("unreadable-file") && !said.contains("not found"), "{said}");
    assert!(done, "{said}");
    // What is not a pattern is not looked at.
    repository.git(&["reset", "--quiet"]);
    repository.write("words.txt", "row row row\n");
    repository.git(&["add", "words.txt"]);
    let (done, said) = commits(&repository);
    assert!(done, "{said}");
}

#[test]
fn the_hook_refuses_what_is_not_tidy() {
    let repository = with_hook("hook-tidy");
    repository.write("scarf.wale", &SCARF.replace("    thread slate", "  thread   slate"));
    repository.git(&["add", "--all"]);
    let (done, said) = commits(&repository);
    assert!(!done && said.contains("scarf.wale is not tidy"), "{said}");
    repository.write("scarf.wale", SCARF);
    repository.git(&["add", "--all"]);
    let (done, said) = commits(&repository);
    assert!(done, "{said}");
}

#[test]
fn the_hook_says_when_there_is_no_wale() {
    let repository = with_hook("hook-none");
    repository.write("scarf.wale", SCARF);
    repository.git(&["add", "--all"]);
    let output = repository.command("git").args(["commit", "-m", "Now"]).env("WALE", "no-such-wale").output();
    let output = output.expect("git runs");
    assert!(!output.status.success());
    assert!(String::from_utf8_lossy(&output.stderr).contains("there is no command `no-such-wale`"));
    // Who commits something else is not asked for it.
    repository.git(&["reset", "--quiet"]);
    repository.write("words.txt", "row row row\n");
    repository.git(&["add", "words.txt"]);
    let output = repository.command("git").args(["commit", "-m", "Now"]).env("WALE", "no-such-wale").output();
    assert!(output.expect("git runs").status.success());
}

/// The text of the rows does not hang on anything but the pattern.
#[test]
fn rows_are_the_same_every_time_and_from_everywhere() {
    let repository = Repository::new("again");
    repository.write("scarf.wale", SCARF);
    let (code, rows) = repository.wale(&["compare", "--rows", "scarf.wale"]);
    assert_eq!(code, Some(0));
    assert_eq!(repository.wale(&["compare", "--rows", "./scarf.wale"]).1, rows);
    let mut child = repository
        .command(WALE)
        .args(["compare", "--rows", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the command runs");
    child.stdin.take().expect("it has an input").write_all(SCARF.as_bytes()).expect("it reads");
    let output = child.wait_with_output().expect("it ends");
    assert_eq!(String::from_utf8_lossy(&output.stdout), rows);
    assert!(rows.lines().filter(|line| line.trim_start().starts_with("Row.")).count() >= 5, "{rows}");
}
