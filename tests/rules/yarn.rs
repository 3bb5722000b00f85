//! Where the yarn hangs, how far stitches are carried, and how many lie together.

use super::{checked, told};
use wale::catalogue::Rule;

/// What is found in a piece: the line in it, from 1, the rule, and words of the message.
type Expected<'a> = &'a [(u32, &'a str, &'a str)];

/// A machine as wide as is needed, and yarns.
const HEAD: &str = "machine club {\nneedles 60 each side\npitch 5 mm\n}\nyarn slate {}\nyarn chalk {}\n";

#[track_caller]
fn finds(lines: &str, expected: Expected<'_>) {
    let text = format!("{HEAD}piece \"Example\" {{\n{lines}\n}}\n");
    let checked = checked(&Rule::whole(&text));
    let line = |finding: &wale::finding::Finding| checked.sources.position(finding.at.span).line - 7;
    let found: Vec<_> = checked.findings.iter().map(|finding| (line(finding), finding.rule.name)).collect();
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

#[test]
fn stitches_are_carried_as_far_as_their_loops_reach() {
    let piece = |line: &str| {
        format!(
            "in work front L20-R20\nthread slate\ncast on wound front\nrows 2 front knit\n{line}\nout of work front empty\nbind off front"
        )
    };
    let whole = |line: &str| piece(line).replace("out of work front empty\n", "");
    finds(&piece("move front L20 3 right, joining"), &[]);
    finds(&piece("move front L20 30 right, joining"), &[(5, "far-move", "front L20 is carried 30 needles away")]);
    finds(&piece("move front L20-L19 4 right, joining"), &[(5, "far-move", "2 stitches of the front bed")]);
    finds(&whole("decrease front 3 at each edge"), &[]);
    finds(&whole("decrease front 4 at each edge"), &[(5, "far-move", "4 stitches of each edge are carried 4 needles")]);
    finds(&whole("decrease front 8 at left"), &[(5, "far-move", "`bind off front L20-L13`")]);
    finds(&whole("decrease front 2 at left, inset 6"), &[]);
    finds(&whole("increase front 5 at left"), &[]);
    finds(&whole("increase front 2 at left, inset 3"), &[]);
    finds(&whole("increase front 4 at left, inset 1"), &[(5, "far-move", "1 edge stitch is carried 4 needles away")]);
    // The profile says what this yarn and this machine bear.
    let text = format!("{HEAD}piece \"Example\" {{\n{}\n}}\n", piece("move front L20 5 right, joining"));
    let rules = |text: &str| checked(text).findings.iter().map(|finding| finding.rule.name).collect::<Vec<_>>();
    assert_eq!(rules(&text), ["far-move"]);
    assert_eq!(rules(&text.replacen("pitch 5 mm\n", "pitch 5 mm\nwidest cross 5 stitches\n", 1)), [""; 0]);
    // From bed to bed it counts how far apart the needles stand, which racking changes.
    const BACK: &str = "allow racked-two-steps because \"one stitch\" {\nrack to centre\n}\n";
    let across = |rack: &str, to: &str| {
        format!(
            "in work front L10-R10, back L20-R20\nthread slate\ncast on wound front\nrows 2 front knit\n{rack}\n\
             move front R10 to back {to}\n{BACK}out of work front empty\nbind off both"
        )
    };
    let centre = |to: &str| across("note \"By hand.\"", to).replace(BACK, "");
    finds(&centre("R10"), &[]);
    finds(&centre("L20"), &[(6, "far-move", "front R10 is carried 28 needles away")]);
    finds(&across("rack 2 right", "R6"), &[]);
    finds(&across("rack 2 left", "R7"), &[(6, "far-move", "4 needles away")]);
    // Where all the stitches go together, or those that nothing holds back, no loop is drawn.
    let alone = "in work front L20-R20\nthread slate\ncast on wound front L5-R5\nrows 2 front knit on loaded, slip elsewhere\n\
                 move front L5-R5 10 right\nout of work front empty\nbind off front";
    finds(alone, &[]);
    let halves = "in work front L20-R20\nthread slate\ncast on wound front\nrows 2 front knit\nbind off front L4-R4\n\
                  move front R5-R15 4 left\nbind off front";
    finds(halves, &[(6, "far-move", "11 stitches")]);
    finds(&halves.replace("R5-R15 4 left", "R5-R20 5 left"), &[]);
}

#[test]
fn only_so_many_loops_lie_together() {
    let piece = |lines: &str| {
        format!(
            "in work front L10-R10\nthread slate\ncast on wound front\nrows 2 front knit\n{lines}\nout of work front empty\nrow front knit\nbind off front"
        )
    };
    let two = "move front L5 1 right, joining\nmove front L3 1 left, joining\n";
    let four = format!("{two}move front L6 2 right, joining\n");
    let five = format!("{four}move front L2 2 left, joining");
    finds(&piece(two), &[]);
    finds(&piece(&four), &[]);
    finds(&piece(&five), &[(8, "stitch-pile", "front L4 carries 5 loops now")]);
    // A row in between draws one loop through them.
    finds(&piece(&five.replace("\nmove front L6", "\nout of work front empty\nrow front knit\nmove front L6")), &[]);
    // A hook that holds one tuck holds the three stitches of a double decrease all the same.
    let rules = |lines: &str, most: u32| {
        let head = HEAD.replacen("pitch 5 mm\n", &format!("pitch 5 mm\nmost tucks {most}\n"), 1);
        let text = format!("{head}piece \"Example\" {{\n{}\n}}\n", piece(lines));
        checked(&text).findings.iter().map(|finding| finding.rule.name).collect::<Vec<_>>()
    };
    assert_eq!(rules(two, 1), [""; 0]);
    assert_eq!(rules(&four, 1), ["stitch-pile"]);
    assert_eq!(rules(&five, 5), [""; 0]);
    // Decreases with no row in between pile up too.
    let edge = "decrease front 1 at left\n".repeat(4);
    let shaped = |lines: &str| piece(lines).replace("out of work front empty\n", "");
    finds(&shaped(edge.trim_end()), &[(8, "stitch-pile", "front L6 carries 5 loops now")]);
    finds(&shaped(&edge.replacen("left\n", "left\nrows 2 front knit\n", 1)), &[]);
}

#[test]
fn a_transfer_on_racked_beds_says_so_first() {
    let rib = |rack: &str| {
        format!(
            "in work front L10-R10, back L10-R9\nthread slate\ncast on zigzag\nrows 2 both knit\nrow both knit, loosened 1\n\
             {rack}gaiting opposite\ntransfer back to front, joining\nbind off front"
        )
    };
    finds(&rib(""), &[]);
    let advice = "The beds are racked 1 step left, so back L10 faces front L11. If they should stand at the centre, \
                  write `rack to centre` before the transfer. Otherwise bring the receiving needles into work first: \
                  `in work front L11`.";
    let racked = format!("{}\nrack to centre", rib("rack 1 left\n"));
    finds(&racked, &[(8, "lost-stitch", advice)]);
    // At the end of the bed there is no needle to bring into work.
    let end = "in work front L60-L50, back L60-L51\nthread slate\ncast on zigzag\nrows 2 both knit\nrow both knit, loosened 1\n\
               rack 1 left\ngaiting opposite\ntransfer back to front, joining\nrack to centre\nbind off front";
    finds(end, &[(8, "lost-stitch", "so back L60 faces no needle. If they should")]);
    // Where the needle is missing at the centre too, the racking is not what is wrong.
    let missing = racked.replacen("back L10-R9", "back L11-R9", 1);
    finds(&missing, &[(8, "lost-stitch", "Bring the receiving needles into work first: `in work front L12-L11`")]);
}
