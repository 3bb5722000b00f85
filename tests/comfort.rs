//! What makes the command line comfortable: completions, the manual, checking again at each save, and the formats that
//! other programs read.
#![allow(clippy::unwrap_used)]

use crate::common::place::Place;
use serde_sarif::sarif::{ResultLevel, Sarif};
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Command, Stdio};

/// A folder with a pattern in it that has a mistake with a fix.
fn with_mistakes(name: &str) -> Place {
    let place = Place::new(name);
    place.file("mooring cuff.wale", MISTAKEN.as_bytes());
    place
}

const MISTAKEN: &str = "machine mooring {\n    needles 20 each side\n}\nyarn slate {}\npiece \"Cuff: 100 %\" {\n    in work front L5-R5, back L5-R5\n    thread slate\n    cast on wound front\n    row front knit, loosened 1\n    transfer front to back\n    bind off back\n}\n";

#[test]
fn the_shell_completes_commands_and_options() {
    let place = Place::new("completions");
    // The shell itself is asked: it reads the script and completes `wale ch` and `wale check --fo`.
    let (code, script, _) = place.run(&["completions", "bash"]);
    assert_eq!(code, Some(0));
    let ask = |words: &str, at: usize, last: &str| {
        let line = format!(
            "{script}\nCOMP_WORDS=({words})\nCOMP_CWORD={at}\n_wale wale {last} wale\necho \"${{COMPREPLY[@]}}\"\n"
        );
        let output = Command::new("bash").args(["--noprofile", "--norc", "-c", &line]).output().unwrap();
        String::from_utf8(output.stdout).unwrap()
    };
    assert_eq!(ask("wale ch", 1, "ch"), "check\n");
    assert_eq!(ask("wale check --fo", 2, "--fo"), "--format\n");
    for shell in ["zsh", "fish", "elvish", "powershell"] {
        let (code, script, _) = place.run(&["completions", shell]);
        assert!(code == Some(0) && script.contains("explain"), "{shell}");
    }
}

#[test]
fn the_manual_has_a_page_for_every_command() {
    let place = Place::new("manual");
    let (code, page, _) = place.run(&["manual"]);
    assert_eq!(code, Some(0));
    assert!(page.contains(".TH wale 1") && page.contains("EXIT") | page.contains("Exit codes"), "{page}");
    let help = place.run(&["help"]).1;
    let (_, list) = help.split_once("Commands:\n").unwrap();
    // Two blanks before a command; a line that goes on has more.
    let commands = list.lines().take_while(|line| !line.is_empty());
    let begins = |line: &&str| line.starts_with("  ") && !line.starts_with("   ");
    let names: Vec<&str> = commands.filter(begins).filter_map(|line| line.split_whitespace().next()).collect();
    assert!(names.len() >= 10, "{names:?}");
    for name in names.iter().filter(|name| **name != "help") {
        let (code, page, report) = place.run(&["manual", name]);
        assert_eq!((code, report.as_str()), (Some(0), ""), "{name}");
        assert!(page.contains(&format!(".TH wale-{name} 1")), "{page}");
    }
    let (code, _, report) = place.run(&["manual", "purl"]);
    assert_eq!(code, Some(2));
    assert!(
        report.starts_with("wale: there is no command `purl`, so it has no page. The commands are check, "),
        "{report}"
    );
}

#[test]
fn a_general_library_reads_the_interchange_format() {
    // serde-sarif, a library whose types are made from the schema of SARIF 2.1.0, is the judge of the form.
    let place = with_mistakes("sarif");
    let (code, output, _) = place.run(&["check", "--format", "sarif", "mooring cuff.wale"]);
    assert_eq!(code, Some(1));
    let log: Sarif = serde_json::from_str(&output).unwrap();
    let [run] = log.runs.as_slice() else { panic!("one run") };
    let results = run.results.as_ref().unwrap();
    let found = &results[0];
    assert_eq!((found.rule_id.as_deref(), found.level), (Some("not-opposite"), Some(ResultLevel::Error)));
    let at = found.locations.as_ref().unwrap()[0].physical_location.as_ref().unwrap();
    let uri = at.artifact_location.as_ref().unwrap().uri.as_deref().unwrap();
    assert_eq!(uri, "mooring%20cuff.wale");
    let region = at.region.as_ref().unwrap();
    assert_eq!((region.start_line, region.start_column, region.end_column), (Some(10), Some(5), Some(27)));
    let fix = &found.fixes.as_ref().unwrap()[0];
    let put_in = fix.artifact_changes[0].replacements[0].inserted_content.as_ref().unwrap();
    assert_eq!(put_in.text.as_deref().map(str::trim), Some("gaiting opposite"));
    let rules = run.tool.driver.rules.as_ref().unwrap();
    let described: Vec<&str> = rules.iter().map(|rule| rule.id.as_str()).collect();
    assert!(results.iter().all(|found| described.contains(&found.rule_id.as_deref().unwrap())), "{described:?}");

    place.file("clean.wale", b"pattern \"Breakwater scarf\"\n");
    let (code, output, _) = place.run(&["check", "--format", "sarif", "clean.wale"]);
    let log: Sarif = serde_json::from_str(&output).unwrap();
    assert_eq!((code, log.runs[0].results.as_ref().map(Vec::len)), (Some(0), Some(0)));
}

#[test]
fn a_forge_marks_the_line() {
    let place = with_mistakes("annotation");
    let (code, output, _) = place.run(&["check", "--format", "annotation", "mooring cuff.wale"]);
    assert_eq!(code, Some(1));
    let first = output.lines().next().unwrap();
    assert!(first.starts_with("::error file="), "{first}");
    assert!(first.contains("=mooring cuff.wale,line=10,col=5,endLine=10,endColumn=27,title=not-opposite::"), "{first}");
    assert_eq!(
        output.lines().count(),
        place.run(&["check", "--format", "short", "mooring cuff.wale"]).1.lines().count()
    );
}

