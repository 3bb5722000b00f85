//! What a file keeps beside its text when it is tidied or mended, and that no save is lost: not that of another program,
//! and not one that is ended in the middle. All of it is asked of the command, with `tidy` for both.
#![cfg(unix)]
#![allow(clippy::print_stdout)]

use crate::common::place::{Place, told};
use std::fs;
use std::io::Write;
use std::os::unix::fs::{MetadataExt, PermissionsExt, chown};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const UNTIDY: &str = "yarn   slate {}\n";
const TIDY: &str = "yarn slate {}\n";
/// What another program saves.
const SAVED: &str = "yarn   foam {}\n";
const SAVED_TIDY: &str = "yarn foam {}\n";

fn text(place: &Place) -> String {
    fs::read_to_string(place.0.join("scarf.wale")).expect("it is there")
}

fn files(place: &Place) -> Vec<String> {
    let name =
        |entry: std::io::Result<fs::DirEntry>| entry.expect("an entry").file_name().to_string_lossy().into_owned();
    let mut found: Vec<String> = fs::read_dir(&place.0).expect("it is there").map(name).collect();
    found.sort();
    found
}

/// A folder that anybody may write in, with a file that belongs to these and has these permissions.
fn shared(name: &str, owner: u32, group: u32, mode: u32) -> Option<Place> {
    let place = Place::new(name);
    place.file("scarf.wale", UNTIDY.as_bytes());
    let path = place.0.join("scarf.wale");
    let given = chown(&path, Some(owner), Some(group));
    fs::set_permissions(&place.0, fs::Permissions::from_mode(0o777)).expect("it is ours");
    fs::set_permissions(&path, fs::Permissions::from_mode(mode)).ok()?;
    if let Err(error) = given {
        println!("not tried: files cannot be given to others here ({error})");
        return None;
    }
    Some(place)
}

/// Runs `wale tidy scarf.wale` as user and group 1234 and no other.
fn by_somebody(place: &Place) -> Option<(Option<i32>, String, String)> {
    let who = ["--reuid=1234", "--regid=1234", "--clear-groups", env!("CARGO_BIN_EXE_wale"), "tidy", "scarf.wale"];
    match Command::new("setpriv").args(who).current_dir(&place.0).output() {
        Ok(output) if matches!(output.status.code(), Some(0..=2)) => Some(told(&output)),
        other => {
            println!("not tried: no other user can be put in the place of this one ({other:?})");
            None
        }
    }
}

#[test]
fn what_another_may_not_write_does_not_become_theirs() {
    for (name, owner, group, mode, said) in [
        (
            "savemode",
            0,
            0,
            0o644,
            "`scarf.wale` may not be written by you, so it is not tidied. Ask whom it belongs to",
        ),
        ("saveowner", 4321, 1234, 0o666, "it belongs to somebody else, and the new file in its place would be yours."),
        (
            "savegroup",
            1234,
            5678,
            0o664,
            "its group is none of yours, and the new file in its place could not keep it.",
        ),
    ] {
        let Some(place) = shared(name, owner, group, mode) else { return };
        let Some((code, output, report)) = by_somebody(&place) else { return };
        assert_eq!((code, output.as_str()), (Some(2), ""), "{name}");
        assert!(report.contains(said), "{report}");
        let file = fs::metadata(place.0.join("scarf.wale")).expect("it is there");
        assert_eq!((file.uid(), file.gid(), file.mode() & 0o7777), (owner, group, mode));
        assert_eq!((text(&place).as_str(), files(&place)), (UNTIDY, vec!["scarf.wale".to_owned()]));
    }
}

#[test]
fn what_is_ones_own_is_kept_as_it_is() {
    let Some(place) = shared("saveown", 1234, 1234, 0o606) else { return };
    let Some((code, _, report)) = by_somebody(&place) else { return };
    assert_eq!((code, report.as_str()), (Some(0), ""));
    let file = fs::metadata(place.0.join("scarf.wale")).expect("it is there");
    assert_eq!((file.uid(), file.gid(), file.mode() & 0o7777), (1234, 1234, 0o606));
    assert_eq!(text(&place), TIDY);
}

