//! Where a rule begins and ends.

use super::{checked, told};
use wale::catalogue::Rule;

/// Sixteen needles of the front bed, the machine having a pitch of 5 mm.
pub(crate) const FRONT: &str = "in work front L8-R8\nthread slate\ncast on wound front\n";

/// Eight needles of each bed.
const BOTH: &str = "in work front L4-R4, back L4-R4\nthread slate\ncast on wound front\ncast on wound back\n";

/// The start, the lines, and the findings in their order: the rule, and words of the message.
type Edge = (&'static str, &'static str, &'static [(&'static str, &'static str)]);

#[test]
fn rules_at_their_edges() {
    let edges: &[Edge] = &[
        // Five pitches of 5 mm are 25 mm, which may be; six are not.
        (FRONT, "row front slip on L2-R2, knit elsewhere\nrow front knit\nbind off front", &[]),
        (
            FRONT,
            "row front slip on L2-R3, knit elsewhere\nrow front knit\nbind off front",
            &[("long-float", "from front L3 to front R4, past 5 needles")],
        ),
        // The other bed takes the yarn in between.
        (BOTH, "row front slip on L3-R3, knit elsewhere, back knit\nbind off both", &[]),
        (BOTH, "row front tuck on L2-R2, knit elsewhere, back knit\nrow both knit\nbind off both", &[]),
        (BOTH, "drop front L2-L1\nrow both knit, new loops\nrow both knit\nbind off both", &[]),
        // At gaiting between the back bed stands half a pitch to the right, so only on the left a front tuck is last.
        (BOTH, "row front tuck, back knit\nrow both knit\nbind off both", &[]),
        (
            BOTH,
            "row both knit\nrow front tuck, back knit\nrow both knit\nbind off both",
            &[("edge-tuck", "front L4 tucks")],
        ),
        // Knitting a needle empties its pile.
        (
            BOTH,
            "rows 4 back knit, front tuck on L2\nrow both knit\nrows 4 back knit, front tuck on L2\nrow both knit\nbind off both",
            &[],
        ),
        // Two lines count as one long step; with one bed nothing runs across.
        (
            BOTH,
            "rack 1 left\nrow both knit\nrack 1 right\nrack 1 right\nrow both knit\nrack to centre\nrow both knit\nbind off both",
            &[("racked-two-steps", "2 steps")],
        ),
        (FRONT, "row front knit\nrack 3 right\nrow front knit\nrack to centre\nrow front knit\nbind off front", &[]),
        // Only the bed that gives its stitches has to be loosened.
        (
            BOTH,
            "row both knit, loosened 1 front\ngaiting opposite\ntransfer back to front, joining\nbind off front",
            &[("tight-transfer", "8 stitches")],
        ),
        (
            BOTH,
            "row both knit, loosened 1 back\ngaiting opposite\ntransfer back to front, joining\nbind off front",
            &[],
        ),
        // Facing needles may each work when their opposite does not, wherever the beds are racked.
        (
            BOTH,
            "gaiting opposite\nrack 1 right\nrow front knit on L4-L1, back knit on R1-R4\nrack to centre\ngaiting between\nrow both knit\nbind off both",
            &[],
        ),
        // One, and more than one.
        ("in work front L1\nthread slate\ncast on wound front\n", "row front knit", &[("left-on-needles", "")]),
        (FRONT, "drop front L2\npick up front L2\nbind off front", &[("too-few-to-pick-up", "there is 1 loop too few")]),
        (
            FRONT,
            "drop front L2\npick up front L2-L1\nbind off front",
            &[("too-few-to-pick-up", "there are 2 loops too few")],
        ),
        (
            FRONT,
            "row front knit\nout of work front L8\nbind off front",
            &[("lost-stitch", "front L8 still carries a stitch")],
        ),
        (
            FRONT,
            "row front knit\nout of work front L8-L7\nbind off front",
            &[("lost-stitch", "still carry stitches and are")],
        ),
        (FRONT, "row front knit on L20\nbind off front", &[("nothing-to-do", "which is out of work")]),
        // One thing is said once.
        (FRONT, "cast on wound front L8\nbind off front", &[("doubled-stitch", "front L8 already carries a stitch")]),
        (
            FRONT,
            "hold front L8\nhold front L8\nrow front knit\nrelease front\nbind off front",
            &[("nothing-to-do", "to hold: front L8")],
        ),
        // One needle on the carriage's side is wrapped by the yarn; several are not. On the other side any number is.
        (
            FRONT,
            "rows 2 front knit\nhold front L8\nrows 2 front knit\nrelease front\nrows 2 front knit\nbind off front",
            &[],
        ),
        (
            FRONT,
            "rows 2 front knit\nhold front L8-L7\nrows 2 front knit\nrelease front\nrows 2 front knit\nbind off front",
            &[("held-at-carriage-side", "across front L8-L7")],
        ),
        (
            FRONT,
            "rows 2 front knit\nhold front R1-R8\nrows 2 front knit\nrelease front\nrows 2 front knit\nbind off front",
            &[],
        ),
        // What a mistake at the end leaves on the needles is not told as well.
        (FRONT, "row front knit\nout of work front L8\nbind off front L7", &[("lost-stitch", "front L8")]),
        // The row before ended with the outermost needles, of which one bed's stands farther out.
        (
            BOTH,
            "row both knit\nrow front knit on L4-L3\nrow both knit\nbind off both",
            &[("long-float", "from back R4 to front L3")],
        ),
        (
            BOTH,
            "rows 2 both knit\nrow front knit on R3-R4\nrow both knit\nbind off both",
            &[("long-float", "from front L4 to front R3")],
        ),
        // Where the yarn was left, a row may begin.
        (
            FRONT,
            "rows 2 front knit\nrow front knit on R3-R8\nrow front knit\nbind off front",
            &[("long-float", "from front L8 to front R3, past 9 needles")],
        ),
        (FRONT, "row front knit\nrow front knit on R3-R8\nrow front knit on R3-R8\nbind off front", &[]),
        (
            FRONT,
            "row front knit\nfree pass\nrow front knit\nbind off front",
            &[("yarn-not-at-this-side", "on the right")],
        ),
        // After binding off the yarn is cut and may be joined anywhere.
        (
            FRONT,
            "row front knit\nbind off front R1-R8\nout of work front R1-R8\nfree pass\nrow front knit\nbind off front",
            &[],
        ),
        (FRONT, "row front knit\nfree pass\nfree pass\nrow front knit\nbind off front", &[]),
        // Eight rows may be waited, by one needle; a group may wait longer.
        (FRONT, "row front knit\nrows 8 front slip on R1, knit elsewhere\nrow front knit\nbind off front", &[]),
        (
            FRONT,
            "row front knit\nrows 9 front slip on R1, knit elsewhere\nrow front knit\nbind off front",
            &[("stretched-hold", "front R1 waits")],
        ),
        (FRONT, "row front knit\nrows 20 front slip on R1-R2, knit elsewhere\nrow front knit\nbind off front", &[]),
        // Two tucks side by side have a knitting needle each; between slipped needles a tuck has none.
        (FRONT, "row front tuck on L1-R1, knit elsewhere\nrow front knit\nbind off front", &[]),
        (FRONT, "row front tuck on R1, slip on L1 or R2, knit elsewhere\nrow front knit\nbind off front", &[]),
        (
            FRONT,
            "row front tuck on L3 or R3, slip on L2-R2, knit on R4\nrow front knit\nbind off front",
            &[("unsupported-tuck", "front L3 tucks")],
        ),
        // A hem, and a tube.
        (
            "in work front L4-R4, back L4-R3\nthread slate\ncast on zigzag\n",
            "tubular 4 rows\nrow both knit\nbind off both",
            &[],
        ),
        (
            "in work front L4-R4, back L4-R3\nthread slate\ncast on zigzag\n",
            "tubular 21 rows\nrow both knit\nbind off both",
            &[],
        ),
        // Loops that came to the other bed lie straight there, wherever the beds stand.
        (
            FRONT,
            "gaiting opposite\nin work back L8-R8\nrow front knit, loosened 1\ntransfer front L4-L1 to back\nrack 2 right\nrack to centre\ntransfer back to front\nout of work back\nrow front knit\nbind off front",
            &[("racked-two-steps", "2 steps")],
        ),
        // Stitches cast on by hand where nothing was yet are cast on at the racking of that moment.
        (
            "rack 2 left\nin work front L3-R3, back L3-R3\nthread slate\n",
            "cast on wound front, back\nrow both knit\nrack 1 right\nrow both knit\nrack to centre\nbind off both",
            &[],
        ),
        // From there the steps of racking count; stitches cast on beside others by hand change nothing of that.
        (
            "rack 2 left\nin work front L3-R3, back L3-R3\nthread slate\n",
            "cast on wound front, back\nrack 1 right\nrow both knit\nrack to centre\nrow both knit\nbind off both",
            &[],
        ),
        (
            "rack 2 left\nin work front L3-R3, back L3-R3\nthread slate\n",
            "cast on open front, back\nrack 1 right\nrow both knit\nrack to centre\nrow both knit\nbind off both",
            &[],
        ),
        (
            BOTH,
            "row both knit\nrack 1 right\ncast on wound front R5\nrack 1 right\nrow both knit\nrack 1 left\nrow both knit\nrack to centre\nrow both knit\nbind off both",
            &[("racked-two-steps", "2 steps")],
        ),
        // The widest bed has no name for the needle past its end.
        (
            "machine wide {\n    needles 128 each side\n}\n",
            "piece \"Strap\" {\nin work front R120-R128\nthread slate\ncast on wound front\nrow front knit\nincrease front 1 at right\nbind off front\n}",
            &[("off-bed", "1 needle past the end of the bed is asked for")],
        ),
        (
            "machine wide {\n    needles 128 each side\n}\n",
            "piece \"Strap\" {\nin work front R120-R127\nthread slate\ncast on wound front\nrow front knit\nincrease front 3 at right\nbind off front\n}",
            &[("off-bed", "2 needles past the end of the bed are asked for")],
        ),
        // A bed without stitches has no edge; one with a single stitch has, but no neighbour.
        (
            FRONT,
            "decrease back 1 at left\nbind off front",
            &[("nothing-to-do", "the back bed has no edge to decrease at")],
        ),
        (
            FRONT,
            "increase back 1 at left\nbind off front",
            &[("nothing-to-do", "the back bed has no edge to increase at")],
        ),
        (
            "in work front L1\nthread slate\ncast on wound front\n",
            "row front knit\ndecrease front 1 at left\nbind off front",
            &[("nothing-to-do", "the left edge of the front bed has no neighbour to take the stitch")],
        ),
        // The size set is not looser than itself.
        (
            FRONT,
            "stitch size front 4\ngaiting opposite\nin work back L8-R8\nrow front knit, size 4\ntransfer front to back\nbind off back",
            &[("tight-transfer", "16 stitches")],
        ),
        (
            FRONT,
            "stitch size front 4\ngaiting opposite\nin work back L8-R8\nrow front knit, size 5\ntransfer front to back\nbind off back",
            &[],
        ),
        // Neither out of work nor ready: held.
        (
            "in work front L3-R3\nthread slate\n",
            "hold front L3\ncast on open front L3-R3\nrelease front\nrow front knit, new loops\nrow front knit\nbind off front",
            &[("nothing-to-do", "front L3 is held and cannot be cast on")],
        ),
        // Only needles in work can be held; which of them are held already does not matter.
        (
            FRONT,
            "row front knit\nhold front R8-R9\nrows 2 front knit\nrelease front R7-R9\nrow front knit\nbind off front",
            &[("nothing-to-do", "front R9 is out of work and cannot be held")],
        ),
        (
            FRONT,
            "row front knit\nhold front R8\nrows 2 front knit\nhold front R7-R8\nrows 2 front knit\nrelease front\nrow front knit\nbind off front",
            &[],
        ),
        // Racked over several needles at once: that is said, and not the strain of it as well.
        (
            BOTH,
            "row both knit\nrack 3 right\nrack to centre\nrow both knit\nbind off both",
            &[("racked-two-steps", "3 steps")],
        ),
        // A bed that is asked to knit and has nothing in work.
        (FRONT, "row both knit\nbind off front", &[("nothing-to-do", "the back bed has no needle in work")]),
        (FRONT, "row front knit, back slip\nbind off front", &[]),
    ];
    for (start, lines, expected) in edges {
        let checked = checked(&Rule::whole(&format!("{start}{lines}")));
        let found: Vec<&str> = checked.findings.iter().map(|finding| finding.rule.name).collect();
        let rules: Vec<&str> = expected.iter().map(|(rule, _)| *rule).collect();
        assert_eq!(found, rules, "{lines}\n{}", told(&checked));
        for (finding, (_, words)) in checked.findings.iter().zip(*expected) {
            assert!(finding.what.contains(words), "{}", finding.what);
        }
    }
}

#[test]
fn a_profile_that_empties_needles_asks_for_a_word() {
    let piece = |move_line: &str| {
        let lines = format!(
            "{FRONT}row front knit, loosened 1\n{move_line}\nrow front knit, new loops\nrow front knit\nbind off front"
        );
        checked(&format!(
            "machine attic {{\n    needles 20 each side\n    emptied needles go out of work\n}}\nyarn slate {{}}\npiece \"Strap\" {{\n{lines}\n}}\n"
        ))
        .findings
    };
    let found = piece("move front L2 1 left, joining");
    assert_eq!(
        found.iter().map(|finding| finding.rule.name).collect::<Vec<_>>(),
        ["eyelet-becomes-ladder"],
        "said once"
    );
    assert!(found[0].what.contains("front L2 is emptied") && found[0].mend.contains("emptied stay"), "{found:?}");
    assert_eq!(piece("move front L2 1 left, joining, emptied stay in work"), []);
}

#[test]
fn several_needles_are_held_away_from_the_carriage() {
    let found = |lines: &str| {
        let start = "in work front L5-R5\nthread slate\ncast on wound front\n";
        let checked = checked(&Rule::whole(&format!("{start}{lines}release front\nrow front knit\nbind off front")));
        checked.findings.iter().map(|finding| finding.rule.name).collect::<Vec<_>>()
    };
    assert_eq!(found("rows 2 front knit\nhold front L5-L4\nrows 2 front knit\n"), ["held-at-carriage-side"]);
    assert_eq!(found("row front knit\nhold front R4-R5\nrows 2 front knit\n"), ["held-at-carriage-side"]);
    assert_eq!(found("hold front R4-R5\nrows 2 front knit\n"), [""; 0]);
    assert_eq!(found("row front knit\nhold front L5-L4\nrows 2 front knit\n"), [""; 0]);
    // One alone closes the hole of a short row, and those in the middle are bridged by a float.
    assert_eq!(found("hold front L5\nrows 2 front knit\n"), [""; 0]);
    assert_eq!(found("hold front L1-R1\nrows 2 front knit\n"), [""; 0]);
}

#[test]
fn a_row_takes_yarn_and_its_new_loops_are_new() {
    let found = |lines: &str| {
        let start = "in work front L5-R5\nthread slate\ncast on wound front\n";
        let checked = checked(&Rule::whole(&format!("{start}{lines}bind off front")));
        checked.findings.iter().map(|finding| finding.what.clone()).collect::<Vec<_>>()
    };
    let slips = "every needle in work slips, so this row knits nothing";
    assert_eq!(found("row front slip\n"), [slips]);
    assert_eq!(found("rows 4 front slip\n"), [slips]);
    assert_eq!(found("row front slip on L1, knit elsewhere\n"), [""; 0]);
    let none = "no needle is empty here, so this row makes no new loops";
    assert_eq!(found("row front knit, new loops\n"), [none]);
    assert_eq!(found("in work front L6\nrows 2 front knit, new loops\n"), [""; 0]);
}

/// The findings of a piece on a machine whose emptied needles go out of work.
fn on_the_attic_machine(lines: &str) -> Vec<&'static str> {
    let machine = "machine attic {\n    needles 20 each side\n    emptied needles go out of work\n}\nyarn slate {}\n";
    checked(&format!("{machine}piece \"Strap\" {{\n{lines}\n}}\n"))
        .findings
        .iter()
        .map(|finding| finding.rule.name)
        .collect()
}

