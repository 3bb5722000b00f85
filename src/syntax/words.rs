//! The words of the language, what the rules of the grammar are called when speaking to a knitter, and a sample of
//! every kind of line.

use super::grammar::Rule;
use unicode_normalization::char::is_combining_mark;

/// Every word of the language, in the order of the alphabet.
const KEYWORDS: &[&str] = &[
    "Ne",
    "Nm",
    "a",
    "adjacent",
    "all",
    "allow",
    "and",
    "arrange",
    "at",
    "back",
    "ball",
    "because",
    "bed",
    "beds",
    "between",
    "bind",
    "both",
    "but",
    "by",
    "carriage",
    "cast",
    "centre",
    "chain",
    "chart",
    "cm",
    "colour",
    "count",
    "counter",
    "cross",
    "decrease",
    "denier",
    "drop",
    "dtex",
    "each",
    "edge",
    "elsewhere",
    "emptied",
    "evenly",
    "every",
    "expect",
    "fabric",
    "fibre",
    "first",
    "float",
    "follow",
    "for",
    "free",
    "from",
    "front",
    "g",
    "gaiting",
    "gauge",
    "go",
    "half",
    "hand",
    "handle",
    "hold",
    "in",
    "increase",
    "inset",
    "joining",
    "kg",
    "knit",
    "left",
    "leftmost",
    "length",
    "let",
    "lever",
    "longest",
    "loops",
    "loosened",
    "m",
    "machine",
    "make",
    "mark",
    "mm",
    "most",
    "move",
    "needle",
    "needles",
    "new",
    "none",
    "note",
    "number",
    "of",
    "off",
    "on",
    "onto",
    "open",
    "opposite",
    "or",
    "out",
    "over",
    "pass",
    "pattern",
    "pick",
    "piece",
    "pitch",
    "rack",
    "racking",
    "relaxed",
    "release",
    "remind",
    "repeat",
    "reset",
    "right",
    "rightmost",
    "row",
    "rows",
    "section",
    "selection",
    "selectors",
    "shape",
    "side",
    "size",
    "sizes",
    "slack",
    "slip",
    "stay",
    "step",
    "stitch",
    "stitches",
    "strands",
    "tex",
    "the",
    "thread",
    "tightened",
    "times",
    "to",
    "transfer",
    "tubular",
    "tuck",
    "tucks",
    "unwashed",
    "up",
    "use",
    "wait",
    "washed",
    "waste",
    "widest",
    "with",
    "work",
    "worsted",
    "wound",
    "yarn",
    "zigzag",
];

/// The units that a number can have behind it, as the grammar's rule `unit` has them.
pub(super) const UNITS: &[&str] =
    &["rows", "row", "stitches", "stitch", "needles", "needle", "cm", "mm", "m", "in", "kg", "g"];

/// Words that the grammar reads as names and the tree knows.
const SELECTIONS: &[&str] = &["empty", "loaded"];

/// Every word of the language, in the order of the alphabet, but for `empty` and `loaded`, which stand at its end.
#[must_use]
pub fn keywords() -> &'static [&'static str] {
    const ALL: [&str; KEYWORDS.len() + SELECTIONS.len()] = {
        let mut all = [""; KEYWORDS.len() + SELECTIONS.len()];
        let mut at = 0;
        while at < all.len() {
            all[at] = if at < KEYWORDS.len() { KEYWORDS[at] } else { SELECTIONS[at - KEYWORDS.len()] };
            at += 1;
        }
        all
    };
    &ALL
}

/// Whether that is one of the language's words.
pub(super) fn is_keyword(word: &str) -> bool {
    keywords().contains(&word)
}

