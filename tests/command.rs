//! The `wale` command as it is called: exit codes, what is read and refused, and what goes to which stream.

use crate::common::place::{Place, told};
use std::fs;
use std::io::Write;

use std::process::{Command, Stdio};

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
        ("wide.wale", "`wide.wale` is text in UTF-16, and a pattern is plain text. Open it"),
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
    assert!(report.contains("standard input is longer than 4 MiB"), "{report}");
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
    assert_eq!(with_input(&["-"], CLEAN).1, output);
    assert_eq!(with_input(&["--format", "plain", "-"], CLEAN).1, "standard input: nothing to mend.\n");
    let (code, _, report) = with_input(&["check", "-"], b"row \xff");
    assert_eq!(code, Some(2));
    assert!(report.starts_with("wale: standard input is not UTF-8 text"), "{report}");
    let (code, _, report) = with_input(&["check", "-", "-"], CLEAN);
    assert_eq!(code, Some(2));
    assert!(report.contains("can be read once only"), "{report}");
}

#[test]
fn a_pattern_without_a_command_is_checked() {
    let place = Place::new("implied");
    place.file("breakwater.wale", CLEAN).file("lantern.wale", CLEAN).file("bare", CLEAN).file("check", CLEAN);
    for (arguments, same) in [
        (&["breakwater.wale"][..], &["check", "breakwater.wale"][..]),
        (&["breakwater.wale", "lantern.wale"], &["check", "breakwater.wale", "lantern.wale"]),
        (&["--color", "never", "breakwater.wale"], &["check", "breakwater.wale"]),
        (&["bare"], &["check", "bare"]),
        (&["gone.wale"], &["check", "gone.wale"]),
        (&["--format", "json", "breakwater.wale"], &["check", "--format", "json", "breakwater.wale"]),
    ] {
        let told = place.run(arguments);
        assert_eq!(told, place.run(same), "{arguments:?}");
        assert_eq!(told.0, Some(if arguments == ["gone.wale"] { 2 } else { 0 }), "{arguments:?}");
    }
    // A command is one although there is a file of its name, and a misspelt one is told with the nearest.
    assert!(place.run(&["check"]).2.contains("required arguments"));
    let (code, _, report) = place.run(&["shete", "breakwater.wale"]);
    assert_eq!(code, Some(2));
    assert!(report.contains("'shete'") && report.contains("'sheet'"), "{report}");
    let (code, output, report) = place.run(&["breakwater.wale", "sheet"]);
    assert_eq!((code, output.as_str()), (Some(2), ""));
    assert_eq!(report, "wale: the command comes before the pattern: `wale sheet breakwater.wale`.\n");
}

/// A hat in two sizes, with two pieces.
const HAT: &[u8] = b"machine club {\n    needles 68 each side\n}\nyarn slate {}\nsizes short, long\nlet height = 4 (6)\npiece \"Hat\" {\n    in work front L5-R5\n    thread slate\n    cast on wound front\n    rows height front knit\n    row front knit, loosened 1\n    bind off front\n}\npiece \"Band\" {\n    in work front L3-R3\n    thread slate\n    cast on wound front\n    row front knit\n    row front knit, loosened 1\n    bind off front\n}\n";

#[test]
fn row_and_file_come_in_either_order() {
    let place = Place::new("order");
    place.file("hat.wale", HAT);
    let part = ["--size", "long", "--piece", "Hat"];
    let at = |words: &[&str]| place.run(&[&["at"], words, &part].concat());
    let told = at(&["3", "hat.wale"]);
    assert_eq!(told.0, Some(0), "{}", told.2);
    assert!(told.1.contains("after row 3\n"), "{}", told.1);
    assert_eq!(at(&["hat.wale", "3"]), told);
    let (code, output, _) = at(&["0", "hat.wale"]);
    assert!(code == Some(0) && output.starts_with("Hat, size long: before row 1\n"), "{output}");
    assert!(output.contains("front bed         10 stitches") || output.contains("with a loop"), "{output}");
    assert!(output.contains("next row     line 11: rows height front knit\n"), "{output}");
    assert_eq!(at(&["hat.wale", "0"]).1, output);
    let (code, output, report) = at(&["hat.wale", "third"]);
    assert_eq!((code, output.as_str()), (Some(2), ""));
    assert!(report.starts_with("wale: `third` is no row: a row is a whole number"), "{report}");
}

