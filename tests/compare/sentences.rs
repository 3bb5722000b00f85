//! What is said of each kind of change.

use super::{between, told};
use wale::compare::form::{About, Comparison, How};
use wale::syntax::tree::SpeechWord;

const SCARF: &str = r#"pattern "Breakwater scarf"

machine club {
    needles 96 each side
    pitch 5.4 mm
    transfer carriage
}
yarn slate { count 2/15 Nm }
yarn foam { colour "white" }
gauge half-cardigan { 26 stitches and 44 rows in 10 cm, washed }
let length = 120 cm
let border = 4 rows

stitch half-cardigan on both {
    row front knit, back knit
    row front knit, back tuck
}

piece "Scarf" {
    in work front L30-R30, back L30-R29
    thread slate
    section "Hem" {
        stitch size 3
        cast on zigzag
        tubular border
        expect 60 stitches front
    }
    section "Body" {
        stitch size 5
        remind every 60 rows "Move the weights up."
        work half-cardigan for length
        note "Thread the other yarn."
        repeat 6 times {
            rows 2 both knit
            row front knit, back knit, loosened 1
        }
        row both knit, loosened 3
        gaiting opposite
        transfer back to front, joining
        out of work back
        bind off front
    }
}
"#;

fn changed(old: &str, new: &str) -> Comparison {
    assert!(SCARF.contains(old), "{old} stands in the pattern");
    between(SCARF, &SCARF.replacen(old, new, 1))
}

/// The changes of the knitting: what they are about, and the sentences.
fn knitting(comparison: &Comparison) -> Vec<(About, How, &str)> {
    comparison.knitting.iter().map(|change| (change.about, change.how, change.what.as_str())).collect()
}

fn words(comparison: &Comparison) -> Vec<(About, How, &str)> {
    comparison.words.iter().map(|change| (change.about, change.how, change.what.as_str())).collect()
}

/// One change of the words, and the same knitting.
fn only_words(old: &str, new: &str, about: About, how: How, what: &str) {
    let comparison = changed(old, new);
    assert!(comparison.is_same(), "{}", told(&comparison));
    assert_eq!(words(&comparison), [(about, how, what)], "{old} -> {new}");
}

/// One change of the knitting.
fn only_knitting(old: &str, new: &str, about: About, how: How, what: &str) -> Comparison {
    let comparison = changed(old, new);
    assert!(!comparison.is_same(), "{}", told(&comparison));
    assert_eq!(knitting(&comparison), [(about, how, what)], "{old} -> {new}");
    comparison
}

#[test]
fn a_changed_row_of_a_repeat_is_one_change_with_its_repeat_and_both_lines() {
    let comparison = only_knitting(
        "row front knit, back tuck",
        "# another\n    row front knit, back tuck on every 2, knit elsewhere",
        About::Row,
        How::Changed,
        "the back bed knits on every second needle from L29 to R28 instead of tucking",
    );
    let [change] = comparison.knitting.as_slice() else { panic!("one change") };
    assert_eq!(change.repeats.len(), 1);
    assert_eq!(
        (change.repeats[0].stitch.as_deref(), change.repeats[0].times.as_slice()),
        (Some("half-cardigan"), &[264][..])
    );
    let lines = [&change.old, &change.new].map(|written| written.as_ref().map(|written| written.line));
    assert_eq!(lines, [Some(16), Some(17)]);
    assert_eq!((change.rows[0].old, change.rows[0].new, change.rows[0].after), (Some(7), Some(7), false));
    assert!(comparison.totals.is_empty());
    assert_eq!(
        told(&comparison),
        "1 change in what is knitted, from old.wale to new.wale:\n\n\
         Piece \"Scarf\"\n  \
         Row 7, line 17 (line 16 before), in `half-cardigan`, worked 264 times: the back bed knits on every\n    \
         second needle from L29 to R28 instead of tucking.\n      \
         before  Front: knit. Back: tuck.\n      \
         now     Front: knit. Back, from L30 to R29, again and again: tuck 1, knit 1.\n"
    );
}