/// The first words of lines, each with a line that can be read.
pub(super) const SAMPLES: &[(&str, &str)] = &[
    ("row", "row front knit, back tuck"),
    ("rows", "rows 10 both knit"),
    ("tubular", "tubular 4 rows"),
    ("free", "free pass"),
    ("pattern", "pattern \"Breakwater scarf\""),
    ("use", "use \"machines.wale\""),
    ("machine", "machine club {"),
    ("yarn", "yarn slate {"),
    ("gauge", "gauge half-cardigan {"),
    ("sizes", "sizes short, long"),
    ("let", "let length = 120 cm"),
    ("stitch", "stitch half-cardigan on both {` or `stitch ripple (depth rows) on both {` or `stitch size 5"),
    ("chart", "chart anchor {"),
    ("fabric", "fabric basket {"),
    ("piece", "piece \"Scarf\", make 2 {"),
    ("section", "section \"Body\" {"),
    ("needles", "needles 90 each side"),
    ("pitch", "pitch 5 mm"),
    ("racking", "racking back bed, 5 left to 5 right` or `racking slack 2"),
    ("half", "half step with a lever"),
    ("selectors", "selectors both beds"),
    ("transfer", "transfer back to front, joining` or `transfer front L5-R5 to back` or `transfer carriage"),
    ("most", "most tucks 4"),
    ("longest", "longest float 25 mm` or `longest wait 8 rows"),
    ("widest", "widest cross 3 stitches"),
    ("emptied", "emptied needles stay in work"),
    ("count", "count 2/15 Nm"),
    ("colour", "colour \"grey blue\""),
    ("fibre", "fibre \"wool\""),
    ("ball", "ball 50 g"),
    ("strands", "strands 2"),
    ("in", "in work front L30-R30, back L30-R29"),
    ("out", "out of work back"),
    ("hold", "hold front leftmost 5"),
    ("release", "release front"),
    ("gaiting", "gaiting between"),
    ("rack", "rack 1 left` or `rack to centre"),
    ("thread", "thread slate"),
    ("carriage", "carriage left"),
    ("reset", "reset counter"),
    ("cast", "cast on zigzag"),
    ("new", "new loops front L31"),
    ("move", "move front L5 1 left` or `move front L5 to back L6"),
    ("cross", "cross front L2-L1 over R1-R2"),
    ("increase", "increase front 1 at each edge"),
    ("decrease", "decrease front 1 at left, inset 3"),
    ("drop", "drop front R5"),
    ("pick", "pick up front L5-R5 from waste yarn"),
    ("bind", "bind off front"),
    ("onto", "onto waste yarn front"),
    ("repeat", "repeat 4 times {"),
    ("work", "work half-cardigan 12 times` or `work ripple (depth 3 rows)"),
    ("follow", "follow anchor 2 times {"),
    ("shape", "shape over 60 rows {"),
    ("arrange", "arrange front \"|..|\""),
    ("note", "note \"hang the weights\""),
    ("mark", "mark \"armhole\""),
    ("remind", "remind every 30 rows \"move the weights\""),
    ("expect", "expect 60 stitches front, 0 back"),
    ("allow", "allow long-float because \"it is cut open later\" {"),
];

/// A line that can be read, or several with "or" between them, which begin with that word.
#[must_use]
pub fn sample(first: &str) -> Option<&'static str> {
    SAMPLES.iter().find(|(word, _)| *word == first).map(|(_, sample)| *sample)
}

/// What is meant where that word of the language stands behind another, in the words of a sentence.
#[must_use]
pub fn called(word: &str) -> Option<&'static str> {
    Rule::all_rules()
        .iter()
        .filter_map(|rule| expectation(*rule))
        .find(|(_, _, words)| words.contains(&word))
        .map(|(_, called, _)| called)
}

/// A letter, a digit, a mark on a letter or `-`: what words are made of.
pub(super) fn is_word_character(character: char) -> bool {
    character.is_alphanumeric() || character == '-' || is_combining_mark(character)
}

/// `a` or `an`, whichever the word asks for.
pub(super) fn article(word: &str) -> &'static str {
    let small = word.to_lowercase();
    if small.starts_with(['a', 'e', 'i', 'o']) || small.starts_with("un") || small.starts_with("up") {
        "an"
    } else {
        "a"
    }
}

/// `L30`, `L30-R29`.
pub(super) fn is_needle(word: &str) -> bool {
    is_needle_with(word, 'L', 'R')
}

/// `l30`, `l30-r29`: a needle in small letters.
pub(super) fn is_small_needle(word: &str) -> bool {
    is_needle_with(word, 'l', 'r')
}

fn is_needle_with(word: &str, left: char, right: char) -> bool {
    let mut parts = 0;
    word.split('-').all(|part| {
        parts += 1;
        parts <= 2
            && part
                .strip_prefix([left, right])
                .is_some_and(|digits| !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit()))
    })
}

