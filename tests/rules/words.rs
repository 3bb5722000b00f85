//! What a rule says in each of the cases that it knows.

use super::checked;
use super::edges::FRONT;
use wale::catalogue::Rule;
use wale::finding::Finding;

const BOTH: &str = "in work front L4-R4, back L4-R4\nthread slate\ncast on wound front, back\n";

/// Everything that a finding says, in one line.
fn said(finding: &Finding) -> String {
    format!("{} | {} | {}", finding.what, finding.why, finding.mend)
}

/// That a pattern has one finding, which says all of these, and that the same pattern with its advice followed has none.
fn teaches(text: &str, rule: &str, words: &[&str], followed: &str) {
    let found = checked(&Rule::whole(text)).findings;
    assert_eq!(found.iter().map(|finding| finding.rule.name).collect::<Vec<_>>(), [rule], "{text}\n{found:?}");
    for words in words {
        assert!(said(&found[0]).contains(words), "{words}: {}", said(&found[0]));
    }
    is(followed, &[]);
}

/// That exactly these findings are told: the rule, and words of the message.
fn is(text: &str, expected: &[(&str, &str)]) {
    let found = checked(&Rule::whole(text)).findings;
    let rules: Vec<&str> = found.iter().map(|finding| finding.rule.name).collect();
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
            "the left edge of the front bed has no neighbour to take the stitch",
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

#[test]
fn a_row_on_held_needles_says_that_they_are_held() {
    let all = |here: &str, later: &str| {
        format!("{FRONT}row front knit\nhold front\n{here}rows 10 front knit\n{later}row front knit\nbind off front")
    };
    teaches(
        &all("", "release front\n"),
        "nothing-to-do",
        &[
            "front L8-R8 are held, so this row knits nothing",
            "Write `release front` before the row, and take out a later line",
        ],
        &all("release front\n", ""),
    );
    let some = |here: &str| {
        format!(
            "{FRONT}rows 2 front knit\nhold front R5-R8\n{here}row front knit on R7-R8\nrelease front\nrows 2 front knit\nbind off front"
        )
    };
    let told = ["front R7-R8 are held, so this row knits nothing", "Write `release front R7-R8` before the row"];
    is(&some(""), &[("nothing-to-do", told[0])]);
    is(&some(""), &[("nothing-to-do", told[1])]);
    is(&some("release front\n").replacen("on R7-R8\nrelease front", "", 1), &[]);
    let tube = |here: &str, later: &str| {
        format!(
            "in work front L8-R8, back L8-R7\nthread slate\ncast on zigzag\ntubular 2 rows\nhold back\n{here}tubular 10 rows\n{later}row both knit\nbind off both"
        )
    };
    teaches(
        &tube("", "release back\n"),
        "nothing-to-do",
        &["back L8-R7 are held", "Write `release back` before"],
        &tube("release back\n", ""),
    );
    // Where other needles knit, the held ones wait as they should; what slips is not asked.
    is(
        &format!(
            "{FRONT}hold front R4-R8\nrow front knit on L8-R6\nrow front knit\nrelease front\nrow front knit\nbind off front"
        ),
        &[],
    );
    is(
        &format!(
            "{FRONT}hold front R4-R8\nrow front slip on R5-R8, slip elsewhere\nrow front knit\nrelease front\nrow front knit\nbind off front"
        ),
        &[("nothing-to-do", "every needle in work slips")],
    );
}

#[test]
fn a_row_on_the_bare_bed_says_where_the_stitches_are() {
    let rows = |bed: &str| format!("{FRONT}rows 2 {bed} knit\nbind off front");
    let words = [
        "no needle of the back bed is in work, so this row knits nothing",
        "The front bed carries 16 stitches, front L8-R8, and the back bed none.",
        "Name the front bed in the row; or",
    ];
    teaches(&rows("back"), "nothing-to-do", &words, &rows("front"));
    let held =
        format!("{FRONT}row front knit\nhold front\nrow back knit\nrelease front\nrow front knit\nbind off front");
    is(&held, &[("nothing-to-do", "Name the front bed in the row after `release front`; or")]);
}

#[test]
fn an_increase_at_one_edge_waits_for_the_carriage() {
    let rows = |number: u32| {
        format!("{FRONT}rows {number} front knit\nincrease front 2 at right\nrow front knit\nbind off front")
    };
    let more = "Knit one row more or one row fewer before it, so that the carriage stands on the right.";
    teaches(&rows(2), "wrong-side", &["added on the right", more], &rows(3));
    is(&rows(1), &[]);
    let at_once = |row: &str| format!("{FRONT}{row}increase front 2 at right\nrow front knit\nbind off front");
    let before = "Knit one row before it, so that the carriage stands on the right.";
    teaches(&at_once(""), "wrong-side", &[before], &at_once("row front knit\n"));
    let each = |lines: &str| format!("{FRONT}rows 2 front knit\n{lines}\nrow front knit\nbind off front");
    teaches(
        &each("increase front 2 at each edge"),
        "wrong-side",
        &["Add them on the left here, knit one row, and add the others then."],
        &each("increase front 2 at left\nrow front knit\nincrease front 2 at right"),
    );
}

#[test]
fn a_decrease_that_finds_no_neighbour_says_how_many_stitches_there_are() {
    let four = |line: &str| {
        format!("in work front L2-R2\nthread slate\ncast on wound front\nrow front knit\n{line}\nbind off front")
    };
    teaches(
        &four("decrease front 3 at each edge"),
        "nothing-to-do",
        &[
            "neither edge of the front bed has a neighbour",
            "The front bed carries 4 stitches here. The line lays the 3 stitches at the edge 3 needles inward, so that edge needs 6 stitches.",
            "`decrease front 1 at each edge` can be done here",
        ],
        &four("decrease front 1 at each edge"),
    );
    teaches(
        &four("decrease front 1 at right, inset 4"),
        "nothing-to-do",
        &[
            "the right edge of the front bed",
            "so that edge needs 5 stitches",
            "`decrease front 1 at right, inset 3` can be done",
        ],
        &four("decrease front 1 at right, inset 3"),
    );
    let repeated = |times: u32| {
        format!("{FRONT}repeat {times} times {{\nrows 2 front knit\ndecrease front 1 at each edge\n}}\nbind off front")
    };
    teaches(
        &repeated(12),
        "nothing-to-do",
        &[
            "the right edge of the front bed has no neighbour",
            "The front bed carries 1 stitch after the decrease on the left.",
            "The stitches are used up in pass 8 of 12: repeat it 7 times at most.",
        ],
        &repeated(7),
    );
    let last = "in work front L1\nthread slate\ncast on wound front\n";
    teaches(
        &format!("{last}decrease front 1 at left\nbind off front"),
        "nothing-to-do",
        &["The front bed carries 1 stitch here.", "Take the line out; bind off the stitch that is left"],
        &format!("{last}bind off front"),
    );
}

#[test]
fn a_decrease_over_a_gap_says_which_needle_is_bare_and_what_reaches_over_it() {
    let rib = |line: &str| {
        format!(
            "gaiting opposite\nin work front every 2 over L10-R9, back every 2 over L9-R10\nthread slate\ncast on zigzag\n             tubular 2 rows\nrow both knit\n{line}\nrow both knit\nbind off both"
        )
    };
    let left = "move front L10 2 right, joining, emptied go out of work";
    teaches(
        &rib("decrease front 1 at left"),
        "nothing-to-do",
        &[
            "the left edge of the front bed",
            "from front L10 1 needle inward, and front L9 carries none.",
            &format!("Write in place of this line what reaches over the gap: `{left}`."),
        ],
        &rib(left),
    );
    let right = "move front R9 2 left, joining, emptied go out of work";
    teaches(
        &rib("decrease front 1 at each edge"),
        "nothing-to-do",
        &["On the right the edge stitch would go from front R9", &format!("`{left}`, then `{right}`")],
        &rib(&format!("{left}\n{right}")),
    );
    // Only the right edge has a gap, and the line is replaced whole.
    let uneven = |lines: &str| {
        format!(
            "in work front L8-R1 or R3\nthread slate\ncast on wound front\nrow front knit\n{lines}\nrow front knit\nbind off front"
        )
    };
    let hand = "move front R3 2 left, joining, emptied go out of work";
    teaches(
        &uneven("decrease front 1 at each edge"),
        "nothing-to-do",
        &["the right edge of the front bed", &format!("`decrease front 1 at left`, then `{hand}`")],
        &uneven(&format!("decrease front 1 at left\n{hand}")),
    );
}

#[test]
fn a_zigzag_on_one_bed_says_that_it_goes_between_both() {
    let start = "in work front L8-R8, back L8-R7\nthread slate\n";
    let both = |cast: &str| format!("{start}{cast}\ntubular 2 rows\nrow both knit\nbind off both");
    let found = checked(&Rule::whole(&both("cast on zigzag front"))).findings;
    assert!(
        said(&found[0]).contains("between both beds: write `cast on zigzag`, without a bed."),
        "{}",
        said(&found[0])
    );
    is(&both("cast on zigzag"), &[]);
    let alone = |cast: &str| format!("in work front L8-R8\nthread slate\n{cast}\nrow front knit\nbind off front");
    teaches(
        &alone("cast on zigzag front"),
        "cast-on-shares-a-loop",
        &[
            "bring needles of the back bed into work before it",
            "For the front bed alone take another cast-on, for example `cast on wound front`.",
        ],
        &alone("cast on wound front"),
    );
}

#[test]
fn several_needles_that_wait_are_spoken_of_as_several() {
    let waiting = |needles: &str| {
        format!("{FRONT}row front knit\nrows 9 front slip on {needles}, knit elsewhere\nrow front knit\nbind off front")
    };
    is(
        &waiting("R1"),
        &[("stretched-hold", "front R1 waits while both neighbours knit | Its last loop is from row 1")],
    );
    is(
        &waiting("L3 or R1"),
        &[("stretched-hold", "front L3, R1 wait while both neighbours knit | The last loop of front L3 is from row 1")],
    );
    is(&waiting("L3 or R1"), &[("stretched-hold", "Knit the needles in between, or let their neighbours wait too")]);
}

#[test]
fn a_pick_up_of_too_many_says_how_many_there_are() {
    let cast = |line: &str| format!("{FRONT}{line}\nrows 2 front knit\nbind off front");
    teaches(
        &cast("pick up front L10-L9"),
        "too-few-to-pick-up",
        &[
            "2 loops too few",
            "No loops have been knitted through so far in this piece, and the line asks for 2.",
            "`new loops front L10-L9`",
        ],
        &cast("new loops front L10-L9"),
    );
    let bare = |line: &str| format!("in work front L8-R8\nthread slate\n{line}\nbind off front");
    let found = checked(&Rule::whole(&bare("pick up front L8-R8"))).findings;
    assert!(
        said(&found[0]).contains("and the line asks for 16. | Stitches of another piece come from waste yarn: write `onto waste yarn front as \"shoulder\"` there, and here `pick up front L8-R8 from \"shoulder\"`."),
        "{}",
        said(&found[0])
    );
    is(&bare("cast on wound front"), &[]);
    let waste = |put: &str, needles: &str| {
        format!("{FRONT}row front knit\n{put}pick up front {needles} from waste yarn\nrow front knit\nbind off front")
    };
    is(
        &waste("", "L10-L9"),
        &[(
            "too-few-to-pick-up",
            "No stitches are on waste yarn here, and the line asks for 2. | Take stitches off with `onto waste yarn`",
        )],
    );
    let one = "onto waste yarn front L8\n";
    let found = checked(&Rule::whole(&waste(one, "L9-L8"))).findings;
    assert!(
        said(&found[0]).contains("1 stitch is on waste yarn here, and the line asks for 2. | Name 1 needle at most."),
        "{}",
        said(&found[0])
    );
    is(&waste(one, "L8"), &[]);
}

#[test]
fn a_cast_on_over_stitches_names_empty_needles_only_where_there_are_some() {
    let zigzag = |again: &str| {
        format!(
            "in work front L8-R8, back L8-R7\nthread slate\ncast on zigzag\nrow both knit\n{again}rows 2 both knit\nbind off both"
        )
    };
    teaches(
        &zigzag("cast on zigzag\n"),
        "doubled-stitch",
        &["No needle that the line means is empty, so it makes no loop: take it out"],
        &zigzag(""),
    );
    let more = |which: &str| {
        format!(
            "{FRONT}row front knit\nin work front R9-R10\ncast on wound front{which}\nrow front knit\nbind off front"
        )
    };
    teaches(&more(""), "doubled-stitch", &["Name only empty needles here: `all but loaded`"], &more(" all but loaded"));
}

#[test]
fn an_edge_with_too_few_stitches_in_work_says_that_others_are_held() {
    let lines = format!("{FRONT}rows 2 front knit\nhold front L7-R8\nrow front knit\ndecrease front 1 at right");
    let checked = checked(&Rule::whole(&format!("{lines}\nrelease front\nrow front knit\nbind off front")));
    let why = checked.findings.first().map(|finding| finding.why.clone()).unwrap_or_default();
    assert!(why.starts_with("The front bed carries 1 stitch not held here."), "{why}");
}

#[test]
fn a_row_that_asks_held_needles_names_just_those() {
    let said = |pick: &str| {
        let row = format!("row front knit on {pick}, slip elsewhere");
        let lines =
            format!("{FRONT}rows 2 front knit\nhold front L3-R8\n{row}\nrelease front\nrow front knit\nbind off front");
        checked(&Rule::whole(&lines)).findings.first().map(|finding| finding.what.clone()).unwrap_or_default()
    };
    let held = |needles: &str| format!("{needles} held, so this row knits nothing");
    assert_eq!(said("L3-R3"), held("front L3-R3 are"));
    assert_eq!(said("L3-R3 and L1-R8"), held("front L1-R3 are"));
    assert_eq!(said("L3-L2 or R2"), held("front L3-L2, R2 are"));
    assert_eq!(said("R2"), held("front R2 is"));
}

#[test]
fn a_bed_without_an_edge_says_why() {
    let why = |lines: &str| {
        let checked = checked(&Rule::whole(&format!("{FRONT}rows 2 front knit\n{lines}\nbind off front")));
        checked.findings.first().map(|finding| finding.why.clone()).unwrap_or_default()
    };
    let held = "All its stitches are held at this point, and a held stitch stays where it is.";
    let bare = "No needle of that bed carries a stitch at this point.";
    for change in ["decrease", "increase"] {
        assert_eq!(why(&format!("hold front\n{change} front 1 at left\nrelease front")), held);
        assert_eq!(why(&format!("{change} back 1 at left")), bare);
    }
}