#[test]
fn only_what_joins_on_its_own_bed_is_meant_as_an_eyelet() {
    let knit = "in work front L5-R5, back L5-R5\nthread slate\ncast on wound front\ngaiting opposite\nrow front knit, loosened 1\n";
    // Back again where a stitch went from: nothing joins there.
    let there_and_back = "drop front L2\nmove front L1 1 left\nin work front L1\nmove front L2 1 right\nin work front L2\nnew loops front L2\n";
    assert_eq!(on_the_attic_machine(&format!("{knit}{there_and_back}row front knit\nbind off front")), [""; 0]);
    // To the other bed.
    let across = "in work back R9\nmove front R2 to back, joining\nrow both knit\nbind off both";
    let found = on_the_attic_machine(&format!("{knit}new loops back R2\n{across}"));
    assert!(!found.contains(&"eyelet-becomes-ladder"), "{found:?}");
}

#[test]
fn a_move_by_hand_has_nothing_to_do_with_racking() {
    let said = |line: &str| {
        let checked = checked(&Rule::whole(&format!(
            "in work front L4-R4, back L4-R3\nthread slate\ncast on wound front\ngaiting opposite\nrow front knit, loosened 1\nrack 1 right\n{line}\nrack to centre\nbind off both"
        )));
        let lost: Vec<_> = checked.findings.into_iter().filter(|finding| finding.rule.name == "lost-stitch").collect();
        assert_eq!(lost.len(), 1, "{line}: {lost:?}");
        lost[0].mend.clone()
    };
    assert!(!said("move front R3 4 right").contains("racked"), "{}", said("move front R3 4 right"));
    assert!(said("transfer front L4 to back").contains("The beds are racked 1 step right"));
}

