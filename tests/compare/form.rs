//! The command as it is called, and the JSON form against its schema.

use super::{between, told};
use crate::common::{examples, folder, schema};
use crate::mutations::mutate;
use serde_json::Value;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use wale::compare::form::Verdict;

/// A folder of its own for one test, removed at the end.
struct Place(PathBuf);

impl Place {
    fn new(name: &str) -> Self {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("compare-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&path);
        fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    fn file(&self, name: &str, text: impl AsRef<[u8]>) -> &Self {
        fs::write(self.0.join(name), text).unwrap();
        self
    }

    fn run_with(&self, arguments: &[&str], input: &str) -> (Option<i32>, String, String) {
        let mut child = Command::new(env!("CARGO_BIN_EXE_wale"))
            .args(arguments)
            .current_dir(&self.0)
            .env_remove("NO_COLOR")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // A command that reads nothing may have gone.
        let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
        let output = child.wait_with_output().unwrap();
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
        (output.status.code(), text(output.stdout), text(output.stderr))
    }

    fn run(&self, arguments: &[&str]) -> (Option<i32>, String, String) {
        self.run_with(arguments, "")
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

const OLD: &str = "machine club { needles 82 each side }\nyarn slate {}\npiece \"Cloth\" {\n    in work front L9-R9\n    thread slate\n    stitch size 5\n    cast on wound front\n    rows 8 front knit\n    bind off front\n}\n";

fn new() -> String {
    OLD.replace("rows 8", "rows 9")
}

#[test]
fn the_exit_code_says_whether_it_is_the_same_knitting() {
    let place = Place::new("codes");
    place
        .file("old.wale", OLD)
        .file("new.wale", new())
        .file("noted.wale", OLD.replace("    rows", "    note \"Now.\"\n    rows"));
    let (code, output, report) = place.run(&["compare", "old.wale", "old.wale"]);
    assert_eq!((code, output.as_str(), report.as_str()), (Some(0), "The same knitting: old.wale and old.wale.\n", ""));
    let (code, output, _) = place.run(&["compare", "old.wale", "noted.wale"]);
    assert_eq!(code, Some(0));
    assert!(output.starts_with("The same knitting: old.wale and noted.wale. This is written otherwise:\n"), "{output}");
    let (code, output, _) = place.run(&["compare", "old.wale", "new.wale"]);
    assert_eq!(code, Some(1));
    assert!(
        output.contains("Row 1, line 8: 9 rows instead of 8.") && output.contains("9 rows instead of 8.\n"),
        "{output}"
    );
    let (code, output, _) = place.run_with(&["compare", "old.wale", "-"], &new());
    assert_eq!(code, Some(1));
    assert!(output.contains("from old.wale to standard input"), "{output}");
    assert_eq!(place.run_with(&["compare", "-", "new.wale"], &new()).0, Some(0));
}

#[test]
fn wrong_use_ends_with_2_and_says_what_to_do() {
    let place = Place::new("use");
    place.file("old.wale", OLD).file("sized.wale", format!("sizes short, long\n{OLD}")).file("bytes.wale", b"\xff\x00");
    for (arguments, said) in [
        (&["compare"][..], "required"),
        (&["compare", "old.wale"], "comparing takes two"),
        (&["compare", "old.wale", "old.wale", "old.wale"], "there are 3 patterns"),
        (&["compare", "old.wale", "gone.wale"], "there is no file `gone.wale`"),
        (&["compare", "gone.wale", "old.wale"], "there is no file `gone.wale`"),
        (&["compare", "old.wale", "bytes.wale"], "is not UTF-8 text"),
        (&["compare", "-", "-"], "standard input can be read once only"),
        (&["compare", "old.wale", "old.wale", "--size", "short"], "has no sizes"),
        (&["compare", "sized.wale", "sized.wale", "--size", "wide"], "Its sizes are short, long."),
        (&["compare", "old.wale", "old.wale", "--piece", "Hood"], "Their pieces are \"Cloth\"."),
        (&["compare", "--rows", "old.wale", "old.wale"], "--rows takes one pattern"),
        (&["compare", "--rows", "gone.wale"], "there is no file"),
        (&["compare", "--git", "old.wale", "old.wale"], "gives 7 arguments"),
        (&["compare", "--in", ".", "old.wale", "old.wale"], "--rows"),
    ] {
        let (code, output, report) = place.run(arguments);
        assert_eq!((code, output.as_str()), (Some(2), ""), "{arguments:?}");
        assert!(report.contains(said), "{arguments:?}: {report}");
    }
    let (code, output, _) = place.run(&["compare", "--help"]);
    assert_eq!(code, Some(0));
    for line in ["0  the same knitting", "1  something is knitted otherwise", "2  wrong use", "--git", "--rows"] {
        assert!(output.contains(line), "{line}");
    }
}

#[test]
fn one_size_and_one_piece_can_be_asked_for() {
    let place = Place::new("part");
    let sized = format!("sizes short, long\n{}", OLD.replace("rows 8", "rows 8 (10)"));
    let hood = "piece \"Hood\" {\n    in work front L9-R9\n    thread slate\n    cast on wound front\n    rows 4 front knit\n    bind off front\n}\n";
    place.file("old.wale", format!("{sized}{hood}"));
    place.file("new.wale", format!("{}{}", sized.replace("(10)", "(12)"), hood.replace("rows 4", "rows 6")));
    let changes = |arguments: &[&str]| {
        let (code, output, _) =
            place.run(&[&["compare", "old.wale", "new.wale", "--format", "json"], arguments].concat());
        let read: Value = serde_json::from_str(&output).unwrap();
        (code, read["knitting"].as_array().unwrap().len())
    };
    assert_eq!(changes(&[]), (Some(1), 2));
    assert_eq!(changes(&["--size", "short"]), (Some(1), 1));
    assert_eq!(changes(&["--piece", "Cloth"]), (Some(1), 1));
    assert_eq!(changes(&["--piece", "Cloth", "--size", "short"]), (Some(0), 0));
}

#[test]
fn colour_is_only_colour() {
    let place = Place::new("colour");
    place.file("old.wale", OLD).file("new.wale", OLD.replace("front knit", "front tuck"));
    let plain = place.run(&["compare", "old.wale", "new.wale"]).1;
    let coloured = place.run(&["--color", "always", "compare", "old.wale", "new.wale"]).1;
    assert!(coloured.contains("\u{1b}[38;5;196m") && coloured.contains("\u{1b}[38;5;28m") && !plain.contains('\u{1b}'));
    let mut bare = coloured;
    for code in ["[0m", "[1m", "[38;5;196m", "[38;5;28m"] {
        bare = bare.replace(&format!("\u{1b}{code}"), "");
    }
    assert_eq!(bare, plain);
}

#[test]
fn a_pattern_cannot_move_the_cursor() {
    let place = Place::new("escape");
    let spoilt = OLD.replace("\"Cloth\"", "\"Cl\u{1b}[2Joth\"").replace("rows 8", "note \"\u{202e}now\"\n    rows 9");
    place.file("old.wale", OLD.replace("\"Cloth\"", "\"Cl\u{1b}[2Joth\"")).file("new.wale", spoilt);
    for arguments in [&["compare", "old.wale", "new.wale"][..], &["compare", "--rows", "new.wale"]] {
        let output = place.run(arguments).1;
        assert!(!output.contains('\u{1b}') || arguments.contains(&"--rows"), "{output}");
    }
}

/// Against JSON Schema draft 2020-12 by the `jsonschema` crate, a general-purpose library.
#[test]
fn the_json_keeps_to_its_schema() {
    let validator = jsonschema::validator_for(&schema("compare")).unwrap();
    let mut tried = 0;
    for (name, text) in examples() {
        for mutant in mutate::mutants(&text).iter().step_by(40) {
            let written = serde_json::to_value(between(&text, &mutant.text)).unwrap();
            assert_eq!(written["comparison_version"], 1);
            let error =
                validator.iter_errors(&written).next().map(|error| format!("{error} at {}", error.instance_path()));
            assert_eq!(error, None, "{name}: {}", mutant.what);
            tried += 1;
        }
    }
    assert!(tried > 30, "{tried}");
    let place = Place::new("json");
    place.file("old.wale", OLD).file("new.wale", new());
    let (code, output, _) = place.run(&["compare", "--format", "json", "old.wale", "new.wale"]);
    let read: Value = serde_json::from_str(&output).unwrap();
    assert!(validator.is_valid(&read));
    assert_eq!((code, &read["verdict"]), (Some(1), &Value::from("other knitting")));
    assert_eq!(read["knitting"][0]["new"]["line"], 8);
    // The schema is strict: a field too many is refused.
    let mut more = read.clone();
    more["other"] = 1.into();
    assert!(!validator.is_valid(&more));
    assert_eq!(read["totals"][0]["what"], "rows");
}

/// Stitches that use the next one twice, so deep, and a piece that works the first of them. `last` is what the last one does.
fn deep(depth: usize, times: usize, last: &str) -> String {
    let mut text = "machine club { needles 82 each side }\nyarn slate {}\n".to_owned();
    for level in 0..depth {
        let next = level + 1;
        text += &format!(
            "stitch deep-{level} (count number) on front {{\n    work deep-{next} (count count + 1)\n    work deep-{next} (count count + 2)\n}}\n"
        );
    }
    text += &format!("stitch deep-{depth} (count number) on front {{\n    {last}\n}}\n");
    text +=
        "piece \"Net\" {\n    in work front L10-R10\n    thread slate\n    stitch size 5\n    cast on wound front\n";
    text += &format!("    work deep-0 (count 1) {times} times\n    bind off front\n}}\n");
    text
}

#[test]
fn where_very_much_differs_it_is_said_that_not_all_is_told() {
    let validator = jsonschema::validator_for(&schema("compare")).unwrap();
    for (times, last) in [
        (1, "row front slip on leftmost 1, knit elsewhere\n    row front knit"),
        (2, "row front slip on leftmost 1, knit elsewhere\n    row front knit"),
        (1, "row front tuck on leftmost 1, knit elsewhere"),
    ] {
        let one = deep(32, times, "rows count front knit");
        let other = deep(32, times, &format!("rows count front knit\n    {last}"));
        let begun = std::time::Instant::now();
        let comparison = between(&one, &other);
        // In the build for tests on a busy computer; without a limit it is minutes and gigabytes.
        assert!(begun.elapsed().as_secs() < 60, "{:?}", begun.elapsed());
        assert_eq!(comparison.verdict, Verdict::Other);
        assert!(!comparison.knitting.is_empty() && comparison.knitting.len() < 40_000, "{}", comparison.knitting.len());
        let [said] = comparison.left_out.as_slice() else { panic!("{:?}", comparison.left_out) };
        assert!(said.starts_with("The piece \"Net\" differs in more places than are looked at one by one."), "{said}");
        let text = told(&comparison);
        assert!(text.contains("The piece \"Net\" differs in more places"), "{text}");
        assert!(text.contains("In all:\n  Piece \"Net\": "), "{text}");
        assert!(validator.is_valid(&serde_json::to_value(&comparison).unwrap()));
        // Seen from the other side it is as much, and as deep it is the same as itself.
        let turned = between(&other, &one);
        assert_eq!((turned.knitting.len(), &turned.left_out), (comparison.knitting.len(), &comparison.left_out));
        let same = between(&other, &other);
        assert_eq!((same.verdict, same.left_out.len()), (Verdict::Same, 0));
    }
    // What has room is told without that sentence.
    let little =
        between(&deep(4, 1, "rows count front knit"), &deep(4, 1, "rows count front knit\n    row front knit"));
    assert!(little.verdict == Verdict::Other && little.left_out.is_empty());
    assert_eq!(serde_json::to_value(&little).unwrap().get("left_out"), None);
}

#[test]
fn files_that_examples_use_are_read() {
    let breakwater = folder().join("breakwater.wale");
    let path = breakwater.to_str().unwrap();
    let (code, output, _) = Place::new("uses").run(&["compare", path, path]);
    assert_eq!(code, Some(0), "{output}");
}
