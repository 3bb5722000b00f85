//! What a rule says in each of the cases that it knows.

use super::checked;
use super::edges::FRONT;
use wale::finding::Finding;
use wale::rules::Rule;

const BOTH: &str = "in work front L4-R4, back L4-R4\nthread slate\ncast on wound front, back\n";

/// Everything that a finding says, in one line.
fn said(finding: &Finding) -> String {
    format!("{} | {} | {}", finding.what, finding.why, finding.mend)
}

/// That a pattern has one finding, which says all of these, and that the same pattern with its advice followed has none.
fn teaches(text: &str, rule: &str, words: &[&str], followed: &str) {
    let found = checked(&Rule::whole(text)).findings;
    assert_eq!(found.iter().map(|finding| finding.rule).collect::<Vec<_>>(), [rule], "{text}\n{found:?}");
    for words in words {
        assert!(said(&found[0]).contains(words), "{words}: {}", said(&found[0]));
    }
    is(followed, &[]);
}

/// That exactly these findings are told: the rule, and words of the message.
fn is(text: &str, expected: &[(&str, &str)]) {
    let found = checked(&Rule::whole(text)).findings;
    let rules: Vec<&str> = found.iter().map(|finding| finding.rule).collect();
    assert_eq!(rules, expected.iter().map(|(rule, _)| *rule).collect::<Vec<_>>(), "{text}\n{found:?}");
    for (finding, (_, words)) in found.iter().zip(expected) {
        assert!(said(finding).contains(words), "{words}: {}", said(finding));
    }
}

#[test]
fn a_line_that_finds_nothing_says_what_it_looked_for() {
    for (start, lines, words) in [
        (FRONT, "in work front L8-R8\nbind off front", "nothing here to bring into work: front L8-R8 | Whatever"),
        (FRONT, "out of work front L9\nbind off front", "nothing here to put out of work: front L9 | Whatever"),
        (FRONT, "out of work back\nbind off front", "nothing here to put out of work | Whatever"),
        (FRONT, "release front\nbind off front", "nothing here to release | Nothing that"),
        (FRONT, "hold front L9\nbind off front", "nothing here to hold: front L9 | A needle must be in work"),
        (FRONT, "bind off front\ndecrease front 1 at left", "the front bed has no edge to decrease at"),
        (
            "in work back L8-R8\nthread slate\ncast on wound back\n",
            "bind off back\ndecrease back 1 at left",
            "the back bed has no edge to decrease at",
        ),
        (
            "in work front L1\nthread slate\ncast on wound front\n",
            "decrease front 1 at left\nbind off front",
            "the front edge has no neighbour to take the stitch",
        ),
        (FRONT, "bind off front\nincrease front 1 at left", "the front bed has no edge to increase at"),
        (
            FRONT,
            "move front L7 1 right, joining, emptied go out of work\nrow front knit\nincrease front 1 at left, inset 3\nbind off front",
            "the edge of the front bed is no group of 3 stitches side by side",
        ),
        (
            FRONT,
            "gaiting opposite\ntransfer front L9 to back\nbind off front",
            "front L9 has no stitch to give | It is empty",
        ),
        (
            FRONT,
            "gaiting opposite\ntransfer front L10-L9 to back\nbind off front",
            "front L10-L9 have no stitch to give | They are",
        ),
        (FRONT, "bind off front\ngaiting opposite\ntransfer front to back", "the front bed has no stitches to move"),
        (
            FRONT,
            "bind off front L8\nbind off front L8-L7\nbind off front",
            "front L8 has no stitch to take off | It is",
        ),
        (FRONT, "bind off front L8-L7\nbind off front L8-L6\nbind off front", "have no stitch to take off | They are"),
        (
            BOTH,
            "bind off front L4, back L4\nbind off front L4-L3, back L4-L3\nbind off both",
            "front L4 and back L4 have no stitch to take off | They are",
        ),
        // Both directions name the back bed, or only the one in which the row does not go.
        (FRONT, "rows 2 front knit, back knit\nbind off front", "the back bed has no needle in work"),
        (FRONT, "row to right front knit, back knit\nbind off front", "the back bed has no needle in work"),
    ] {
        is(&format!("{start}{lines}"), &[("nothing-to-do", words)]);
    }
    let open = "in work front L8-R8\nthread slate\n";
    is(
        &format!("{open}cast on open front L8-R9\nbind off front"),
        &[("nothing-to-do", "Write before this line: `in work front R9`")],
    );
}

#[test]
fn a_direction_that_does_nothing_on_a_bed_asks_nothing_of_it() {
    let one_way = "rows 2 to right front knit, to left front knit, back slip\nbind off front";
    is(&format!("{FRONT}{one_way}"), &[]);
    let other_way = "rows 2 to right front knit, back slip, to left front knit, back knit\nbind off front";
    is(&format!("{FRONT}{other_way}"), &[("nothing-to-do", "the back bed has no needle in work")]);
    let once = other_way.replace("rows 2", "row");
    let toward_right = format!("in work front L8-R8\nthread slate\ncarriage left\ncast on wound front\n{once}");
    is(&toward_right, &[]);
}