#[test]
fn a_move_past_the_end_of_the_bed_is_lost_and_not_far() {
    let rules = |line: &str| {
        let lines = format!("in work front L19-R19\nthread slate\ncast on wound front\nrows 2 front knit\n{line}");
        checked(&Rule::whole(&lines)).findings.iter().map(|finding| finding.rule.name).collect::<Vec<_>>()
    };
    assert_eq!(rules("move front R9-R19 8 right, joining\nbind off front")[0], "lost-stitch");
    assert!(!rules("move front R9-R19 8 right, joining\nbind off front").contains(&"far-move"));
    assert!(rules("move front R9-R10 8 right, joining\nbind off front").contains(&"far-move"));
}

#[test]
fn where_a_stitch_ends_is_told_of_its_definition_or_of_its_use() {
    let works = |stitch: &str, uses: &str| {
        let piece =
            format!("in work front L3-R3, back L3-R3\nthread slate\ncast on wound front\ngaiting opposite\n{uses}");
        let text = format!("stitch drift {stitch}\npiece \"Strap\" {{\n{piece}\n}}");
        checked(&Rule::whole(&text)).findings.iter().map(|finding| finding.rule.name).collect::<Vec<_>>()
    };
    let across = "{\nrow front knit, loosened 1\ntransfer front L3-R3 to back\n}";
    assert_eq!(works(&format!("from front to back {across}"), "work drift\nbind off back"), [""; 0]);
    // What the beds carry is known only when it is worked: all of the front bed's needles are named.
    assert_eq!(works(&format!("on front {across}"), "work drift\nbind off back"), ["wrong-bed"]);
    let twice = works(&format!("from front to back {across}"), "work drift 2 times\nbind off back");
    assert_eq!(twice, ["open-repeat"], "said once, of the definition");
    assert_eq!(
        works("on front {\nrow front knit\ngaiting between\n}", "work drift 2 times\nbind off front"),
        ["open-repeat"]
    );
}