/// Programs write down beside a file where they got it, which colour it has on the screen, and more.
#[test]
#[cfg(any(target_os = "linux", target_vendor = "apple"))]
fn what_is_written_down_beside_a_file_stays() {
    let place = Place::new("savemarks");
    place.file("scarf.wale", UNTIDY.as_bytes());
    let path = place.0.join("scarf.wale");
    if let Err(error) = rustix::fs::setxattr(&path, "user.colour", b"grey", rustix::fs::XattrFlags::empty()) {
        println!("not tried: this disk keeps no marks ({error})");
        return;
    }
    assert_eq!(place.run(&["tidy", "scarf.wale"]).0, Some(0));
    let mut value = [0; 16];
    let length = rustix::fs::getxattr(&path, "user.colour", &mut value).expect("it has the mark");
    assert_eq!((&value[..length], text(&place).as_str()), (&b"grey"[..], TIDY));
}

#[test]
fn names_of_one_file_do_not_part() {
    let place = Place::new("savenames");
    place.file("scarf.wale", UNTIDY.as_bytes());
    fs::hard_link(place.0.join("scarf.wale"), place.0.join("other.wale")).expect("a second name");
    let (code, output, report) = place.run(&["tidy", "scarf.wale"]);
    assert_eq!((code, output.as_str()), (Some(2), ""));
    assert!(report.contains("`scarf.wale` is not tidied, because the same file has 2 names (hard links)"), "{report}");
    assert_eq!(
        (text(&place).as_str(), files(&place)),
        (UNTIDY, vec!["other.wale".to_owned(), "scarf.wale".to_owned()])
    );
    let inode = |name| fs::metadata(place.0.join(name)).expect("it is there").ino();
    assert_eq!(inode("scarf.wale"), inode("other.wale"));
    // What is tidy already is not written, so nothing parts.
    fs::write(place.0.join("scarf.wale"), TIDY).expect("it is ours");
    assert_eq!(place.run(&["tidy", "scarf.wale"]).0, Some(0));
}

#[test]
fn what_earlier_runs_have_left_makes_room() {
    let place = Place::new("saverest");
    for name in ["scarf.wale", ".wale-0.new", ".wale-1.new"] {
        place.file(name, UNTIDY.as_bytes());
    }
    // What another run holds is in use, and is let be; so is what is no file.
    let held = fs::File::open(place.0.join(".wale-0.new")).expect("it is there");
    if let Err(error) = rustix::fs::flock(&held, rustix::fs::FlockOperation::NonBlockingLockExclusive) {
        println!("not tried: files cannot be held here ({error})");
        return;
    }
    fs::remove_file(place.0.join(".wale-1.new")).expect("it is ours");
    fs::create_dir(place.0.join(".wale-1.new")).expect("a folder for the test");
    place.file(".wale-2.new", b"yarn sl");
    assert_eq!(place.run(&["tidy", "scarf.wale"]), (Some(0), "tidied: scarf.wale\n".to_owned(), String::new()));
    assert_eq!(
        (text(&place).as_str(), files(&place)),
        (TIDY, [".wale-0.new", ".wale-1.new", "scarf.wale"].map(str::to_owned).to_vec())
    );
    // A file that another run holds is not written either.
    place.file("scarf.wale", UNTIDY.as_bytes());
    let held = fs::File::open(place.0.join("scarf.wale")).expect("it is there");
    rustix::fs::flock(&held, rustix::fs::FlockOperation::NonBlockingLockExclusive).expect("it can be held");
    let (code, _, report) = place.run(&["tidy", "scarf.wale"]);
    assert_eq!(code, Some(2));
    assert!(report.contains("`scarf.wale` is held by another program just now"), "{report}");
    assert_eq!(text(&place), UNTIDY);
}