#[test]
fn rows_that_are_new_gone_and_moved() {
    let comparison = only_knitting(
        "row both knit, loosened 3",
        "row front tuck\n        row both knit, loosened 3",
        About::Row,
        How::Added,
        "new: a row",
    );
    assert_eq!(comparison.knitting[0].rows[0].new, Some(552));
    assert_eq!(comparison.knitting[0].old, None);
    assert_eq!(
        comparison.totals.iter().map(|total| (total.what.words(), total.old, total.new)).collect::<Vec<_>>(),
        [("rows", 552, 553)]
    );
    let comparison = only_knitting("        row both knit, loosened 3\n", "", About::Row, How::Removed, "gone: a row");
    assert_eq!(comparison.knitting[0].rows[0].old, Some(552));
    let swapped = changed(
        "gaiting opposite\n        transfer back to front, joining",
        "transfer back to front, joining\n        gaiting opposite",
    );
    assert_eq!(swapped.knitting.len(), 1, "{}", told(&swapped));
    assert_eq!(swapped.knitting[0].how, How::Moved);
}

#[test]
fn settings_needles_and_transfers() {
    let another = |old, new, about, what| drop(only_knitting(old, new, about, How::Changed, what));
    another("stitch size 5", "stitch size 6", About::Setting, "another stitch size");
    another("loosened 3", "loosened 2", About::Row, "the stitch size for this row is another");
    another("row both knit, loosened 3", "row both knit", About::Row, "the stitch size for this row only is gone");
    another("thread slate", "thread foam", About::Setting, "another yarn to thread");
    another("out of work back", "out of work back L30-R28", About::Needles, "other needles put out of work");
    another("cast on zigzag", "cast on open", About::Stitches, "another cast-on row");
    another(
        "transfer back to front, joining",
        "transfer back to front, joining, by hand",
        About::Stitches,
        "another transfer",
    );
    another("bind off front", "bind off front L30-R29", About::Stitches, "another bind-off");
    let racked = changed(
        "        gaiting opposite\n",
        "        rack 1 left\n        rack to centre\n        gaiting opposite\n",
    );
    assert_eq!(knitting(&racked), [(About::Setting, How::Added, "new: a racking"); 2]);
}

#[test]
fn the_width_is_one_change_and_the_stitches_are_counted() {
    let comparison = changed("in work front L30-R30, back L30-R29", "in work front L31-R31, back L31-R30");
    assert_eq!(knitting(&comparison), [(About::Needles, How::Changed, "other needles brought into work")]);
    let totals: Vec<_> = comparison.totals.iter().map(|total| (total.what.words(), total.old, total.new)).collect();
    assert_eq!(totals, [("stitches at the widest", 119, 123), ("stitches after the last row", 119, 123)]);
}

#[test]
fn repeats_and_lengths() {
    let comparison = changed("let length = 120 cm", "let length = 130 cm");
    assert_eq!(
        knitting(&comparison),
        [(
            About::Repeat,
            How::Changed,
            "`half-cardigan` is worked 286 times instead of 264 times, which is 572 rows instead of 528"
        )]
    );
    assert_eq!(
        words(&comparison),
        [
            (About::Value, How::Changed, "the value of `length` is 130 cm instead of 120 cm"),
            (About::Length, How::Changed, "another length asked for"),
        ]
    );
    only_knitting(
        "repeat 6 times",
        "repeat 8 times",
        About::Repeat,
        How::Changed,
        "this repeat is worked 8 times instead of 6 times, which is 24 rows instead of 18",
    );
    only_knitting("rows 2 both knit", "rows 4 both knit", About::Repeat, How::Changed, "4 rows instead of 2");
    // A length that is rounded to as many rows is another wish and the same knitting.
    let comparison = changed("let length = 120 cm", "let length = 1.2 m");
    assert!(comparison.is_same());
    let comparison = changed("let length = 120 cm", "let length = 120.1 cm");
    assert!(comparison.is_same(), "{}", told(&comparison));
    assert_eq!(comparison.words.len(), 2);
}