#[test]
fn a_pile_names_where_its_limit_comes_from() {
    let why = |tucks: &str| {
        let machine = format!("machine small {{\nneedles 20 each side\n{tucks}\n}}\n");
        let moves = "move front L5 1 right, joining\nmove front L3 1 left, joining\nmove front L6 2 right, joining\nmove front L2 2 left, joining\n";
        let piece =
            format!("{FRONT}rows 2 front knit\n{moves}out of work front empty\nrows 2 front knit\nbind off front");
        let checked = checked(&Rule::whole(&format!("{machine}piece \"Strap\" {{\n{piece}\n}}")));
        let pile = checked.findings.iter().find(|finding| finding.rule.name == "stitch-pile");
        pile.map(|finding| finding.why.clone()).unwrap_or_default()
    };
    assert_eq!(why("most tucks 2"), "A hook holds 3 loops laid together (common practice, no source).");
    assert_eq!(why("most tucks 3"), "A hook holds 3 loops laid together (the machine's profile).");
    assert_eq!(why("most tucks 5"), "");
}

#[test]
fn a_loop_that_was_only_tucked_runs_across_too() {
    let rack = "rack 1 left\n".to_owned();
    let lines = format!(
        "in work front L4-R4, back L4-R3\nthread slate\ncast on wound front\ncast on wound back\nrow both tuck\n{}row both knit\nbind off both",
        (rack + "row front slip, back slip\n").repeat(3)
    );
    let machine = "machine small {\nneedles 20 each side\nracking slack 2\n}\n";
    let found = checked(&Rule::whole(&format!("{machine}piece \"Strap\" {{\n{lines}\n}}"))).findings;
    let strain = found.iter().find(|finding| finding.rule.name == "racking-strain");
    assert!(strain.is_some_and(|finding| finding.what.contains("pulled sideways over 3 steps")), "{found:#?}");
}

