//! How large a pattern may be. What stands here stands in the reference too, in its section about limits.

/// Blocks and stitches in each other.
pub(super) const MOST_DEPTH: usize = 64;
/// Sizes of a pattern.
pub(super) const MOST_SIZES: usize = 64;
/// Rows of a piece: far more than anybody knits, and small enough to count with.
pub(super) const MOST_ROWS: u128 = 1_000_000_000_000_000;
/// Yarns of a pattern; a yarn is kept by its number in 16 bits.
pub(super) const MOST_YARNS: usize = 1_000;
/// Parameters of a definition.
pub(super) const MOST_PARAMETERS: usize = 64;
/// Lines of a chart.
pub(super) const MOST_LINES: usize = 10_000;
/// Marks of a tile, and of a line of a chart; the widest bed has as many needles.
pub(super) const MOST_MARKS: usize = 256;
/// Parts that a selection may be made of.
pub(super) const MOST_PARTS: usize = 64;

/// Steps that all sizes together may keep in memory, each of them its part.
pub(super) const MOST_STEPS: usize = 1_000_000;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beds::NeedleSet;
    use crate::play::Manner;
    use crate::source::Sources;
    use crate::syntax::DEEPEST_BLOCK;

    /// The limits that knitters read are those that hold.
    #[test]
    fn the_reference_has_these_limits() {
        let reference = include_str!("../../grammar/README.md");
        let section = reference.split("\n## Limits\n").nth(1).and_then(|rest| rest.split("\n## ").next());
        let rows: Vec<(&str, &str)> = section
            .expect("it has the section")
            .lines()
            .filter_map(|line| line.strip_prefix("| ")?.strip_suffix(" |")?.split_once(" | "))
            .skip(2)
            .collect();
        assert_eq!(MOST_DEPTH, DEEPEST_BLOCK);
        let words = [
            ("needles of a bed", format!("{} each side", NeedleSet::WIDTH / 2)),
            ("sizes", MOST_SIZES.to_string()),
            ("blocks and stitches in each other", MOST_DEPTH.to_string()),
            ("rows of a piece", format!("a 1 with {} zeros", MOST_ROWS.ilog10())),
            (
                "operations that are played, all pieces and sizes together; passes that come again are counted and not played",
                Manner::MOST_OPERATIONS.to_string(),
            ),
            // `tests/hostile.rs` counts them.
            ("errors, and warnings, that are listed of a piece", "500, 500".to_owned()),
            ("a number", "below a 1 with 12 zeros, with 6 decimals".to_owned()),
            ("lines of a chart, marks of a line", format!("{MOST_LINES}, {MOST_MARKS}")),
            ("parts of a selection", MOST_PARTS.to_string()),
            ("parameters of a stitch", MOST_PARAMETERS.to_string()),
            ("yarns", MOST_YARNS.to_string()),
            ("files of a pattern", Sources::MOST_FILES.to_string()),
            (
                "the text of a pattern, and all texts that it uses together",
                format!("{} MiB each", Sources::LONGEST_TEXT >> 20),
            ),
            ("lines that are worked out one by one, of all sizes together", MOST_STEPS.to_string()),
        ];
        assert_eq!(10_u128.pow(MOST_ROWS.ilog10()), MOST_ROWS);
        let wanted: Vec<(&str, &str)> = words.iter().map(|(what, most)| (*what, most.as_str())).collect();
        assert_eq!(rows, wanted);
    }
}
