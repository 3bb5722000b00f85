//! Where the yarn hangs.

use super::{checked, told};
use wale::rules::Rule;

/// What is found in a piece: the line in it, from 1, the rule, and words of the message.
type Expected<'a> = &'a [(u32, &'a str, &'a str)];

/// A machine as wide as is needed, and yarns.
const HEAD: &str = "machine club {\nneedles 60 each side\npitch 5 mm\n}\nyarn slate {}\nyarn chalk {}\n";

#[track_caller]
fn finds(lines: &str, expected: Expected<'_>) {
    let text = format!("{HEAD}piece \"Example\" {{\n{lines}\n}}\n");
    let checked = checked(&Rule::whole(&text));
    let line = |finding: &wale::finding::Finding| checked.sources.position(finding.at.span).line - 7;
    let found: Vec<_> = checked.findings.iter().map(|finding| (line(finding), finding.rule)).collect();
    let rules: Vec<_> = expected.iter().map(|&(line, rule, _)| (line, rule)).collect();
    assert_eq!(found, rules, "\n{text}\n{}", told(&checked));
    for (finding, (_, _, words)) in checked.findings.iter().zip(expected) {
        let said = [finding.what.as_str(), &finding.why, &finding.mend].join("\n");
        assert!(said.contains(words), "`{words}` in:\n{said}");
    }
}

#[test]
fn a_bind_off_of_other_stitches_leaves_the_yarn_where_it_hangs() {
    let neck = |bound: &str| {
        format!(
            "in work front L30-R30\nthread slate\ncast on wound front\nrows 40 front knit\nbind off front {bound}\n\
             out of work front {bound}\nhold front L24-L7\nrows 10 front knit\nrelease front\nbind off front"
        )
    };
    // The yarn hangs on the left, at L30; the stitches in the middle do not have it.
    let all = |text: String| text.replace("hold front L24-L7", "hold front L30-L7");
    let held = (8, "held-at-carriage-side", "across front L30-L7");
    finds(&all(neck("L6-R6")), &[held]);
    // Those at the left edge have, and are bound off with it.
    finds(&neck("L30-L25"), &[]);
    // Those at the right edge have not.
    finds(&all(neck("R25-R30")), &[held]);
    // Held on the other side, all is well.
    finds(&neck("L6-R6").replace("hold front L24-L7", "hold front R7-R30"), &[]);
    // A stitch that has gone to the other bed in between may have been among them, and so may one after hand work.
    let across = "in work front L10-R10, back L10-R10\nthread slate\ncast on wound front\nrow front knit, loosened 1\n\
                  gaiting opposite\ntransfer front to back\nbind off back R1-R10\nout of work front, back R1-R10\n\
                  row back knit\nbind off back";
    finds(across, &[]);
    let by_hand = "in work front L10-R10\nthread slate\ncast on wound front\nrow front knit\ndecrease front 1 at right\n\
                   bind off front R1-R9\nout of work front R1-R9\nrow front knit\nbind off front";
    finds(by_hand, &[]);
    // A new piece begins with a new yarn.
    let anew = "in work front L10-R10\nthread slate\ncast on wound front\nrow front knit\nbind off front\n\
                free pass\ncast on wound front\nrow front knit\nbind off front";
    finds(anew, &[]);
}

#[test]
fn waste_yarn_leaves_the_yarn_where_it_hangs() {
    let half = |rows: &str, waste: &str, on: &str| {
        format!(
            "in work front L20-R20\nthread slate\ncast on wound front\n{rows}\nonto waste yarn front {waste}\n\
             out of work front {waste}\n{on}\nbind off front"
        )
    };
    // Three rows end on the right: there the yarn hangs at R20, which is out of work now.
    let float = (7, "long-float", "from front R20 to front L1");
    finds(&half("rows 3 front knit", "R1-R20", "rows 6 front knit"), &[float]);
    finds(&half("rows 3 front knit", "L20-L1", "rows 6 front knit"), &[]);
    finds(&half("rows 2 front knit", "R1-R20", "rows 6 front knit"), &[]);
    let side = (8, "yarn-not-at-this-side", "hangs on the left");
    finds(&half("rows 2 front knit", "R1-R20", "free pass\nrows 6 front knit"), &[side]);
    // When all stitches have come off, the next piece begins anew.
    let all =
        half("rows 2 front knit", "L20-R20", "in work front L5-R5\nfree pass\ncast on wound front\nrow front knit");
    finds(&all, &[]);
}

#[test]
fn loops_are_wound_where_the_yarn_hangs() {
    let piece = |rows: &str, wound: &str| {
        format!(
            "in work front L10-R10\nthread slate\ncast on wound front\n{rows}\n{wound}\nrow front knit\nbind off front"
        )
    };
    let far = |number: u32| format!("{number} loops are wound on the right, away from the yarn");
    let (five, two) = (far(5), far(2));
    let even = "rows 2 front knit";
    finds(&piece(even, "new loops front R11-R15"), &[(5, "wrong-side", &five)]);
    finds(&piece(even, "cast on wound front R11-R12"), &[(5, "wrong-side", &two)]);
    finds(&piece(even, "new loops front L15-L11"), &[]);
    finds(&piece("rows 3 front knit", "new loops front R11-R15"), &[]);
    finds(
        &piece("rows 3 front knit", "new loops front L15-L11"),
        &[(5, "wrong-side", "5 loops are wound on the left, away from the yarn")],
    );
    // As with an increase, one is let pass.
    finds(&piece(even, "new loops front R11"), &[]);
    // Another yarn begins there, and before the first row the yarn of the cast-on is in the hand.
    finds(&piece(even, "thread chalk\nnew loops front R11-R15\nfree pass"), &[]);
    finds(&piece("note \"Wind it firmly.\"", "cast on wound front R11-R15"), &[]);
    // A gap in the middle is reached from the edge, and loops along the piece carry the yarn across it.
    finds(&piece("rows 2 front knit\nbind off front L3-R3", "new loops front L3-R3"), &[]);
    finds(&piece(even, "in work back L10-R12\ncast on wound back\nrow both knit\nbind off back"), &[]);
    // A chain is made by itself.
    finds(&piece(even, "cast on chain front R11-R15"), &[]);
    // After everything has come off there is no far edge.
    finds(&piece("rows 2 front knit\nbind off front", "cast on wound front R1-R5\nout of work front empty"), &[]);
}