#[test]
fn a_size_is_told_where_it_is_set() {
    is(
        &format!("{FRONT}stitch size 12\nrow front knit\nrow front knit\nbind off front"),
        &[("size-range", "stitch size 12")],
    );
    is(&format!("{FRONT}row front knit, size 12\nrow front knit\nbind off front"), &[("size-range", "stitch size 12")]);
    is(
        &format!("{FRONT}stitch size 9\nrow front knit, loosened 2\nrow front knit\nbind off front"),
        &[("size-range", "stitch size 11")],
    );
}

#[test]
fn a_repeat_that_does_not_close_says_what_differs() {
    let opposite = "repeat 2 times {\ngaiting opposite\nrow front knit\n}\nbind off front";
    is(
        &format!("{FRONT}{opposite}"),
        &[("open-repeat", "begins with gaiting `between` and ends with gaiting `opposite`")],
    );
    let between = "gaiting opposite\nrepeat 2 times {\nrow front knit\ngaiting between\n}\nbind off front";
    is(
        &format!("{FRONT}{between}"),
        &[("open-repeat", "begins with gaiting `opposite` and ends with gaiting `between`")],
    );
    // A stitch that ends on another bed than it begins on says so in its first line.
    let moves = "stitch shift from front to back {\nrow front knit, loosened 1\ntransfer front to back\n}\n";
    let work = "piece \"Strap\" {\nin work front L3-R3, back L3-R3\nthread slate\ncast on wound front\ngaiting opposite\nwork shift\nbind off back\n}";
    is(&format!("{moves}{work}"), &[]);
}

#[test]
fn a_float_is_counted_in_needles_where_the_profile_does_so() {
    let machine = "machine small {\n    needles 20 each side\n    longest float 3 needles\n}\n";
    let piece = |lines: &str| format!("{machine}piece \"Strap\" {{\n{FRONT}{lines}\nbind off front\n}}");
    // The yarn was left at L8; three needles may be passed, and four are too many.
    is(&piece("rows 2 front knit\nrow front knit on L4-R8\nrow front knit"), &[]);
    is(
        &piece("rows 2 front knit\nrow front knit on L3-R8\nrow front knit"),
        &[("long-float", "from front L8 to front L3, past 4 needles")],
    );
}

#[test]
fn a_cast_on_that_shares_loops_says_where_to_rack() {
    // Two stitches and a gap on either bed: one step brings the needles of one bed into the gaps of the other.
    let ribs = |machine: &str| {
        format!(
            "machine small {{\nneedles 20 each side\n{machine}\n}}\npiece \"Strap\" {{\nin work front \".||\" over L9-R9, \
             back \"|.|\" over L9-R9\nthread slate\ncast on zigzag\nbind off both\n}}"
        )
    };
    is(
        &ribs("racking back bed, 2 left to 2 right"),
        &[("cast-on-shares-a-loop", "Write `rack to 1 left` before the cast-on")],
    );
    // A machine that goes only to the other side is racked to that.
    let right = checked(&Rule::whole(&ribs("racking back bed, 0 left to 2 right"))).findings;
    assert!(said(&right[0]).contains("Write `rack to 1 right`"), "{}", said(&right[0]));
}

#[test]
fn a_promise_about_stitches_says_which_bed_it_is_about() {
    let told = |promise: &str, words: &str| {
        is(&format!("{BOTH}row both knit\n{promise}\nbind off both"), &[("count-mismatch", words)]);
    };
    told("expect 7 stitches front", "the front bed carries 8 stitches, not 7 | That is 1 too many. The front bed");
    told("expect 9 stitches back", "the back bed carries 8 stitches, not 9 | That is 1 too few. The front bed");
    told("expect 14 stitches both", "both beds together carry 16 stitches, not 14 | That is 2 too many. The front bed");
}

#[test]
fn a_looser_row_is_offered_on_the_bed_that_made_or_carries_the_stitches() {
    let opposite = "gaiting opposite\nin work front L4-R4, back L4-R4\nthread slate\ncast on wound front\n";
    let one_bed = |row: &str| format!("{opposite}{row}\ntransfer front to back\nout of work front\nbind off back");
    let loose = "row front knit, loosened 2";
    teaches(&one_bed("row front knit"), "tight-transfer", &[&format!("for example `{loose}`")], &one_bed(loose));
    let rib = |row: &str| format!("{BOTH}{row}\ngaiting opposite\ntransfer back to front, joining\nbind off front");
    let loose = "row both knit, loosened 2";
    teaches(&rib("row both knit"), "tight-transfer", &[&format!("for example `{loose}`")], &rib(loose));
    // The cast-on and no row made them.
    let zigzag = "in work front L4-R4, back L4-R3\nthread slate\ncast on zigzag\n";
    let cast = |row: &str| {
        format!("{zigzag}{row}gaiting opposite\ntransfer back to front, joining\nrow front knit\nbind off front")
    };
    let loose = "row back knit, loosened 2";
    teaches(&cast(""), "tight-transfer", &[&format!("for example `{loose}`")], &cast(&format!("{loose}\n")));
}