#[test]
fn values_gauges_and_profiles_are_words_unless_rows_come_of_them() {
    only_words("pitch 5.4 mm", "pitch 4.5 mm", About::Machine, How::Changed, "another line of the profile of `club`");
    only_words("    pitch 5.4 mm\n", "", About::Machine, How::Removed, "a line of the profile of `club` is gone");
    only_words("26 stitches", "27 stitches", About::Gauge, How::Changed, "another line of the gauge `half-cardigan`");
    let same = changed("pitch 5.4 mm", "pitch 0.54 cm");
    assert!(same.is_same() && same.words.is_empty(), "{}", told(&same));
    let taller = changed("44 rows in", "45 rows in");
    assert_eq!(knitting(&taller).len(), 1, "{}", told(&taller));
    assert_eq!(knitting(&taller)[0].0, About::Repeat);
    let border = changed("let border = 4 rows", "let border = 6 rows");
    assert_eq!(knitting(&border), [(About::Repeat, How::Changed, "6 rows instead of 4")]);
    assert_eq!(words(&border), [(About::Value, How::Changed, "the value of `border` is 6 rows instead of 4 rows")]);
}

/// A small tube of both beds that is racked for two rows.
const RACKED: &str = r#"machine shed {
    needles 30 each side
    pitch 4 mm
    racking back bed, 3 left to 3 right
}
yarn slate {}
piece "Strap" {
    gaiting between
    in work front L9-R9, back L9-R8
    thread slate
    cast on zigzag
    rows 4 both knit
    rack 1 left
    rows 2 both knit
    rack to centre
    rows 2 both knit
    bind off both
}
"#;

#[test]
fn the_same_steps_on_the_other_bed_are_another_fabric() {
    let other_bed = RACKED.replace("racking back bed", "racking front bed");
    let found = between(RACKED, &other_bed);
    assert!(!found.is_same(), "{found:?}");
    assert!(found.knitting.iter().any(|change| change.what.contains("other work comes of it")), "{found:?}");
    // One step of the front bed to the right is one of the back bed to the left.
    assert!(between(RACKED, &other_bed.replace("rack 1 left", "rack 1 right")).is_same());
}

#[test]
fn what_does_nothing_and_needles_put_into_work_in_two_lines_are_the_same_knitting() {
    let two_lines = "    in work back L9-R8\n    in work front L9-R9\n";
    let needles = RACKED.replace("    in work front L9-R9, back L9-R8\n", two_lines);
    assert!(between(RACKED, &needles).is_same());
    for nothing in ["decrease front 0 at left", "increase back 0 at each edge"] {
        let idle = RACKED.replacen("    rows 2 both knit\n", &format!("    {nothing}\n    rows 2 both knit\n"), 1);
        assert!(between(RACKED, &idle).is_same(), "{nothing}");
    }
    // One needle more in work takes part in the rows that follow.
    let wider =
        RACKED.replacen("    rows 2 both knit\n", "    in work front R10\n    rows 2 both knit, new loops\n", 1);
    assert!(!between(RACKED, &wider).is_same());
}

#[test]
fn a_profile_that_makes_other_work_says_where() {
    let comparison = changed("    transfer carriage\n", "    transfer carriage\n    emptied needles go out of work\n");
    assert!(!comparison.is_same());
    assert_eq!(knitting(&comparison)[0].2, "the line is the same, and other work comes of it", "{}", told(&comparison));
    assert_eq!(words(&comparison), [(About::Machine, How::Added, "a new line of the profile of `club`")]);
}

#[test]
fn yarns() {
    let another =
        only_knitting("count 2/15 Nm", "count 2/28 Nm", About::Yarn, How::Changed, "another line of the yarn `slate`");
    assert_eq!(another.knitting[0].new.as_ref().map(|new| new.text.clone()), Some(vec!["`count 2/28 Nm`".to_owned()]));
    // Nobody threads it.
    only_words("\"white\"", "\"cream\"", About::Yarn, How::Changed, "another line of the yarn `foam`");
    // What is said of a yarn is how it is known again under another name. A name alone is all there is.
    let renamed = between(SCARF, &SCARF.replace("slate", "granite"));
    assert!(renamed.is_same());
    assert_eq!(words(&renamed), [(About::Yarn, How::Renamed, "the yarn `slate` is called `granite` now")]);
    let crossed = SCARF.replace("slate", "granite").replace("foam", "slate").replace("granite", "foam");
    let crossed = between(SCARF, &crossed);
    assert!(crossed.is_same());
    let called = ["the yarn `foam` is called `slate` now", "the yarn `slate` is called `foam` now"];
    let mut said: Vec<String> = words(&crossed).iter().map(|(.., what)| what.to_string()).collect();
    said.sort();
    assert_eq!(said, called);
    // What is said of the two changes places, and the lines that thread them do not: the other yarn is knitted.
    let head = "yarn slate { count 2/15 Nm }\nyarn foam { colour \"white\" }";
    let turned = SCARF.replace(head, "yarn slate { colour \"white\" }\nyarn foam { count 2/15 Nm }");
    assert!(turned != SCARF && !between(SCARF, &turned).is_same());
    let bare = SCARF.replace("yarn slate { count 2/15 Nm }", "yarn slate {}");
    assert!(!between(&bare, &bare.replace("slate", "granite")).is_same());
}

