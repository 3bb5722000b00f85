//! What nobody means well: files that are none, texts that never end, numbers past all limits, streams that break.
//! Nothing panics, nothing hangs, and nothing goes raw to the terminal.
#![allow(missing_docs, clippy::unwrap_used)]

use crate::common::{Examples, examples, random, sound};
use std::fmt::Write as _;
use std::fs;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::time::{Duration, Instant};
use wale::catalogue::Severity;
use wale::source::{Library, NoLibrary, Sources};

// ---- texts ----------------------------------------------------------------------------------------------------------

/// Checks a text, with all that must hold of the findings, and gives the rules found.
fn rules(text: &str) -> Vec<&'static str> {
    let checked = sound::check_with("hostile.wale", text, &Examples).unwrap_or_else(|error| {
        panic!("{error}\n{}", text.chars().take(2000).collect::<String>());
    });
    checked.findings.iter().map(|finding| finding.rule.name).collect()
}

const MACHINE: &str = "machine club {\n    needles 20 each side\n    pitch 4.7 mm\n}\nyarn slate {}\n";
const START: &str = "    in work front L8-R8, back L8-R8\n    thread slate\n    cast on zigzag\n";

/// A piece of 16 stitches on each bed, with these lines in it.
pub(crate) fn piece(lines: &str) -> String {
    format!("{MACHINE}piece \"Scarf\" {{\n{START}{lines}\n    bind off both\n}}\n")
}

#[test]
fn a_number_may_be_anything_wherever_one_can_stand() {
    let numbers = [
        "0",
        "1",
        "-1",
        "1000000",
        "1000000000000000000",
        "10000000000000000000000000000000000000000",
        "0.0000001",
        "1.00000000000000000000000000000000000000001",
        "1 (1, 1000000000000000000)",
    ];
    let top = [
        "machine wide { needles N each side }",
        "machine wide { pitch N mm }",
        "machine wide { racking back bed, N left to N right }",
        "machine wide { most tucks N }",
        "machine wide { most adjacent tucks N }",
        "machine wide { longest float N mm }",
        "machine wide { longest float N needles }",
        "machine wide { racking slack N }",
        "machine wide { racking step N }",
        "machine wide { stitch sizes N to N }",
        "yarn wool { count N/N Nm }",
        "yarn wool { count N tex }",
        "yarn wool { ball N g }",
        "yarn wool { strands N }",
        "gauge plain { N stitches and N rows in N cm }",
        "let wide = N",
        "let wide = N cm * N cm / N",
        "let wide = N rows - N rows",
        "let wide = every N over N each side",
        "let wide = leftmost N",
        "let wide = \"|.\" over LN-RN",
        "piece \"Many\", make N on club {}",
    ];
    let inside = [
        "in work front LN-RN",
        "in work front N each side",
        "hold front leftmost N",
        "rack N left",
        "rack to N right",
        "stitch size N",
        "stitch size front N, back N",
        "rows N both knit",
        "row both knit, loosened N",
        "row both knit, tightened N",
        "row both knit, size N",
        "row front knit on every N, tuck elsewhere",
        "tubular N rows",
        "new loops front LN",
        "move front L1 N left, joining",
        "cross front LN over RN",
        "increase front N at each edge",
        "increase front N at left, inset N",
        "decrease front N at right, inset N",
        "repeat N times {\n row both knit\n }",
        "repeat N times {\n repeat N times {\n row both knit\n }\n }",
        "work rib N times",
        "work rib for N rows",
        "work rib for N cm",
        "shape over N rows {\n decrease front 1 at left, N times evenly\n }",
        "remind every N rows \"Look.\"",
        "expect N stitches front, counter N, racking N left",
    ];
    let rib = "stitch rib on both {\n    row both knit\n}\ngauge rib { 20 stitches and 30 rows in 10 cm }\n";
    for number in numbers {
        for line in top {
            rules(&format!("{}\n{}", line.replace('N', number), piece("")));
        }
        for line in inside {
            rules(&format!("{rib}{}", piece(&line.replace('N', number))));
        }
    }
}

#[test]
fn deep_blocks_cost_no_stack() {
    for depth in [10, 64, 65, 66, 20_000] {
        for block in ["repeat 2 times {\n", "section \"S\" {", "allow long-float because \"x\" {\n", "{"] {
            let found = rules(&piece(&format!("{}{}", block.repeat(depth), "}\n".repeat(depth))));
            assert!(depth < 65 || !found.is_empty(), "{depth} of {block:?}");
            rules(&piece(&block.repeat(depth)));
        }
    }
    rules(&"}".repeat(20_000));
    rules(&format!("let a = {}1", "1 + ".repeat(20_000)));
    rules(&format!("let a = {}front", "all but ".repeat(20_000)));
    rules(&format!("let a = {}", "(".repeat(20_000)));
}