#[test]
fn sizes_and_pieces_are_found_in_small_and_capital_letters() {
    let place = Place::new("letters");
    let capitals = String::from_utf8_lossy(HAT).replace("\"Band\"", "\"HAT\"");
    place.file("hat.wale", HAT).file("hats.wale", capitals.as_bytes());
    let exact = place.run(&["sheet", "hat.wale", "--size", "long", "--piece", "Hat"]);
    assert_eq!(exact.0, Some(0), "{}", exact.2);
    assert_eq!(place.run(&["sheet", "hat.wale", "--size", "Long", "--piece", "hat"]), exact);
    for command in ["at 2", "trace", "compare hat.wale"] {
        let words: Vec<&str> = command.split(' ').collect();
        let run = |size: &str, piece: &str| {
            place.run(&[words.as_slice(), &["hat.wale", "--size", size, "--piece", piece]].concat())
        };
        let exact = run("long", "Hat");
        assert_eq!((exact.0, run("LONG", "hAt")), (Some(0), exact.clone()), "{command}: {}", exact.2);
        let (code, _, report) = run("long", "cap");
        assert_eq!(code, Some(2), "{command}");
        assert!(report.contains("pieces are \"Hat\", \"Band\"."), "{command}: {report}");
    }
    assert_eq!(place.run(&["check", "hat.wale", "--size", "Short"]).0, Some(0));
    assert_eq!(place.run(&["check", "hat.wale", "--size", "wide"]).0, Some(2));
    // Where two fit, the one that is written so is meant, and without that none.
    let upper = place.run(&["sheet", "hats.wale", "--size", "long", "--piece", "HAT"]);
    assert!(upper.0 == Some(0) && upper.1 != exact.1, "{}", upper.2);
    let (code, output, report) = place.run(&["sheet", "hats.wale", "--size", "long", "--piece", "hat"]);
    assert_eq!((code, output.as_str()), (Some(2), ""));
    assert!(report.contains("\"hat\" may be each of the pieces \"Hat\", \"HAT\"."), "{report}");
}

#[test]
fn a_file_without_a_pattern_is_not_a_clean_one() {
    let place = Place::new("begun");
    place.file("empty.wale", b"").file("blank.wale", b" \n\t\r\n").file("words.wale", b"# A scarf.\n\n# Some day.");
    place.file("scarf.wale", CLEAN).file("stitches.wale", b"stitch rib on both {\n    row front knit, back knit\n}\n");
    for (name, holds) in
        [("empty.wale", "it is empty"), ("blank.wale", "it is empty"), ("words.wale", "it holds comments only")]
    {
        for arguments in [
            &["check", name][..],
            &["check", "--mend", name],
            &["check", "--format", "short", name],
            &["sheet", name],
            &["at", "1", name],
            &["trace", name],
            &["compare", "scarf.wale", name],
        ] {
            let (code, output, report) = place.run(arguments);
            assert_eq!((code, output.as_str()), (Some(2), ""), "{arguments:?}");
            assert!(report.starts_with(&format!("wale: there is no pattern in `{name}` yet: {holds}.")), "{report}");
        }
        assert_eq!(place.run(&["tidy", "--check", "empty.wale"]).0, Some(0));
    }
    let (code, output, _) = place.run(&["check", "empty.wale", "scarf.wale"]);
    assert_eq!((code, output.as_str()), (Some(2), "scarf.wale: nothing to mend\n"));
    assert_eq!(place.run(&["check", "stitches.wale"]).0, Some(0));
    // What it says begins a pattern: the quoted lines can be typed as they are.
    let said = place.run(&["check", "empty.wale"]).2;
    let typed: String = said.split('`').skip(3).step_by(2).map(|line| line.to_owned() + "\n").collect();
    assert_eq!(typed.lines().count(), 2, "{said}");
    let (code, output, _) = place.file("begun.wale", typed.as_bytes()).run(&["check", "begun.wale"]);
    assert!(code == Some(0) || output.contains("unused-name") && !output.contains("error"), "{output}");
}

