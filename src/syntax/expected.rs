//! What the rules of the grammar are called when speaking to a knitter, and the words that they are written with.

use super::grammar::Rule;

/// What can stand in a place of a line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Expected {
    /// How early it is to be named, 0 first.
    pub(super) order: u8,
    /// What it is called in a sentence.
    pub(super) called: &'static str,
    /// What can be written for it, as far as that is words of the language: each of these, with blanks between its words.
    pub(super) ways: &'static [&'static str],
}

impl Expected {
    /// The words that it is written with.
    pub(super) fn words(self) -> impl Iterator<Item = &'static str> {
        self.ways.iter().flat_map(|way| way.split(' '))
    }
}

/// What is expected where that rule of the grammar could have stood. Nothing for rules that a knitter need not hear of.
pub(super) fn expectation(rule: Rule) -> Option<Expected> {
    let (order, called, ways): (_, _, &[_]) = match rule {
        Rule::bed => (1, "a bed (`front`, `back` or `both`)", &["front", "back", "both"]),
        Rule::side => (1, "`left` or `right`", &["left", "right"]),
        Rule::action => (1, "what the needles do (`knit`, `tuck` or `slip`)", &["knit", "tuck", "slip"]),
        Rule::name => (2, "a name in small letters", &[]),
        Rule::words => (3, "words in quotation marks, `\"like these\"`", &[]),
        Rule::quantity | Rule::plain => (1, "a number", &[]),
        Rule::needles => (1, "needles such as `L30-R30`", &[]),
        Rule::all_but => (6, "`all but`", &["all but"]),
        Rule::every => (6, "`every 2`", &["every"]),
        Rule::edgemost => (6, "`leftmost 2` or `rightmost 2`", &["leftmost", "rightmost"]),
        Rule::each_side => (5, "`each side`", &["each side"]),
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
        Rule::toward => (3, "`to left` or `to right`", &["to left", "to right"]),
        Rule::elsewhere => (2, "`elsewhere`", &["elsewhere"]),
        Rule::setting_word => (4, "`loosened`, `tightened` or `size`", &["loosened", "tightened", "size"]),
        Rule::new_loops_part => (5, "`new loops`", &["new loops"]),
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
        Rule::lever => (0, "`a lever`", &["a lever"]),
        Rule::handle => (0, "`the racking handle`", &["the racking handle"]),
        Rule::the_side => (0, "`the right` or `the left`", &["the right", "the left"]),
        Rule::takes => (2, "`takes`", &["takes"]),
        Rule::taking => (
            0,
            "what it takes (`every stitch`, `lone stitches`, `every second needle` or `picked needles`)",
            &["every stitch", "lone stitches", "every second needle", "picked needles"],
        ),
        Rule::adjacent_tucks => (0, "`adjacent tucks` or `tucks`", &["adjacent tucks", "tucks"]),
        Rule::float => (0, "`float`", &["float"]),
        Rule::needles_word => (0, "`needles`", &["needles"]),
        Rule::stay_in_work => (0, "`stay in work`", &["stay in work"]),
        Rule::go_out_of_work => (0, "`go out of work`", &["go out of work"]),
        Rule::stroke => (3, "`/`", &[]),
        Rule::system => (
            0,
            "how the yarn is counted (`Nm`, `tex`, `dtex`, `denier`, `Ne` or `worsted`)",
            &["Nm", "tex", "dtex", "denier", "Ne", "worsted"],
        ),
        Rule::make => (1, "`make`", &["make"]),
        Rule::work_word => (0, "`work`", &["work"]),
        Rule::of_work => (0, "`of work`", &["of work"]),
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
        Rule::edge => (0, "`left`, `right` or `each edge`", &["left", "right", "each edge"]),
        Rule::inset => (2, "`inset`", &["inset"]),
        Rule::evenly => (0, "`evenly`", &["evenly"]),
        Rule::up => (0, "`up`", &["up"]),
        Rule::off => (0, "`off`", &["off"]),
        Rule::as_word => (4, "`as`", &["as"]),
        Rule::yarn_word => (0, "`yarn`", &["yarn"]),
        Rule::tube_start => (3, "`tube`", &["tube"]),
        Rule::closed => (0, "`closed`", &["closed"]),
        Rule::open_at => (0, "`open at`", &["open at"]),
        Rule::waste_yarn => (0, "`waste yarn`", &["waste yarn"]),
        Rule::for_word => (3, "`for`", &["for"]),
        Rule::every_word => (0, "`every`", &["every"]),
        Rule::gaiting_start => (3, "`gaiting`", &["gaiting"]),
        Rule::racking_start => (3, "`racking`", &["racking"]),
        Rule::because => (0, "`because`", &["because"]),
        Rule::line_end | Rule::EOI => (8, "the end of the line", &[]),
        // Statements, whose first words are known, what only holds others, and what leaves no trace.
        _ => return None,
    };
    Some(Expected { order, called, ways })
}

/// What is meant where that word of the language stands behind another, in the words of a sentence.
#[must_use]
pub fn called(word: &str) -> Option<&'static str> {
    Rule::all_rules()
        .iter()
        .filter_map(|rule| expectation(*rule))
        .find(|expected| expected.words().any(|known| known == word))
        .map(|expected| expected.called)
}