/// The right half waits while the left half of a neck is shaped.
#[test]
fn the_edge_beside_held_stitches_is_that_of_the_needles_in_work() {
    let neck = |lines: &str| {
        let head = format!("{FRONT}rows 2 front knit\nhold front R1-R8\n");
        checked(&Rule::whole(&format!("{head}{lines}\nrelease front\nrow front knit on loaded\nbind off front")))
            .findings
            .into_iter()
            .map(|finding| (finding.rule.name, finding.what))
            .collect::<Vec<_>>()
    };
    let decreases = "row front knit\ndecrease front 1 at right, inset 2\nrow front knit";
    assert_eq!(neck(&format!("{decreases}\nbind off front L8-L2\nexpect 8 stitches front")), []);
    // Beside it there is no needle to grow onto; a needle that was emptied first is one.
    let grows = neck("row front knit\nincrease front 1 at right\nrow front knit");
    assert_eq!(grows, [("nothing-to-do", "front R1 carries a stitch that is held".to_owned())]);
    let three = neck("row front knit\nincrease front 3 at right\nrow front knit");
    assert_eq!(three, [("nothing-to-do", "front R1-R3 each carry a stitch that is held".to_owned())]);
    assert_eq!(neck(&format!("{decreases}\nincrease front 1 at right\nrows 2 front knit")), []);
    // Where all wait there is none.
    for line in ["decrease front 1 at right", "increase front 1 at left"] {
        let all = neck(&format!("hold front L8-L1\n{line}\nexpect 16 stitches front"));
        assert!(matches!(&all[..], [("nothing-to-do", what), ..] if what.contains("has no edge to")), "{all:?}");
    }
}

#[test]
fn a_loop_that_is_only_caught_occupies_its_bed() {
    let rib = "in work front L4-R4\nthread slate\ncast on wound front\nrow front knit\nin work back L4-R3\nrow both knit, new loops";
    let rows = "row both knit\nrow both knit";
    let rules =
        |text: &str| checked(&Rule::whole(text)).findings.iter().map(|finding| finding.rule.name).collect::<Vec<_>>();
    assert_eq!(rules(&format!("{rib}\nrepeat 5 times {{\n{rows}\n}}\nbind off both")), [""; 0]);
    let stitch = format!("stitch ribbing on both {{\n{rows}\n}}\n");
    let piece = |stitch: &str, work: &str| format!("{stitch}piece \"Strap\" {{\n{rib}\n{work}\nbind off both\n}}");
    assert_eq!(rules(&piece(&stitch, "work ribbing 5 times")), [""; 0]);
    let front = "stitch plain on front {\nrow front knit\n}\n";
    assert!(rules(&piece(front, "work plain")).contains(&"wrong-bed"));
}
