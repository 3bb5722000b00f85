//! What a transfer carriage takes by its profile, the half step, and needles that are held in a transfer.

use super::{checked, told};
use wale::Checked;

/// A piece on a machine with these lines besides its needles.
fn on(machine: &str, piece: &str) -> Checked {
    checked(&format!(
        "machine club {{\nneedles 20 each side\n{machine}\n}}\nyarn slate {{}}\npiece \"P\" {{\n{piece}\n}}\n"
    ))
}

fn found(checked: &Checked) -> Vec<&'static str> {
    checked.findings.iter().map(|finding| finding.rule.name).collect()
}

/// A loose row on those needles of the front bed, then the transfer; the back bed takes what comes.
fn going(in_work: &str, transfer: &str) -> String {
    format!(
        "in work {in_work}\nthread slate\ncast on wound front\nrow front knit, loosened 1\ngaiting opposite\n{transfer}\n\
         bind off both"
    )
}

#[test]
fn what_is_not_known_is_not_judged() {
    let some = going("front L5-R5, back L5-R5", "transfer front L5-L3 or R2 to back, by carriage");
    assert_eq!(found(&on("transfer carriage", &some)), [""; 0]);
    assert_eq!(found(&on("transfer carriage\nselectors front bed", &some)), [""; 0]);
    // The profile says that nothing picks needles of that bed.
    for beds in ["none", "back bed"] {
        let checked = on(&format!("transfer carriage\nselectors {beds}"), &some);
        assert_eq!(found(&checked), ["not-by-carriage"], "{}", told(&checked));
        let finding = &checked.findings[0];
        assert_eq!(finding.what, "the transfer carriage cannot be set to take 4 of the 10 stitches of the front bed");
        assert!(finding.why.contains("picks 4 of its 10 stitches"), "{}", finding.why);
        assert!(finding.mend.contains("`by hand`"), "{}", finding.mend);
    }
    // The whole bed and every second needle need no selector, as far as anybody knows.
    for donors in ["front", "front every 2"] {
        let transfer = going("front L5-R5, back L5-R5", &format!("transfer {donors} to back, by carriage"));
        let checked = on("transfer carriage\nselectors none", &transfer);
        assert!(!found(&checked).contains(&"not-by-carriage"), "{donors}: {}", told(&checked));
    }
}

#[test]
fn each_carriage_takes_what_its_profile_says() {
    let both = "front L5-R5, back L5-R5";
    let apart = "front \"|.\" over L5-R5, back L5-R5";
    let cases = [
        ("every stitch", both, "front", true),
        ("every stitch", both, "front L5-R4", false),
        ("every second needle", both, "front every 2", true),
        ("every second needle", both, "front every 2 over L4-R5", true),
        ("every second needle", both, "front", false),
        ("every second needle", both, "front every 2 over L3-R5", false),
        ("lone stitches", both, "front", false),
        ("lone stitches", apart, "front", true),
        ("lone stitches", apart, "front L5-L1", false),
        ("picked needles", both, "front L5-L3 or R2", true),
        ("lone stitches, every stitch", both, "front", true),
        ("lone stitches, every second needle", both, "front L5-L4", false),
    ];
    for (takes, in_work, donors, fits) in cases {
        let line = format!("transfer carriage takes {takes}");
        let piece = going(in_work, &format!("transfer {donors} to back, by carriage"));
        let checked = on(&line, &piece);
        let told_so = found(&checked).contains(&"not-by-carriage");
        assert_eq!(told_so, !fits, "{takes}, {in_work}, {donors}:\n{}", told(&checked));
        // By hand everything goes, and so it does with the tool left open.
        for tool in ["", ", by hand"] {
            let piece = going(in_work, &format!("transfer {donors} to back{tool}"));
            assert!(!found(&on(&line, &piece)).contains(&"not-by-carriage"), "{takes}, {donors}{tool}");
        }
    }
}

