//! Nothing is parsed, worked out or played twice for one text.

use crate::counted::times;
use crate::source::NoLibrary;
use crate::{Checked, check, compare, write};

/// One text, one size, one piece: what is done once has been done as often as it is counted.
const TEXT: &str = "machine club { needles 20 each side }\nyarn slate {}\nlet height = 6\npiece \"P\" {\n    \
    in work front L5-R5, back L5-R4\n    thread slate\n    cast on zigzag\n    rows height both knit\n    \
    onto waste yarn both\n}\n";

fn checked() -> Checked {
    let checked = check("a.wale", TEXT, &NoLibrary);
    assert!(!checked.programs.is_empty() && checked.findings.is_empty(), "{:?}", checked.findings);
    checked
}

#[test]
fn a_check_does_everything_once() {
    assert_eq!(times(checked).0, [1, 1, 1]);
}

/// Beside the check, which has parsed and planned.
#[test]
fn what_is_written_is_neither_parsed_nor_planned_again_and_plays_once() {
    let (old, new) = (checked(), check("b.wale", &TEXT.replace("height = 6", "height = 8"), &NoLibrary));
    let (count, compared) = times(|| compare::compare(&old, &new, None, None));
    assert!(!compared.is_same());
    assert_eq!(count, [0, 0, 2], "each side is played once");
    let programs: Vec<_> = old.programs.iter().collect();
    for (row, is_there) in [(0, true), (1, true), (3, true), (7, true), (8, false), (u64::MAX, false)] {
        let (count, shown) = times(|| write::at::write(&programs, &old.sources, None, row));
        assert_eq!((count, shown.is_ok()), ([0, 0, 1], is_there), "row {row}");
    }
}

fn sheet(checked: &Checked) -> [u32; 3] {
    let programs: Vec<_> = checked.programs.iter().collect();
    let mut out = Vec::new();
    let (count, written) = times(|| write::sheet::write(&mut out, &programs, None));
    assert!(written.is_ok() && !out.is_empty());
    count
}

#[test]
fn a_sheet_plays_once() {
    assert_eq!(sheet(&checked()), [0, 0, 1]);
}

/// What fits in no memory is not held back for the head of the sheet.
#[test]
fn a_sheet_that_is_written_while_it_is_played_has_its_head_from_a_play_of_its_own() {
    let lines = |row| format!("    rows 3 both knit, size {}\n", 1 + row % 9);
    let work: String = (0..25_000).map(lines).collect();
    let text = TEXT.replace("    rows height both knit\n", &work);
    assert_eq!(sheet(&check("a.wale", &text, &NoLibrary)), [0, 0, 2]);
}

#[cfg(feature = "serve")]
#[test]
fn questions_and_the_check_of_one_text_share_what_they_find() {
    use crate::serve::{Encoding, Question, Workspace, answer};
    use serde_json::{Value, json};
    let mut workspace = Workspace::new(Encoding::Utf16);
    workspace.open("file:///a.wale", 1, TEXT);
    let libraries = |_: &str| Box::new(NoLibrary) as Box<dyn crate::source::Library>;
    let ask = |workspace: &Workspace, method: &str, line: u32| -> Value {
        let place = json!({ "line": line, "character": 10 });
        let params = json!({
            "textDocument": { "uri": "file:///a.wale" },
            "position": place,
            "range": { "start": { "line": 0, "character": 0 }, "end": { "line": 9, "character": 0 } },
            "context": { "includeDeclaration": true, "diagnostics": [] },
        });
        let question = Question {
            method,
            params,
            texts: &workspace.texts(),
            encoding: Encoding::Utf16,
            versioned: true,
            libraries: &libraries,
            wanted: &|| true,
        };
        answer(&question, &workspace.shelf()).expect("there is an answer")
    };
    // The question that comes first reads for the check as well, and works out what it needs.
    assert_eq!(times(|| ask(&workspace, "textDocument/documentSymbol", 0)).0, [1, 0, 0]);
    let hover = "textDocument/hover";
    let (count, said) = times(|| ask(&workspace, hover, 7));
    assert!(said.to_string().contains("After this line"), "{said}");
    assert_eq!(count, [0, 1, 1]);
    let job = workspace.next_job().expect("there is something to check");
    let (count, looked) = times(|| job.run(&libraries, &|| true));
    assert_eq!(count, [0, 0, 1]);
    workspace.looked(looked.expect("it was wanted"));
    assert_eq!(times(|| ask(&workspace, hover, 7)).0, [0, 0, 1]);
    for method in ["references", "documentHighlight", "documentSymbol", "foldingRange", "codeAction"] {
        let (count, _) = times(|| ask(&workspace, &format!("textDocument/{method}"), 7));
        assert_eq!(count, [0, 0, 0], "{method}");
    }
    assert_eq!(times(|| ask(&workspace, "textDocument/inlayHint", 0)).0, [0, 0, 1]);
    assert_eq!(times(|| ask(&workspace, "textDocument/inlayHint", 0)).0, [0, 0, 0]);
}