#[test]
fn what_is_no_plain_text_is_named() {
    let place = Place::new("kinds");
    for (name, bytes, kind) in [
        ("rich.wale", &b"{\\rtf1\\ansi pattern \\ldblquote Scarf}"[..], "rich text (RTF)"),
        ("packed.wale", b"PK\x03\x04\x14\0\x06\0", "a packed file (zip)"),
        ("print.wale", b"%PDF-1.7\n%\xe2\xe3", "a document for printing (PDF)"),
        ("page.wale", b"<!DOCTYPE html>\n<html><body>row front knit</body></html>", "a web page (HTML)"),
        ("wide.wale", b"p\0a\0t\0t\0e\0r\0n\0", "text in UTF-16"),
    ] {
        place.file(name, bytes);
        for command in [&["check"][..], &["check", "--mend"], &["tidy"], &["sheet"]] {
            let (code, output, report) = place.run(&[command, &[name]].concat());
            assert_eq!((code, output.as_str()), (Some(2), ""), "{command:?} {name}");
            assert!(report.starts_with(&format!("wale: `{name}` is {kind}")), "{report}");
            assert!(report.contains("save it as plain text (UTF-8)"), "{report}");
        }
        assert_eq!(fs::read(place.0.join(name)).expect("it is there"), bytes);
    }
}

#[test]
fn lines_keep_to_the_width_of_a_terminal() {
    let place = Place::new("width");
    place.file("scarf.wale", SLIPS).file("hat.wale", HAT);
    // A terminal is made by `script`, where the system has it; what it prints ends in carriage returns.
    let on_terminal = |columns: usize, words: &str| -> Option<String> {
        let line = format!("stty rows 24 cols {columns} && '{}' {words}", env!("CARGO_BIN_EXE_wale"));
        let output = Command::new("script")
            .args(["-qec", &line, "/dev/null"])
            .current_dir(&place.0)
            .stdin(Stdio::null())
            .output();
        output.ok().map(|output| String::from_utf8_lossy(&output.stdout).replace('\r', ""))
    };
    for words in
        ["--color never scarf.wale", "explain", "explain lost-stitch", "--color never compare scarf.wale hat.wale"]
    {
        for (columns, most) in [(20, 40), (57, 57), (80, 80), (250, 100)] {
            let Some(told) = on_terminal(columns, words) else { return };
            let widest = told.lines().map(|line| line.chars().count()).max().unwrap_or(0);
            assert!(widest > most - 20 && widest <= most, "{words}: {widest} in {columns} columns:\n{told}");
        }
    }
    // Where there is no terminal it is as wide as can be.
    let widest = |words: &[&str]| place.run(words).1.lines().map(|line| line.chars().count()).max().unwrap_or(0);
    assert!((91..=100).contains(&widest(&["explain"])));
}

/// A pattern with a warning.
const FLOAT: &[u8] = b"machine club {\n    needles 68 each side\n    longest float 3 needles\n}\nyarn slate {}\npiece \"Cuff\" {\n    in work front L9-R9\n    thread slate\n    cast on wound front\n    row front knit\n    row front knit on every 9, slip elsewhere\n    row front knit, loosened 1\n    bind off front\n}\n";

#[test]
fn colours_can_be_read_on_any_ground() {
    let place = Place::new("ink");
    place.file("scarf.wale", SLIPS).file("spare.wale", FLOAT);
    let (_, output, _) = place.run(&["--color", "always", "scarf.wale", "spare.wale"]);
    let codes: Vec<&str> =
        output.split("\u{1b}[").skip(1).filter_map(|rest| rest.split_once('m')).map(|(code, _)| code).collect();
    for code in ["1;38;5;196", "1;38;5;163", "1", "0"] {
        assert!(codes.contains(&code), "{code}: {codes:?}");
    }
    assert!(codes.iter().all(|code| ["1;38;5;196", "1;38;5;163", "1", "0"].contains(code)), "{codes:?}");
}