#[test]
fn the_reasons_have_the_numbers() {
    let why = |takes: &str, transfer: &str| {
        let checked = on(&format!("transfer carriage takes {takes}"), &going("front L5-R5, back L5-R5", transfer));
        assert_eq!(found(&checked), ["not-by-carriage"], "{}", told(&checked));
        checked.findings[0].why.clone()
    };
    assert_eq!(
        why("lone stitches", "transfer front to back, by carriage"),
        "The profile of `club` says that it takes lone stitches, but 9 pairs stand side by side with none of the back bed \
         between them, front L5 and the next first."
    );
    assert_eq!(
        why("every stitch", "transfer front L5-R4 to back, by carriage"),
        "The profile of `club` says that it takes every stitch, all along the bed: 1 more would go that should stay."
    );
    assert_eq!(
        why("every second needle", "transfer front L5-L2 to back, by carriage"),
        "The profile of `club` says that it takes every second needle: 2 of these would stay and 3 would go that should \
         stay."
    );
}

#[test]
fn picked_needles_want_a_selector_of_their_bed() {
    let piece = going("front L5-R5, back L5-R5", "transfer front L5-L3 to back, by carriage");
    assert_eq!(found(&on("transfer carriage takes picked needles\nselectors back bed", &piece)), ["not-by-carriage"]);
    assert_eq!(found(&on("transfer carriage takes picked needles\nselectors front bed", &piece)), [""; 0]);
}

#[test]
fn a_line_that_says_what_it_takes_says_that_it_is_there() {
    let piece = going("front L5-R5, back L5-R5", "transfer front to back, by carriage");
    assert_eq!(found(&on("", &piece)), ["wrong-side"]);
    assert_eq!(found(&on("transfer carriage takes every stitch", &piece)), [""; 0]);
    // Beside a line that says which way it works, that one holds.
    let ways = "transfer carriage to front from left\ntransfer carriage takes every stitch";
    assert_eq!(found(&on(ways, &piece)), ["wrong-side"]);
    let twice = on("transfer carriage takes every stitch, every stitch", &piece);
    assert_eq!(found(&twice), ["said-twice"]);
}

const HELD: &str = "in work front L9-R9, back L9-R9\nthread slate\ncast on wound front\nrows 2 front knit\n";

#[test]
fn held_needles_of_a_transfer_are_told_once() {
    let piece = format!("{HELD}hold front R5-R9\nrow front knit, loosened 2\ngaiting opposite\n");
    let transfer = |how: &str| on("", &format!("{piece}transfer front to back{how}\nrelease front\nbind off back"));
    let checked = transfer("");
    assert_eq!(found(&checked), ["held-transfer"], "{}", told(&checked));
    let finding = &checked.findings[0];
    assert_eq!(finding.what, "5 needles give stitches in this transfer while held");
    assert!(finding.mend.contains("`release front R5-R9`"), "{}", finding.mend);
    // What is advised is accepted; by hand, that the stitches are tight is all there is to say.
    let released = piece.replace("row front", "rows 2 front knit\nrelease front R5-R9\nrow front");
    let checked = on("", &format!("{released}transfer front to back\nbind off back"));
    assert_eq!(found(&checked), [""; 0], "{}", told(&checked));
    let checked = transfer(", by hand");
    assert!(!found(&checked).contains(&"held-transfer"), "{}", told(&checked));
}

#[test]
fn held_needles_that_take_are_told_too() {
    let piece = format!("{HELD}hold back R9\nrow front knit, loosened 2\ngaiting opposite\ntransfer front to back\n");
    let checked = on("", &format!("{piece}release back\nbind off back"));
    assert_eq!(found(&checked), ["held-transfer"], "{}", told(&checked));
    assert_eq!(checked.findings[0].what, "1 needle takes a stitch in this transfer while held");
}

#[test]
fn the_half_step_decides_which_neighbour_comes_first() {
    // A tuck on the last needle of a row comes off. Which one is last, at equal ends, hangs on the half step.
    let piece = "in work front L5-R5, back L5-R5\nthread slate\ncast on zigzag\nrow to left front knit, back tuck\n\
                 row both knit\nbind off both";
    let edge = |machine: &str| found(&on(machine, piece)).contains(&"edge-tuck");
    let right = edge("");
    assert_eq!(right, edge("half step to the right"));
    assert_ne!(right, edge("half step to the left"));
}