/// Reads lines until one that ends the report of a check.
fn report(lines: &mut impl Iterator<Item = std::io::Result<String>>) -> String {
    let ends =
        |line: &str| line.contains("nothing to mend") || line.contains(" error in ") || line.contains(" errors in ");
    let mut text = String::new();
    for line in lines {
        let line = line.unwrap();
        text += &line;
        text.push('\n');
        if ends(&line) {
            break;
        }
    }
    text
}

#[test]
fn a_watched_pattern_is_checked_at_each_save() {
    let place = with_mistakes("watch");
    let file = place.0.join("mooring cuff.wale");
    let used = file.with_file_name("mooring.wale");
    let (machine, rest) = MISTAKEN.split_once("yarn").unwrap();
    let rest = format!("use \"mooring.wale\"\nyarn{rest}");
    std::fs::write(&used, machine).unwrap();
    std::fs::write(&file, &rest).unwrap();
    let mut watching = Command::new(env!("CARGO_BIN_EXE_wale"))
        .args(["check", "--watch"])
        .arg(&file)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let mut lines = BufReader::new(watching.stdout.take().unwrap()).lines();
    assert!(report(&mut lines).contains("error[not-opposite]"));
    // As an editor saves: a new file takes the place of the old one.
    let save = |path: &Path, text: &str| {
        let new = path.with_extension("new");
        std::fs::write(&new, text).unwrap();
        std::fs::rename(&new, path).unwrap();
    };
    save(&file, &rest.replace("    transfer", "    gaiting opposite\n    transfer"));
    assert!(report(&mut lines).contains("nothing to mend"));
    // A file that is used counts as well.
    std::fs::write(&used, machine.replace("20 each", "4 each")).unwrap();
    let told = report(&mut lines);
    assert!(told.contains("off-bed"), "{told}");
    // Nobody reads any more: it ends by itself.
    drop(lines);
    save(&file, &rest);
    let begun = std::time::Instant::now();
    while watching.try_wait().unwrap().is_none() {
        if begun.elapsed() > std::time::Duration::from_secs(60) {
            let _ = watching.kill();
            panic!("it goes on though nobody reads");
        }
        std::thread::sleep(std::time::Duration::from_millis(50));
    }
}

#[test]
fn a_used_file_that_comes_and_goes_is_watched_too() {
    let place = Place::new("comes");
    let file = place.0.join("mooring cuff.wale");
    let (folder, told) = (place.0.join("mooring/machines"), place.0.join("told.txt"));
    let used = folder.join("club.wale");
    let (machine, rest) = MISTAKEN.split_once("yarn").unwrap();
    let rest = rest.replace("    transfer", "    gaiting opposite\n    transfer");
    std::fs::write(&file, format!("use \"mooring/machines/club.wale\"\nyarn{rest}")).unwrap();
    let mut watching = Command::new(env!("CARGO_BIN_EXE_wale"))
        .args(["check", "--watch", "mooring cuff.wale"])
        .current_dir(&place.0)
        .stdout(Stdio::piped())
        .stderr(std::fs::File::create(&told).unwrap())
        .spawn()
        .unwrap();
    // Lines come through a channel, so that a check that never comes fails the test instead of keeping it.
    let (sender, lines) = std::sync::mpsc::channel();
    let output = BufReader::new(watching.stdout.take().unwrap()).lines();
    std::thread::spawn(move || output.map_while(Result::ok).all(|line| sender.send(line).is_ok()));
    let next = |clean: bool, when: &str| {
        // One change can be several for the system, and several checks.
        let until = std::time::Instant::now() + std::time::Duration::from_secs(30);
        loop {
            let left = until.saturating_duration_since(std::time::Instant::now());
            let mut lines = std::iter::from_fn(|| lines.recv_timeout(left).ok().map(Ok));
            let text = report(&mut lines);
            assert!(!text.is_empty(), "it is not checked when {when}");
            if text.contains("nothing to mend") == clean {
                break;
            }
        }
    };
    next(false, "it begins");
    std::fs::create_dir_all(&folder).unwrap();
    std::fs::write(&used, machine).unwrap();
    next(true, "the file comes with its folders");
    std::fs::remove_file(&used).unwrap();
    next(false, "the file goes");
    std::fs::write(&used, machine).unwrap();
    next(true, "it comes back");
    for gone in [folder.as_path(), folder.parent().unwrap()] {
        std::fs::remove_dir_all(gone).unwrap();
        next(false, "the folder goes");
        std::fs::create_dir_all(&folder).unwrap();
        std::fs::write(&used, machine).unwrap();
        next(true, "the folder is made anew");
    }
    let _ = watching.kill();
    let _ = watching.wait();
    let told = std::fs::read_to_string(&told).unwrap();
    assert!(told.contains("wale: club.wale is gone. Checking again.\n"), "{told}");
    assert!(told.contains("wale: club.wale was saved. Checking again.\n"), "{told}");
    assert!(told.contains("wale: mooring is gone. Checking again.\n"), "{told}");
}

#[test]
fn standard_input_is_not_watched() {
    let place = Place::new("unwatched");
    let (code, _, report) = place.run(&["check", "--watch", "-"]);
    assert_eq!(code, Some(2));
    assert_eq!(report, "wale: standard input cannot be watched. Save the pattern to a file and give its name.\n");
}