#[test]
fn definitions_that_double_and_repeats_that_never_close_end_soon() {
    // Each stitch works the one before it twice: 2 to the 60th rows.
    let mut text = String::from("stitch s0 on both {\n    row both knit\n}\n");
    for n in 1..60 {
        let _ = writeln!(text, "stitch s{n} on both {{\n    work s{0} 1 times\n    work s{0}\n}}", n - 1);
    }
    rules(&format!("{text}{}", piece("    work s59")));
    // The same with values.
    let mut text = String::from("let a0 = 1\n");
    for n in 1..200 {
        let _ = writeln!(text, "let a{n} = a{0} + a{0}", n - 1);
    }
    rules(&format!("{text}{}", piece("    rows a199 both knit")));
    // Stitches that work each other, and one that works itself.
    assert!(rules("stitch a on both {\n work b\n}\nstitch b on both {\n work a\n}\n").contains(&"endless-definition"));
    // Arguments that differ each time, so that nothing can be taken from memory.
    let mut text = String::from("stitch s0 (n number) on both {\n    rows n both knit\n}\n");
    for n in 1..30 {
        let _ = writeln!(
            text,
            "stitch s{n} (n number) on both {{\n    work s{0} (n n + 1)\n    work s{0} (n n + 2)\n}}",
            n - 1
        );
    }
    rules(&format!("{text}{}", piece("    work s29 (n 1)")));
    for lines in [
        "repeat 1000000000000 times {\n rack 1 left\n row both knit\n rack 1 right\n }",
        "repeat 1000000000000 times {\n row front knit, back tuck\n }",
        "repeat 1000000000000 times {\n rows 3 front knit\n reset counter\n free pass\n }",
        "repeat 1000000000000 times {\n gaiting opposite\n transfer front to back, joining\n }",
        "repeat 1000000000000 times {\n expect counter 7\n row both knit\n }",
        "repeat 1000000000000 times {\n drop front L1\n new loops front L1\n row both knit\n }",
        "repeat 1000000000000 times {\n hold front L1\n row both knit\n }",
        "repeat 1000000 times {\n repeat 999999 times {\n rows 1000001 both knit\n }\n row front knit\n }",
    ] {
        rules(&piece(lines));
    }
}

#[test]
fn thousands_of_everything() {
    const MANY: usize = 3000;
    let many = |make: &dyn Fn(usize) -> String| (0..MANY).map(make).collect::<String>();
    rules(&format!("{MACHINE}{}", many(&|n| format!("piece \"P{n}\" {{\n}}\n"))));
    rules(&format!("sizes {}\n{}", many(&|n| format!("s{n}, ")), piece("")));
    rules(&format!("sizes {}a\nlet x = 1 ({})\n{}", many(&|n| format!("s{n}, ")), "1, ".repeat(MANY), piece("")));
    rules(&format!("{}{}", many(&|n| format!("yarn y{n} {{}}\n")), piece("")));
    rules(&format!("{}{}", many(&|n| format!("let v{n} = v{} + 1\n", n + 1)), piece("")));
    rules(&format!("{}{}", many(&|n| format!("machine m{n} {{ needles 10 each side }}\n")), piece("")));
    rules(&many(&|_| "let same = 1\n".to_owned()));
    rules(&format!("let {} = 1\n", "long-".repeat(MANY) + "name"));
    rules(&piece(&format!("note \"{}\"\n", "word ".repeat(MANY))));
    rules(&piece(&format!("in work front {}L1", "L1 or ".repeat(MANY))));
    rules(&piece(&format!("row front {}knit on L1", "knit on L1, ".repeat(MANY))));
    rules(&piece(&format!("expect {}counter 1", "counter 1, ".repeat(MANY))));
    rules(&piece(&many(&|n| format!("allow rule-{n} because \"x\" {{\n}}\n"))));
}