#[test]
fn titles_notes_reminders_promises_and_claims_are_words() {
    only_words("pattern \"Breakwater scarf\"", "pattern \"Scarf\"", About::Title, How::Changed, "the title is another");
    only_words(
        "Thread the other yarn.",
        "Look at the edges.",
        About::Said(SpeechWord::Note),
        How::Changed,
        "another note",
    );
    only_words(
        "        note \"Thread the other yarn.\"\n",
        "",
        About::Said(SpeechWord::Note),
        How::Removed,
        "gone: a note",
    );
    only_words("every 60 rows", "every 50 rows", About::Reminder, How::Changed, "another reminder");
    only_words("expect 60 stitches front", "expect 59 stitches front", About::Promise, How::Changed, "another promise");
    only_words("        expect 60 stitches front\n", "", About::Promise, How::Removed, "gone: a promise");
    only_words("section \"Hem\"", "section \"Edge\"", About::Section, How::Changed, "another title of a section");
    only_words(
        "row front knit, back tuck",
        "row to right front knit, back tuck",
        About::Claim,
        How::Added,
        "`to right` is written now",
    );
    only_words(
        "transfer back to front, joining",
        "transfer back to front",
        About::Claim,
        How::Removed,
        "`joining` is written no more",
    );
    let allowed = between(
        SCARF,
        &SCARF.replace("row both knit, loosened 3", "allow edge-tuck because \"so\" { row both knit, loosened 3 }"),
    );
    assert!(allowed.is_same());
    assert_eq!(words(&allowed), [(About::Allow, How::Added, "new: an allow")]);
    let moved = SCARF
        .replace("        note \"Thread the other yarn.\"\n", "")
        .replace("        gaiting opp", "        note \"Thread the other yarn.\"\n        gaiting opp");
    let moved = between(SCARF, &moved);
    assert_eq!(words(&moved), [(About::Said(SpeechWord::Note), How::Moved, "a note stands at another place")]);
}

#[test]
fn names_are_words() {
    let stitch = between(
        SCARF,
        &SCARF
            .replace("stitch half-cardigan", "stitch tucked")
            .replace("work half-cardigan", "work tucked")
            .replace("gauge half-cardigan", "gauge tucked"),
    );
    assert!(stitch.is_same());
    assert_eq!(
        words(&stitch),
        [
            (About::Gauge, How::Renamed, "the gauge `half-cardigan` is called `tucked` now"),
            (About::Stitch, How::Renamed, "the stitch `half-cardigan` is called `tucked` now"),
        ]
    );
    let value = between(SCARF, &SCARF.replace("border", "hem-rows"));
    assert!(value.is_same());
    assert_eq!(words(&value), [(About::Value, How::Renamed, "the value `border` is called `hem-rows` now")]);
    only_words(
        "piece \"Scarf\"",
        "piece \"Stole\"",
        About::Piece,
        How::Renamed,
        "the piece \"Scarf\" is called \"Stole\" now",
    );
    let machine = between(SCARF, &SCARF.replace("club", "attic"));
    assert!(machine.is_same());
    assert!(words(&machine).contains(&(About::Machine, How::Renamed, "the machine `club` is called `attic` now")));
}

