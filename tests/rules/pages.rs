//! The pages of the rules: patterns at the edge of a rule, and what is found in them.

use crate::common::fences::{Fence, fences, fences_in};
use std::ffi::OsStr;
use std::path::Path;

/// Names the pages, and makes a test of each.
macro_rules! pages {
    ($($page:ident)+) => {
        const PAGES: &[&str] = &[$(stringify!($page)),+];
        $(#[test]
        fn $page() {
            holds(stringify!($page));
        })+
    };
}

pages! { causes counts edges facing held lines needles once promises racking repeats rows set_out tight transfers tucks waste yarn }

#[track_caller]
fn holds(page: &str) {
    let fences = fences(&format!("tests/rules/{page}.md"));
    let wrong: Vec<String> = fences.iter().filter_map(Fence::wrong_by_rule).collect();
    assert!(fences.len() > 5, "{page} has only {} patterns", fences.len());
    assert!(wrong.is_empty(), "{} of {} are not what they say:\n\n{}", wrong.len(), fences.len(), wrong.join("\n\n"));
}

#[test]
fn every_page_is_run() {
    let mut found = Vec::new();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/rules");
    for entry in std::fs::read_dir(folder).expect("the folder of the rules") {
        let path = entry.expect("a file").path();
        if path.extension() != Some(OsStr::new("rs")) {
            found.push(path.file_name().and_then(OsStr::to_str).expect("a plain name").to_owned());
        }
    }
    found.sort();
    assert_eq!(found, PAGES.iter().map(|page| format!("{page}.md")).collect::<Vec<_>>());
}

/// What is wrong with the one block of a page.
fn wrong(page: &str) -> String {
    let fences = fences_in("page", page);
    assert_eq!(fences.len(), 1, "{page}");
    fences[0].wrong_by_rule().unwrap_or_default()
}

const START: &str = "# Page\n\n```wale before\nin work front L3-R3\nthread slate\n```\n\nA sentence:\n\n";

#[test]
fn a_page_that_is_wrong_says_so() {
    let knitted = "cast on wound front\nrow front knit";
    let block = |info: &str, below: &str| wrong(&format!("{START}```{info}\n{knitted}\n```\n{below}"));
    let right = "wale finds left-on-needles at end";
    assert_eq!(
        block(
            right,
            "\n> the piece … with stitches on the needles. …\n>\n> - line 0, `piece \"Example\"`: it begins here\n> - nothing is offered\n"
        ),
        ""
    );
    for (info, below, words) in [
        ("wale finds nothing", "", "but it finds \nleft-on-needles at 3"),
        ("wale finds left-on-needles at 2", "", "but it finds \nleft-on-needles at 3"),
        ("wale finds left-on-needles at end, no-yarn at 1", "", "but it finds"),
        ("wale finds left-on-needle at end", "", "there is no rule `left-on-needle`"),
        ("wale finds left-on-needles at ends", "", "`ends` is no line"),
        ("wale find left-on-needles at end", "", "it does not say what is found"),
        ("wale finding finds nothing", "", "`finding finds nothing` is not understood"),
        ("wale before finds nothing", "", "it is no pattern of these pages"),
        ("wale both finds nothing", "", "it is no pattern of these pages"),
        ("whale finds left-on-needles at end", "", "it is no pattern of these pages"),
        ("wale", "", "it does not say what is found"),
        (right, "\n> piece …\n", "and not\npiece …"),
        (right, "\n> … iece …\n", "and not\n… iece …"),
        (right, "\n> …\n>\n> - line 1: here\n", "it has\nline 0"),
        (right, "\n> …\n>\n> - offered: something\n", "nothing is offered"),
        (right, "\n> …\n\n> …\n", "more quotations than findings"),
    ] {
        let said = block(info, below);
        assert!(said.starts_with("page:10 ") && said.contains(words), "{info} {below}: {said}");
    }
    let bare = wrong(&format!("# Page\n\n```wale finds nothing\n{knitted}\n```\n"));
    assert!(bare.contains("no sentence above it"), "{bare}");
}