/// What there is no room for is not knitted, and nothing is said of its end.
#[test]
fn a_pattern_that_is_too_large_is_told_so_and_no_more() {
    let sizes = |many: usize| (0..many).map(|n| format!("s{n}")).collect::<Vec<_>>().join(", ");
    let notes = format!("    note \"{}\"\n", "word ".repeat(1_300)).repeat(200);
    let text = |many| format!("sizes {}\n{}", sizes(many), piece(&notes));
    // Its notes take the room of 20000 lines; for each of 2 sizes there is that of 500000, and for each of 64 that of 15625.
    assert_eq!(rules(&text(2)), [""; 0]);
    assert_eq!(rules(&text(64)), ["too-large"]);
    // Of what was not worked out nobody can say that it is the same.
    let check = |text: &str| wale::check("hostile.wale", text, &NoLibrary);
    let (large, other) = (text(64), text(64).replace("L8-R8", "L7-R8"));
    let same = |one: &str, two: &str| wale::compare::compare(&check(one), &check(two), None, None).is_same();
    assert!(!same(&large, &other));
    assert!(same(&large, &large));
}

/// The time that checking takes grows like the text: ten times the lines may not cost much more than ten times the
/// time. The yardstick is taken in the same run, so that a slow machine changes nothing.
#[test]
fn long_files_take_time_in_proportion() {
    let check = |text: &str| {
        let begun = Instant::now();
        rules(text);
        begun.elapsed().max(Duration::from_millis(1))
    };
    type Lines<'a> = &'a dyn Fn(usize) -> String;
    let kinds: [(&str, Lines<'_>); 7] = [
        ("rows", &|n| piece(&"row both knit\n".repeat(n))),
        ("empty lines", &|n| "\n".repeat(n * 10)),
        ("comments", &|n| "# a word\n".repeat(n * 10)),
        ("bad lines", &|n| "rwo both knit\n".repeat(n)),
        ("lone quotes", &|n| "note \"x\n".repeat(n)),
        ("one long line", &|n| format!("note \"{}\"", "é".repeat(n * 10))),
        ("words without end", &|n| "row ".repeat(n * 3)),
    ];
    for (name, lines) in kinds {
        let (short, long) = (lines(150), lines(1500));
        let took = [(); 2].map(|()| (check(&short), check(&long)));
        let short = took.iter().map(|(short, _)| *short).min().unwrap();
        let long = took.iter().map(|(_, long)| *long).min().unwrap();
        assert!(long < short * 60, "{name}: ten times the lines took {long:?} after {short:?}");
    }
}

#[test]
fn nothing_that_a_terminal_obeys_reaches_it() {
    let hidden =
        ["\u{1b}[31m", "\u{7}", "\u{8}", "\u{202e}", "\u{2066}", "\u{200b}", "\u{feff}", "\0", "\u{9b}31m", "\u{7f}"];
    for hidden in hidden {
        for text in [
            format!("pattern \"Scarf{hidden}\"\n"),
            format!("let a{hidden}b = 1\n"),
            format!("use \"{hidden}.wale\"\n"),
            format!("yarn slate {{ colour \"{hidden}\" }}\n"),
            format!("{MACHINE}piece \"A{hidden}\" {{\n    row front knit\n}}\n"),
            format!("{MACHINE}piece \"A\" {{\n    section \"{hidden}\" {{\n        work x\n    }}\n}}\n"),
            piece(&format!("allow {hidden} because \"{hidden}\" {{\n row both knit\n }}")),
            piece(&format!("work nothing # {hidden}")),
            piece(&format!("row {hidden} both knit")),
            format!("{hidden}\n"),
        ] {
            // `sound` looks at everything that is told.
            rules(&text);
        }
    }
}

// ---- parts of the examples --------------------------------------------------------------------------------------------

/// Whether the beginning `cut` of `text` may be a whole pattern: it ends between two blocks at the top, and with a whole
/// line, or one of which every beginning says something (`let a = 12` cut to `let a = 1`).
fn may_be_whole(text: &str, cut: &str) -> bool {
    let depth = cut.bytes().fold(0_i32, |depth, byte| depth + i32::from(byte == b'{') - i32::from(byte == b'}'));
    let last = cut.lines().last().unwrap_or_default().trim();
    let from = cut.len() - cut.rsplit('\n').next().map_or(0, str::len);
    let whole = text[from..].lines().next().unwrap_or_default().trim();
    let any = last.is_empty() || ["#", "let ", "sizes "].iter().any(|start| last.starts_with(start));
    depth == 0 && (any || last == whole || cut.ends_with('\n'))
}

#[test]
fn every_beginning_of_an_example_can_be_checked_and_a_broken_one_is_seen() {
    let mut cuts = 0;
    for (name, text) in examples() {
        // Small examples are cut before every character, larger ones before and within every line.
        let small = text.len() < 700;
        let within = |(at, _): &(usize, char)| small || text[..*at].ends_with('\n') || text[..*at].ends_with(" k");
        for (at, _) in text.char_indices().filter(within) {
            let cut = &text[..at];
            let found = rules(cut);
            assert!(!found.is_empty() || may_be_whole(&text, cut), "{name} cut at byte {at} has no findings:\n{cut}");
            cuts += 1;
        }
    }
    assert!(cuts > 1000, "{cuts} beginnings");
}

#[test]
fn an_example_with_one_character_gone_or_changed_can_be_checked() {
    for (name, text) in examples() {
        for (count, (at, gone)) in text.char_indices().enumerate().filter(|(count, _)| count % 23 == 0) {
            let rest = &text[at + gone.len_utf8()..];
            rules(&format!("{}{rest}", &text[..at]));
            let other = ["{", "}", "\"", "\r", "#", "(", "\u{0}", "é", "9"][count / 23 % 9];
            let text = format!("{}{other}{rest}", &text[..at]);
            sound::check_with(&name, &text, &Examples).unwrap_or_else(|error| panic!("{error}\n{text}"));
        }
    }
}

// ---- files that use files ----------------------------------------------------------------------------------------------

/// Every file uses the next one, without end.
struct Endless;

impl Library for Endless {
    fn read(&self, _from: &str, path: &str) -> Result<(String, String), String> {
        Ok((path.to_owned(), format!("use \"a{path}\"\nuse \"b{path}\"\n")))
    }
}

/// A file that uses itself under any name.
struct Itself;

impl Library for Itself {
    fn read(&self, _from: &str, path: &str) -> Result<(String, String), String> {
        Ok(("same.wale".to_owned(), format!("use \"{path}\"\nuse \"same.wale\"\n")))
    }
}

#[test]
fn files_that_use_one_another_without_end_are_told() {
    for library in [&Endless as &dyn Library, &Itself, &NoLibrary] {
        let checked = sound::check_with("same.wale", "use \"x.wale\"\nuse \"same.wale\"\n", library).unwrap();
        assert!(!checked.findings.is_empty());
        assert!(checked.sources.iter().count() <= Sources::MOST_FILES);
    }
}

// ---- the command ---------------------------------------------------------------------------------------------------------

/// A folder of its own for one test, removed at the end.
struct Place(PathBuf);

impl Place {
    fn new(name: &str) -> Self {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("hostile-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&path);
        fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    fn file(&self, name: &str, bytes: &[u8]) -> &Self {
        let path = self.0.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
        self
    }

    fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_wale"));
        command.args(arguments).current_dir(&self.0).env_remove("NO_COLOR").env_remove("CLICOLOR_FORCE");
        command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
        command
    }

    /// The exit code and everything that was written, after a check that nothing in it moves a cursor.
    fn run(&self, arguments: &[&str]) -> (i32, String) {
        let output = ended(self.command(arguments).spawn().unwrap());
        let told = [output.stdout, output.stderr].map(|bytes| String::from_utf8(bytes).unwrap()).concat();
        sound::hidden(&told).unwrap();
        assert!(!told.contains("panicked"), "{arguments:?}: {told}");
        (output.status.code().unwrap_or(-1), told)
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

/// Waits for a command, but not for ever.
fn ended(mut child: Child) -> Output {
    let (mut out, mut report) = (child.stdout.take(), child.stderr.take());
    let reader = |stream: Option<Box<dyn Read + Send>>| {
        std::thread::spawn(move || {
            let mut bytes = Vec::new();
            stream.map(|mut stream| stream.read_to_end(&mut bytes));
            bytes
        })
    };
    let out = reader(out.take().map(|stream| Box::new(stream) as _));
    let report = reader(report.take().map(|stream| Box::new(stream) as _));
    let begun = Instant::now();
    let status = loop {
        match child.try_wait().unwrap() {
            Some(status) => break status,
            None if begun.elapsed() > Duration::from_secs(60) => {
                child.kill().unwrap();
                panic!("the command does not end");
            }
            None => std::thread::sleep(Duration::from_millis(2)),
        }
    };
    Output { status, stdout: out.join().unwrap(), stderr: report.join().unwrap() }
}

const COMMANDS: [&[&str]; 4] = [&["check"], &["sheet"], &["trace"], &["at", "3"]];

fn clean() -> String {
    format!("pattern \"Scarf\"\n{}", piece("    rows 400 both knit"))
}

#[test]
fn what_is_no_text_is_refused_by_every_command() {
    let place = Place::new("no-text");
    place.file("latin.wale", b"let a\xe9 = 1\n").file("zeros.wale", &[0; 1000]).file("folder/in.wale", b"");
    place.file("cut.wale", b"pattern \"caf\xc3").file("far.wale", &[0xf4, 0x90, 0x80, 0x80]);
    for command in COMMANDS {
        for name in ["latin.wale", "folder", "cut.wale", "far.wale", "no-such.wale", ""] {
            let (code, told) = place.run(&[command, &[name]].concat());
            assert_eq!(code, 2, "{command:?} {name}: {told}");
        }
        let (code, told) = place.run(&[command, &["zeros.wale"]].concat());
        assert_eq!(code, 1, "{command:?}: {told}");
    }
}

#[cfg(unix)]
#[test]
fn devices_and_pipes_are_not_waited_for() {
    let place = Place::new("devices");
    let made = Command::new("mkfifo").arg(place.0.join("pipe.wale")).status();
    place.file("uses.wale", b"use \"pipe.wale\"\n");
    std::os::unix::fs::symlink("/dev/zero", place.0.join("zero.wale")).unwrap();
    std::os::unix::fs::symlink("round.wale", place.0.join("round.wale")).unwrap();
    for command in COMMANDS {
        for name in ["/dev/zero", "/dev/null", "zero.wale", "round.wale"] {
            assert_eq!(place.run(&[command, &[name]].concat()).0, 2, "{command:?} {name}");
        }
        if made.as_ref().is_ok_and(std::process::ExitStatus::success) {
            assert_eq!(place.run(&[command, &["pipe.wale"]].concat()).0, 2, "{command:?}");
            assert_eq!(place.run(&[command, &["uses.wale"]].concat()).0, 1, "{command:?}");
        }
    }
}

#[cfg(unix)]
#[test]
fn only_the_folder_of_the_pattern_is_read() {
    let place = Place::new("folder");
    let secret = b"yarn secret { colour \"of the house\" }\n";
    place.file("secret.wale", secret).file("here/a.wale", b"use \"b.wale\"\n").file("here/b.wale", b"use \"a.wale\"\n");
    std::os::unix::fs::symlink("../secret.wale", place.0.join("here/link.wale")).unwrap();
    std::os::unix::fs::symlink("..", place.0.join("here/up")).unwrap();
    std::os::unix::fs::symlink("b.wale", place.0.join("here/inside.wale")).unwrap();
    let absolute = place.0.join("secret.wale").to_string_lossy().into_owned();
    for path in ["../secret.wale", "link.wale", "up/secret.wale", absolute.as_str(), "./../secret.wale", "//etc/passwd"]
    {
        let text = format!("use \"{path}\"\n{}", piece("thread secret"));
        place.file("here/main.wale", text.as_bytes());
        for command in COMMANDS {
            let (code, told) = place.run(&[command, &["here/main.wale"]].concat());
            assert_eq!(code, 1, "{path}: {told}");
            assert!(told.contains("unreadable-file") && !told.contains("of the house"), "{path}: {told}");
        }
    }
    place.file("here/main.wale", b"use \"a.wale\"\nuse \"inside.wale\"\nuse \"main.wale\"\n");
    let (code, told) = place.run(&["check", "here/main.wale"]);
    assert_eq!(code, 1, "{told}");
    assert!(told.contains("circular-use"), "{told}");
}

#[cfg(unix)]
#[test]
fn a_reader_that_leaves_is_no_failure_and_a_full_disk_is() {
    let place = Place::new("streams");
    place.file("scarf.wale", clean().as_bytes());
    place.file("bad.wale", "rwo both knit\n".repeat(150).as_bytes());
    let full = || fs::OpenOptions::new().write(true).open("/dev/full");
    let mut commands: Vec<Vec<&str>> = COMMANDS.iter().map(|command| [command, &["scarf.wale"][..]].concat()).collect();
    commands.extend([vec!["check", "bad.wale"], vec!["explain"], vec!["explain", "lost-stitch"]]);
    commands.push(vec!["check", "--format", "json", "bad.wale"]);
    for arguments in &commands {
        let mut child = place.command(arguments).spawn().unwrap();
        drop(child.stdout.take());
        let output = ended(child);
        let code = output.status.code();
        assert!(matches!(code, Some(0 | 1)), "{arguments:?} to a reader that left: {code:?}");
        assert_eq!(String::from_utf8_lossy(&output.stderr), "", "{arguments:?}");
        let Ok(full) = full() else { continue };
        let output = ended(place.command(arguments).stdout(full).spawn().unwrap());
        assert_eq!(output.status.code(), Some(2), "{arguments:?} to a full disk");
        let report = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(report.contains("the output cannot be written") && !report.contains("panicked"), "{report}");
    }
    // Not even the report can be written.
    if let (Ok(one), Ok(other)) = (full(), full()) {
        let status = ended(place.command(&["sheet", "bad.wale"]).stdout(one).stderr(other).spawn().unwrap()).status;
        assert!(status.code().is_some_and(|code| code != 0), "{status:?}");
    }
}

#[test]
fn numbers_on_the_command_line_may_be_anything() {
    let place = Place::new("numbers");
    place.file("scarf.wale", clean().as_bytes());
    for number in
        ["0", "1", "403", "404", "1000000", "18446744073709551615", "18446744073709551616", "-1", "1.5", "x", ""]
    {
        let (code, told) = place.run(&["at", number, "scarf.wale"]);
        assert!((0..=2).contains(&code), "at {number}: {code} {told}");
    }
    for hidden in ["\u{1b}[31m", "\u{202e}", "\n"] {
        for arguments in [
            &["check", "--size", hidden, "scarf.wale"][..],
            &["sheet", "--piece", hidden, "scarf.wale"],
            &["explain", hidden],
            &["check", hidden],
        ] {
            let output = ended(place.command(arguments).spawn().unwrap());
            let told = [output.stdout, output.stderr].concat();
            assert_ne!(output.status.code(), None, "{arguments:?}");
            assert!(!told.contains(&0x1b), "{arguments:?}: {}", String::from_utf8_lossy(&told));
        }
    }
}

#[test]
fn a_text_from_standard_input_may_be_anything() {
    let place = Place::new("input");
    for bytes in [&b""[..], b"\xff", b"\xef\xbb\xbfpattern \"Scarf\"\n", b"pattern \"Scarf\"", b"\r\r\r"] {
        let mut child = place.command(&["check", "-"]).stdin(Stdio::piped()).spawn().unwrap();
        child.stdin.take().unwrap().write_all(bytes).unwrap();
        let output = ended(child);
        assert!(matches!(output.status.code(), Some(0..=2)), "{bytes:?}: {output:?}");
    }
}

/// What has errors is never written, by no command.
#[test]
fn nothing_is_written_from_a_pattern_with_errors() {
    let place = Place::new("errors");
    let mut dice = random::Dice::new(7);
    for (name, text) in examples().into_iter().take(4) {
        let is_wrong = |text: &String| {
            let checked = wale::check(&name, text, &NoLibrary);
            checked.findings.iter().any(|finding| finding.rule.severity == Severity::Error)
        };
        let slipped = std::iter::repeat_with(|| random::slipped(&mut dice, &text, &text)).take(50).find(is_wrong);
        let slipped = slipped.expect("a slip that is an error");
        place.file(&name, slipped.as_bytes());
        for command in COMMANDS.iter().skip(1) {
            let output = ended(place.command(&[command, &[name.as_str()][..]].concat()).spawn().unwrap());
            assert_eq!((output.status.code(), output.stdout.len()), (Some(1), 0), "{command:?} {name}");
        }
    }
}

/// Six hundred warnings and one error behind them: the error is there, and what is not listed is counted.
#[test]
fn warnings_never_hide_an_error() {
    // A float of twelve needles is a warning of its line.
    let mut lines = String::new();
    for _ in 0..600 {
        lines += "    row front slip on L6-R6, knit elsewhere, back slip\n    row both knit\n";
    }
    lines += "    expect 5 stitches front\n";
    let checked = wale::check("hostile.wale", &piece(&lines), &NoLibrary);
    let of = |severity: Severity| checked.findings.iter().filter(|finding| finding.rule.severity == severity).count();
    assert!(of(Severity::Warning) >= 500, "{} warnings", of(Severity::Warning));
    assert!(of(Severity::Error) >= 1, "{:?}", checked.findings.last());
    let listed = checked.findings.iter().any(|finding| finding.rule.name == "count-mismatch");
    assert!(
        listed,
        "{:?}",
        checked.findings.iter().map(|finding| finding.rule.name).collect::<std::collections::BTreeSet<_>>()
    );
    let rest =
        checked.findings.iter().find(|finding| finding.rule.name == "too-many-findings").map(|it| it.what.as_str());
    assert!(rest.is_some_and(|what| what.contains("more warnings")), "{rest:?}");
}