#[test]
fn plain_says_everything_in_sentences() {
    let place = Place::new("plain");
    let scarf = String::from_utf8_lossy(HAT).replace(
        "row front knit, loosened 1\n    bind off front\n}\npiece",
        "row front knit, loosened 1\n    gaiting opposite\n    transfer front to back\n    bind off back\n}\npiece",
    );
    place.file("hat.wale", scarf.as_bytes());
    let (code, output, report) = place.run(&["check", "--format", "plain", "hat.wale"]);
    assert_eq!((code, report.as_str()), (Some(1), ""), "{output}");
    let at = 1 + scarf.lines().position(|line| line.contains("transfer")).expect("it is there");
    assert!(output.starts_with(&format!("Error in line {at} of hat.wale: ")), "{output}");
    for begins in [
        "The line: transfer front to back\n",
        "Where: in piece \"Hat\", row ",
        "Why: ",
        "The beds: around front ",
        "What to do: ",
        "Rule: lost-stitch\n",
    ] {
        assert!(output.contains(&format!("\n{begins}")), "{begins}: {output}");
    }
    assert!(output.contains("with 1 loop") || output.contains("in work and empty"), "{output}");
    assert!(output.ends_with(" in hat.wale.\n"), "{output}");
    assert!(!output.contains(['│', '┌', '^', '─', '=']), "{output}");
    let (_, short, _) = place.run(&["check", "--format", "short", "hat.wale"]);
    let first = short.lines().next().expect("there is a finding");
    assert!(first.starts_with(&format!("hat.wale:{at}:5: error: ")) && first.ends_with("` [lost-stitch]"), "{first}");
    assert!(first.contains("; bring the receiving needles into work first: `in work back"), "{first}");
    for format in ["plain", "short"] {
        assert!(place.run(&["help", "check"]).1.contains(&format!("- {format}:")));
        assert!(
            place.run(&["completions", "zsh"]).1.contains(format) && place.run(&["manual", "check"]).1.contains(format)
        );
    }
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

// ---- mending --------------------------------------------------------------------------------------------------------

/// Two slips of which it is certain what was meant, and a name that nothing has.
const SLIPS: &[u8] =
    b"pattern \xe2\x80\x9cBreakwater\xe2\x80\x9d\r\n\r\nsizse short, long\r\n# Stays.  \r\nlet width = depth\r\n";
const MENDED: &[u8] = b"pattern \"Breakwater\"\r\n\r\nsizes short, long\r\n# Stays.  \r\nlet width = depth\r\n";

#[test]
fn mending_changes_the_file_and_shows_how() {
    let place = Place::new("mend");
    place.file("scarf.wale", SLIPS).file("clean.wale", CLEAN);
    let (code, output, report) = place.run(&["check", "--mend", "scarf.wale"]);
    assert_eq!((code, report.as_str()), (Some(1), ""));
    let shown = "--- scarf.wale\n+++ scarf.wale, mended\n@@ -1,5 +1,5 @@\n-pattern \u{201c}Breakwater\u{201d}\n+pattern \"Breakwater\"\n \n-sizse short, long\n+sizes short, long\n # Stays.  \n let width = depth\n\nmended: 2 findings in scarf.wale\n\nerror[unknown-name]";
    assert!(output.starts_with(shown), "{output}");
    assert!(output.ends_with("\n1 error in scarf.wale\n"), "{output}");
    assert_eq!(fs::read(place.0.join("scarf.wale")).expect("it is there"), MENDED);
    // Nothing more the second time, nothing in a file that is clean, and no other file is left behind.
    let (code, output, _) = place.run(&["check", "--mend", "scarf.wale", "clean.wale"]);
    assert_eq!(code, Some(1));
    assert!(output.starts_with("error[unknown-name]"), "{output}");
    let (code, output, _) = place.run(&["check", "--mend", "clean.wale"]);
    assert_eq!((code, output.as_str()), (Some(0), "clean.wale: nothing to mend\n"));
    assert_eq!(fs::read_dir(&place.0).expect("it is there").count(), 2);
}

#[test]
fn what_was_changed_stays_out_of_json() {
    let place = Place::new("mendjson");
    place.file("scarf.wale", SLIPS);
    let (_, output, _) = place.run(&["check", "--format", "json", "scarf.wale"]);
    let read: serde_json::Value = serde_json::from_str(&output).expect("it is JSON");
    let fix = &read["findings"][1]["fix"];
    assert_eq!((&fix["title"], &fix["safe"]), (&"write `sizes`".into(), &true.into()));
    let edit = &fix["edits"][0];
    assert_eq!((&edit["file"], &edit["text"]), (&"scarf.wale".into(), &"sizes".into()));
    assert_eq!(
        (&edit["start"]["line"], &edit["start"]["column"], &edit["end"]["column"]),
        (&3.into(), &1.into(), &6.into())
    );
    let (code, output, report) = place.run(&["check", "--mend", "--format", "json", "scarf.wale"]);
    let read: serde_json::Value = serde_json::from_str(&output).expect("it is JSON");
    assert_eq!((code, &read["errors"]), (Some(1), &1.into()));
    assert!(read["findings"][0]["fix"].is_null());
    assert!(report.contains("+sizes short, long"), "{report}");
}

#[test]
fn standard_input_is_not_mended() {
    let place = Place::new("mendinput");
    let (code, output, report) = place.run(&["check", "--mend", "-"]);
    assert_eq!((code, output.as_str()), (Some(2), ""));
    assert!(report.starts_with("wale: standard input cannot be mended"), "{report}");
}

#[test]
fn used_files_are_not_changed() {
    let place = Place::new("menduse");
    place
        .file("scarf.wale", b"use \"mooring.wale\"\n")
        .file("mooring.wale", b"machine mooring {\n    needels 68 each side\n}\n");
    let (code, output, _) = place.run(&["check", "--mend", "scarf.wale"]);
    assert_eq!(code, Some(1));
    assert!(output.contains("can be mended: write `needles` (wale check --mend mooring.wale)"), "{output}");
    assert!(!output.contains("mended: 1"), "{output}");
    let (code, _, _) = place.run(&["check", "--mend", "mooring.wale", "scarf.wale"]);
    assert_eq!(code, Some(0));
}

#[cfg(unix)]
#[test]
fn permissions_and_links_stay() {
    use std::os::unix::fs::PermissionsExt;
    let place = Place::new("mendlink");
    place.file("scarf.wale", SLIPS);
    let real = place.0.join("scarf.wale");
    fs::set_permissions(&real, fs::Permissions::from_mode(0o640)).expect("it is ours");
    std::os::unix::fs::symlink("scarf.wale", place.0.join("link.wale")).expect("a link for the test");
    let (code, _, _) = place.run(&["check", "--mend", "link.wale"]);
    assert_eq!(code, Some(1));
    assert!(fs::symlink_metadata(place.0.join("link.wale")).expect("it is there").is_symlink());
    assert_eq!(fs::metadata(&real).expect("it is there").permissions().mode() & 0o777, 0o640);
    assert_eq!(fs::read(&real).expect("it is there"), MENDED);
}

#[cfg(unix)]
#[test]
fn a_file_that_may_only_be_read_is_not_replaced() {
    use std::os::unix::fs::PermissionsExt;
    let place = Place::new("mendread");
    place.file("scarf.wale", SLIPS);
    let path = place.0.join("scarf.wale");
    fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).expect("it is ours");
    let (code, _, report) = place.run(&["check", "--mend", "scarf.wale"]);
    assert_eq!(code, Some(2));
    assert!(report.contains("`scarf.wale` may be read only"), "{report}");
    assert_eq!(fs::read(&path).expect("it is there"), SLIPS);
}

/// No room on the disk: a limit on the size of files stands for it.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_does_not_cost_the_pattern() {
    let place = Place::new("mendfull");
    let long = [SLIPS, "# A long word of explanation.\n".repeat(4_000).as_bytes()].concat();
    place.file("scarf.wale", &long);
    let script = "trap '' XFSZ; ulimit -f 8; exec \"$0\" check --mend scarf.wale";
    let output = Command::new("sh")
        .args(["-c", script, env!("CARGO_BIN_EXE_wale")])
        .current_dir(&place.0)
        .output()
        .expect("the command runs");
    let (code, _, report) = told(&output);
    assert_eq!(code, Some(2), "{report}");
    assert!(
        report.starts_with("wale: `scarf.wale` cannot be mended: ") && report.contains("It is as it was"),
        "{report}"
    );
    assert_eq!(fs::read(place.0.join("scarf.wale")).expect("it is there"), long);
    assert_eq!(fs::read_dir(&place.0).expect("it is there").count(), 1);
}