#[test]
fn stitches_that_nobody_works() {
    let with = |rows: &str| format!("{SCARF}stitch rib on both {{ {rows} }}\n");
    let added = between(SCARF, &with("row both knit"));
    assert!(added.is_same());
    assert_eq!(words(&added), [(About::Stitch, How::Added, "the stitch `rib` is new")]);
    let other = between(&with("row both knit"), &with("row front knit"));
    assert!(other.is_same());
    assert_eq!(
        words(&other),
        [(About::Stitch, How::Changed, "the stitch `rib`, which no line works, is written otherwise")]
    );
}

#[test]
fn pieces() {
    let pocket = "piece \"Pocket\", make 2 {\n    in work front L5-R5\n    thread slate\n    cast on wound front\n    rows 12 front knit\n    bind off front\n}\n";
    let with = format!("{SCARF}{pocket}");
    let added = between(SCARF, &with);
    assert_eq!(knitting(&added), [(About::Piece, How::Added, "the piece \"Pocket\" is new, 12 rows")]);
    let gone = between(&with, SCARF);
    assert_eq!(knitting(&gone), [(About::Piece, How::Removed, "the piece \"Pocket\" is gone, 12 rows")]);
    let make = between(&with, &with.replace("make 2", "make 3"));
    assert_eq!(knitting(&make), [(About::Piece, How::Changed, "make 3 instead of 2")]);
    // The order of pieces is nobody's work.
    let at = SCARF.find("piece").expect("there is one");
    let turned = format!("{}{pocket}{}", &SCARF[..at], &SCARF[at..]);
    let turned = between(&with, &turned);
    assert!(turned.is_same() && turned.words.is_empty(), "{}", told(&turned));
}

#[test]
fn a_repeat_written_out_is_the_same_and_one_other_row_in_it_is_one_change() {
    let repeat = "        repeat 6 times {\n            rows 2 both knit\n            row front knit, back knit, loosened 1\n        }\n";
    let out = "            rows 2 both knit\n            row both knit, loosened 1\n".repeat(6);
    let written = SCARF.replace(repeat, &out);
    assert_ne!(written, SCARF);
    let same = between(SCARF, &written);
    assert!(same.is_same() && same.words.is_empty(), "{}", told(&same));
    let third = written.match_indices("loosened 1").nth(2).expect("there are six").0;
    let other = between(SCARF, &format!("{}loosened 2{}", &written[..third], &written[third + 10..]));
    assert_eq!(
        knitting(&other),
        [(About::Row, How::Changed, "the stitch size for this row is another")],
        "{}",
        told(&other)
    );
    assert_eq!(other.knitting[0].rows[0].new, Some(542));
    assert_eq!(other.knitting[0].rows[0].old, Some(542));
}

#[test]
fn what_holds_in_all_sizes_is_said_once() {
    let sized = SCARF.replace("let length = 120 cm", "sizes short, long\nlet length = 120 (160) cm");
    let both = between(&sized, &sized.replace("loosened 3", "loosened 2"));
    let [change] = both.knitting.as_slice() else { panic!("{}", told(&both)) };
    assert!(change.sizes.is_empty() && change.other_numbers_in.is_empty());
    let rows: Vec<_> = change.rows.iter().map(|at| (at.size.as_deref(), at.new)).collect();
    assert_eq!(rows, [(Some("short"), Some(552)), (Some("long"), Some(728))]);
    assert!(told(&both).contains("Row 552 in size short and row 728 in size long, line 38"), "{}", told(&both));
    let one = between(&sized, &sized.replace("(160)", "(170)"));
    let [change] = one.knitting.as_slice() else { panic!("{}", told(&one)) };
    assert_eq!(change.sizes, ["long"]);
    assert!(told(&one).contains("Only in size `long`."), "{}", told(&one));
    assert!(
        one.words
            .iter()
            .any(|change| change.what == "the value of `length` is 120 cm (170 cm) instead of 120 cm (160 cm)")
    );
    let gone = between(&sized, &sized.replace("short, long", "short").replace(" (160)", ""));
    assert_eq!(knitting(&gone), [(About::Size, How::Removed, "the size `long` is gone")]);
    let renamed = between(&sized, &sized.replace("long\n", "wide\n"));
    assert!(renamed.is_same());
    assert_eq!(words(&renamed), [(About::Size, How::Renamed, "the size `long` is called `wide` now")]);
    let sizes_now = between(SCARF, &sized);
    assert_eq!(knitting(&sizes_now), [(About::Size, How::Added, "the size `long` is new")], "{}", told(&sizes_now));
}