/// The file is changed before anybody can know that its change cannot be shown.
#[test]
#[cfg(target_os = "linux")]
fn a_full_output_says_what_was_done_to_files() {
    let place = Place::new("savefull");
    for (command, name, said) in [
        (&["tidy", "scarf.wale", "hat.wale"][..], "tidied", "`scarf.wale` is tidied, `hat.wale` is tidied"),
        (&["check", "--mend", "scarf.wale"], "mended", "`scarf.wale` is mended"),
    ] {
        place.file("scarf.wale", if name == "tidied" { UNTIDY } else { "yarn slate \u{ff5b}}\n" }.as_bytes());
        place.file("hat.wale", UNTIDY.as_bytes());
        let full = fs::OpenOptions::new().write(true).open("/dev/full").expect("Linux has it");
        let (code, _, report) = told(&place.command(command).stdout(full).output().expect("it runs"));
        assert_eq!((code, text(&place).as_str()), (Some(2), TIDY), "{report}");
        assert!(report.contains("wale: the output cannot be written: "), "{report}");
        assert!(report.ends_with(&format!("wale: what was done to files stays done: {said}.\n")), "{report}");
        // The second time there is nothing to be done, and nothing is said of it.
        let full = fs::OpenOptions::new().write(true).open("/dev/full").expect("Linux has it");
        let (_, _, report) = told(&place.command(command).stdout(full).output().expect("it runs"));
        assert!(report.contains("cannot be written") && !report.contains("stays done"), "{report}");
    }
}

/// How long one run takes here, about.
fn one_run(place: &Place) -> Duration {
    place.file("scarf.wale", UNTIDY.as_bytes());
    let begun = Instant::now();
    place.run(&["tidy", "scarf.wale"]);
    begun.elapsed().max(Duration::from_millis(2))
}

/// Some part of `most`, another one in each round.
fn part(most: Duration, round: u32) -> Duration {
    // The golden section spreads any number of rounds evenly.
    most.mul_f64((f64::from(round) * 0.618_034).fract())
}

fn begin(place: &Place) -> std::process::Child {
    place.command(&["tidy", "scarf.wale"]).stdout(Stdio::null()).stderr(Stdio::null()).spawn().expect("it runs")
}

#[test]
fn runs_that_are_killed_tear_no_file() {
    let place = Place::new("savekill");
    let long = one_run(&place);
    let (mut tidied, mut rests) = (0, 0);
    for round in 0..300 {
        place.file("scarf.wale", UNTIDY.as_bytes());
        let mut child = begin(&place);
        std::thread::sleep(part(long, round));
        let _ = child.kill();
        child.wait().expect("it ends");
        let now = text(&place);
        assert!([UNTIDY, TIDY].contains(&now.as_str()), "{now:?}");
        tidied += u32::from(now == TIDY);
        rests += u32::from(files(&place).len() > 1);
    }
    println!("300 runs killed within {long:?}: {tidied} files tidied, {rests} times a file was left beside");
    place.file("scarf.wale", UNTIDY.as_bytes());
    assert_eq!(place.run(&["tidy", "scarf.wale"]).0, Some(0));
    assert_eq!((text(&place).as_str(), files(&place)), (TIDY, vec!["scarf.wale".to_owned()]));
}

/// Saves as editors do: into the file as it is, or with a new file that takes its name.
fn save(path: &Path, in_place: bool) {
    if in_place {
        let mut file = fs::OpenOptions::new().write(true).truncate(true).open(path).expect("it is there");
        file.write_all(SAVED.as_bytes()).expect("there is room");
    } else {
        let new = path.with_extension("saved");
        fs::write(&new, SAVED).expect("there is room");
        fs::rename(new, path).expect("it is ours");
    }
}

#[test]
fn no_save_of_another_program_is_lost() {
    let place = Place::new("saverace");
    let long = one_run(&place);
    let (mut last, mut first) = (0, 0);
    for round in 0..300 {
        place.file("scarf.wale", UNTIDY.as_bytes());
        let mut child = begin(&place);
        std::thread::sleep(part(long, round));
        save(&place.0.join("scarf.wale"), round % 2 == 0);
        let code = child.wait().expect("it ends").code();
        match text(&place).as_str() {
            SAVED => last += 1,
            SAVED_TIDY => first += 1,
            other => panic!("the save is lost: {other:?}, exit code {code:?}"),
        }
    }
    println!("300 saves within {long:?}: {first} before the file was read, {last} after");
    assert_eq!(files(&place), ["scarf.wale"]);
}