/// What a rule of the grammar is called in a sentence, how early it is to be named (0 first), and the words it is
/// written with, for finding the one that was meant. Nothing for rules that a knitter need not hear of.
pub(super) fn expectation(rule: Rule) -> Option<(u8, &'static str, &'static [&'static str])> {
    Some(match rule {
        Rule::bed => (1, "a bed (`front`, `back` or `both`)", &["front", "back", "both"]),
        Rule::side => (1, "`left` or `right`", &["left", "right"]),
        Rule::action => (1, "what the needles do (`knit`, `tuck` or `slip`)", &["knit", "tuck", "slip"]),
        Rule::name => (2, "a name in small letters", &[]),
        Rule::words => (3, "words in quotation marks, `\"like these\"`", &[]),
        Rule::quantity | Rule::plain => (1, "a number", &[]),
        Rule::needles => (1, "needles such as `L30-R30`", &[]),
        Rule::all_but => (6, "`all but`", &["all", "but"]),
        Rule::every => (6, "`every 2`", &["every"]),
        Rule::edgemost => (6, "`leftmost 2` or `rightmost 2`", &["leftmost", "rightmost"]),
        Rule::each_side => (5, "`each side`", &["each", "side"]),
        Rule::operator | Rule::tight => (7, "`and`, `+` or the like", &["and", "or"]),
        Rule::comma => (3, "a comma", &[]),
        Rule::on => (1, "`on`", &["on"]),
        Rule::to => (1, "`to`", &["to"]),
        Rule::from => (2, "`from`", &["from"]),
        Rule::over => (4, "`over`", &["over"]),
        Rule::equals => (0, "`=`", &[]),
        Rule::bracket => (5, "`(`", &[]),
        Rule::unbracket => (0, "`)`", &[]),
        Rule::beds => (0, "`bed` or `beds`", &["bed", "beds"]),
        Rule::none => (2, "`none`", &["none"]),
        Rule::rows_word => (0, "`rows`", &["rows"]),
        Rule::stitches_word => (5, "`stitches`", &["stitches"]),
        Rule::times => (0, "`times`", &["times"]),
        Rule::toward => (3, "`to left` or `to right`", &["to", "left", "right"]),
        Rule::elsewhere => (2, "`elsewhere`", &["elsewhere"]),
        Rule::setting_word => (4, "`loosened`, `tightened` or `size`", &["loosened", "tightened", "size"]),
        Rule::new_loops_part => (5, "`new loops`", &["new", "loops"]),
        Rule::first => (0, "`first`", &["first"]),
        Rule::pass => (0, "`pass`", &["pass"]),
        Rule::meaning => (
            0,
            "what the name stands for (`number`, `rows`, `stitches`, `needles`, `length` or `selection`)",
            &["number", "rows", "stitches", "needles", "length", "selection"],
        ),
        Rule::argument => (1, "the name of a parameter and its value, such as `depth 3 rows`", &[]),
        Rule::and => (0, "`and`", &["and"]),
        Rule::in_word => (0, "`in`", &["in"]),
        Rule::washing => (0, "`washed`, `unwashed` or `relaxed`", &["washed", "unwashed", "relaxed"]),
        Rule::to_the_left => (0, "`left`", &["left"]),
        Rule::to_the_right => (0, "`right`", &["right"]),
        Rule::step => (0, "`step`", &["step"]),
        Rule::with => (0, "`with`", &["with"]),
        Rule::lever => (0, "`a lever`", &["a", "lever"]),
        Rule::handle => (0, "`the racking handle`", &["the", "racking", "handle"]),
        Rule::adjacent_tucks => (0, "`adjacent tucks` or `tucks`", &["adjacent", "tucks"]),
        Rule::float => (0, "`float`", &["float"]),
        Rule::needles_word => (0, "`needles`", &["needles"]),
        Rule::stay_in_work => (0, "`stay in work`", &["stay", "in", "work"]),
        Rule::go_out_of_work => (0, "`go out of work`", &["go", "out", "of", "work"]),
        Rule::stroke => (3, "`/`", &[]),
        Rule::system => (
            0,
            "how the yarn is counted (`Nm`, `tex`, `dtex`, `denier`, `Ne` or `worsted`)",
            &["Nm", "tex", "dtex", "denier", "Ne", "worsted"],
        ),
        Rule::make => (1, "`make`", &["make"]),
        Rule::work_word => (0, "`work`", &["work"]),
        Rule::of_work => (0, "`of work`", &["of", "work"]),
        Rule::gaiting_word => (0, "`between` or `opposite`", &["between", "opposite"]),
        Rule::centre => (1, "`centre`", &["centre"]),
        Rule::counter => (2, "`counter`", &["counter"]),
        Rule::cast_on_kind => (0, "how (`zigzag`, `open`, `wound` or `chain`)", &["zigzag", "open", "wound", "chain"]),
        Rule::loops => (0, "`loops`", &["loops"]),
        Rule::joining => (1, "`joining`", &["joining"]),
        Rule::emptied => (2, "`emptied stay in work`", &["emptied"]),
        Rule::by => (2, "`by hand` or `by carriage`", &["by"]),
        Rule::hand => (0, "`hand`", &["hand"]),
        Rule::carriage_word => (2, "`carriage`", &["carriage"]),
        Rule::at => (1, "`at left`, `at right` or `at each edge`", &["at"]),
        Rule::edge => (0, "`left`, `right` or `each edge`", &["left", "right", "each", "edge"]),
        Rule::inset => (2, "`inset`", &["inset"]),
        Rule::evenly => (0, "`evenly`", &["evenly"]),
        Rule::up => (0, "`up`", &["up"]),
        Rule::from_waste => (4, "`from waste yarn`", &["from", "waste", "yarn"]),
        Rule::off => (0, "`off`", &["off"]),
        Rule::waste_yarn => (0, "`waste yarn`", &["waste", "yarn"]),
        Rule::for_word => (3, "`for`", &["for"]),
        Rule::every_word => (0, "`every`", &["every"]),
        Rule::gaiting_start => (3, "`gaiting`", &["gaiting"]),
        Rule::racking_start => (3, "`racking`", &["racking"]),
        Rule::because => (0, "`because`", &["because"]),
        Rule::line_end | Rule::EOI => (8, "the end of the line", &[]),
        // Statements: their first words are known, and what follows has names of its own.
        Rule::row
        | Rule::rows
        | Rule::tubular
        | Rule::free_pass
        | Rule::pattern
        | Rule::use_line
        | Rule::machine
        | Rule::yarn
        | Rule::gauge
        | Rule::chart
        | Rule::fabric
        | Rule::sizes
        | Rule::let_line
        | Rule::stitch
        | Rule::words_line
        | Rule::fabric_line
        | Rule::gauge_line
        | Rule::needles_line
        | Rule::pitch
        | Rule::racking
        | Rule::racking_slack
        | Rule::racking_step
        | Rule::longest_wait
        | Rule::widest_cross
        | Rule::half_step
        | Rule::selectors
        | Rule::hold_line
        | Rule::transfer_carriage
        | Rule::most_tucks
        | Rule::most_adjacent_tucks
        | Rule::longest_float
        | Rule::stitch_sizes
        | Rule::emptied_needles
        | Rule::count_line
        | Rule::colour
        | Rule::fibre
        | Rule::ball
        | Rule::strands
        | Rule::piece
        | Rule::section
        | Rule::in_work
        | Rule::out_of_work
        | Rule::hold
        | Rule::release
        | Rule::gaiting
        | Rule::rack_to
        | Rule::rack_by
        | Rule::thread
        | Rule::stitch_size
        | Rule::carriage
        | Rule::reset_counter
        | Rule::cast_on
        | Rule::new_loops
        | Rule::transfer
        | Rule::move_stitches
        | Rule::cross
        | Rule::increase
        | Rule::decrease
        | Rule::drop_loops
        | Rule::pick_up
        | Rule::bind_off
        | Rule::onto_waste
        | Rule::repeat
        | Rule::work
        | Rule::follow
        | Rule::shape
        | Rule::arrange
        | Rule::note
        | Rule::mark
        | Rule::remind
        | Rule::expect
        | Rule::allow => return None,
        // What only holds others, and what leaves no trace.
        Rule::promise
        | Rule::slope
        | Rule::text
        | Rule::line
        | Rule::newline
        | Rule::blank
        | Rule::b
        | Rule::ob
        | Rule::open
        | Rule::close
        | Rule::comment
        | Rule::marker
        | Rule::bad
        | Rule::ordinary
        | Rule::curly
        | Rule::unclosed
        | Rule::name_start
        | Rule::name_char
        | Rule::reserved
        | Rule::number
        | Rule::others
        | Rule::foreign
        | Rule::whole
        | Rule::acting
        | Rule::unit
        | Rule::expression
        | Rule::operand
        | Rule::value
        | Rule::count
        | Rule::within
        | Rule::comma_of
        | Rule::targets
        | Rule::target
        | Rule::statement
        | Rule::parts
        | Rule::part
        | Rule::doing
        | Rule::side_of
        | Rule::setting
        | Rule::parameters
        | Rule::parameter
        | Rule::carriage_way
        | Rule::place
        | Rule::manner
        | Rule::edge_change
        | Rule::arguments
        | Rule::extent => return None,
    })
}