#[test]
fn errors_are_said_first_and_the_rest_is_compared() {
    let wrong = SCARF.replace("thread slate", "thread granit").replace("loosened 3", "loosened 2");
    let comparison = between(SCARF, &wrong);
    let text = told(&comparison);
    assert!(text.starts_with("new.wale has 1 error. `wale check` says which.\n"), "{text}");
    assert_eq!(
        knitting(&comparison),
        [
            (About::UnreadLine, How::Changed, "this line is not understood now"),
            (About::Row, How::Changed, "the stitch size for this row is another"),
        ],
        "{text}"
    );
    assert_eq!((comparison.old.errors, comparison.new.errors), (0, 1));
    // The same mistake in both is no change.
    assert!(between(&wrong, &wrong).is_same());
    // Nobody knows what a line outside the pieces would have said.
    let broken = between(SCARF, &SCARF.replace("let border = 4 rows", "let border = 4 rows\nlett other = 3"));
    assert_eq!(
        knitting(&broken),
        [(About::UnreadLine, How::Added, "new: a line that is not understood")],
        "{}",
        told(&broken)
    );
}

#[test]
fn a_repeat_without_end_in_sight_is_compared_at_once() {
    let long = SCARF.replace("repeat 6 times", "repeat 1000000000 times");
    let start = std::time::Instant::now();
    assert!(between(&long, &long).is_same());
    let halves = SCARF.replace("repeat 6 times", "repeat 500000000 times").replace(
        "rows 2 both knit\n            row front knit, back knit, loosened 1\n",
        "rows 2 both knit\n            row both knit, loosened 1\n            rows 2 both knit\n            row both knit, loosened 1\n",
    );
    assert!(between(&long, &halves).is_same());
    let fewer = between(&long, &long.replace("1000000000", "999999999"));
    assert_eq!(knitting(&fewer).len(), 1);
    let other = between(&long, &long.replace("loosened 1", "loosened 2"));
    assert_eq!(knitting(&other), [(About::Row, How::Changed, "the stitch size for this row is another")]);
    assert!(told(&other).contains("repeated 1,000,000,000 times"), "{}", told(&other));
    assert!(start.elapsed().as_secs() < 60, "{:?}", start.elapsed());
}

#[test]
fn definitions_that_work_each_other_are_not_written_out() {
    let mut text = String::from(
        "machine club { needles 96 each side }\nyarn slate {}\nstitch s0 on front { row front knit\nrow front knit, loosened 1 }\n",
    );
    for level in 1..40 {
        text += &format!("stitch s{level} on front {{ work s{0} 2 times\nrow front knit\nwork s{0} }}\n", level - 1);
    }
    text += "piece \"Cloth\" { in work front L9-R9\nthread slate\nstitch size 5\ncast on wound front\nwork s20\nbind off front }\n";
    let other = between(&text, &text.replace("loosened 1", "loosened 2"));
    assert_eq!(knitting(&other).len(), 1, "{}", told(&other));
    assert!(between(&text, &text).is_same());
}

#[test]
fn two_long_patterns_with_little_in_common_are_compared_soon() {
    const ROWS: &[&str] = &["row both knit", "row front knit", "row back knit", "row both knit, loosened 1"];
    let long = |seed: u64| {
        let dice = &mut crate::common::random::Dice::new(seed);
        let rows: String = (0..3_000).map(|_| format!("        {}\n", dice.pick(ROWS))).collect();
        SCARF.replace("        row both knit, loosened 3\n", &rows)
    };
    let start = std::time::Instant::now();
    let comparison = between(&long(1), &long(2));
    assert!(comparison.knitting.len() > 100, "{}", comparison.knitting.len());
    let text = told(&comparison);
    assert!(text.contains("more. `--format json` has all of them."), "{text}");
    assert!(start.elapsed().as_secs() < 60, "{:?}", start.elapsed());
}
