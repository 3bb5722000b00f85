//! Lace and cables as they are printed, worked out stitch by stitch from the trace.

use crate::outside::fabric::Fabric;
use crate::outside::hand::{Hand, Said, stands, stands_either_way, trace};

/// Over 18 needles, laid over 36: which needles go, how far, and to which side, so that no stitch lies on another one
/// that still has to go.
const MOVES: [(usize, i64); 15] = [
    (1, -1),
    (2, -1),
    (3, -2),
    (4, -2),
    (5, -3),
    (6, -2),
    (7, -1),
    (16, 1),
    (15, 1),
    (14, 2),
    (13, 2),
    (12, 3),
    (11, 3),
    (10, 2),
    (9, 1),
];

/// B. G. Walker, A Treasury of Knitting Patterns, p. 205, as four pages agree on its lace row: a multiple of 18; 3 times
/// two together, 6 times (over, 1), 3 times two together. 6 holes, 6 doubled stitches.
fn old_shale(hand: &Hand<'_>) -> Said {
    let moves: Vec<String> = MOVES
        .iter()
        .map(|&(at, by)| {
            let marks: String = (0..18).map(|it| if it == at { '|' } else { '.' }).collect();
            let side = if by < 0 { "left" } else { "right" };
            format!("move front \"{marks}\" over L18-R18 {} {side}, joining", by.abs())
        })
        .collect();
    let text = hand.piece(&format!(
        "in work front L18-R18\ncast on wound front\nrow front knit, loosened 1\nmark \"begin\"\n{}\nrow front knit, new loops\n\
         rows 2 front knit\nmark \"end\"\nbind off front",
        moves.join("\n")
    ));
    let fabric = Fabric::read(&trace(&text)?, hand.is_mirrored())?;
    let before = &fabric.before[fabric.begin][0];
    let printed = "222010101010101222".repeat(2);
    let found: String = (-18..18).map(|at| before.get(&at).map_or(0, Vec::len).to_string()).collect();
    agree!(found, printed, "stitches on the needles before the row, two together and over");
    let row = &fabric.marked()[0];
    let holes = row.loops.iter().filter(|it| fabric.loops[**it].is_tuck).count();
    let doubled = row.loops.iter().filter(|it| fabric.loops[**it].through.len() == 2).count();
    agree!((holes, doubled), (12, 12), "holes and doubled stitches of two multiples");
    agree!((fabric.at_begin[0].len(), fabric.at_end[0].len()), (36, 36), "stitches before and after");
    Ok(())
}

#[test]
fn lace_of_eighteen() {
    stands(
        old_shale,
        &[
            (", new loops", ""),
            (
                "move front \"..........|.......\" over L18-R18 2 right",
                "move front \"..........|.......\" over L18-R18 1 right",
            ),
            ("move front \".|................\" over L18-R18 1 left, joining\n", ""),
        ],
    );
}

/// Two teaching pages (common practice): 3 over 3 every 6 or 8 rows; 2 over 2 at least 4 rows apart.
fn cables(hand: &Hand<'_>) -> Said {
    for (width, apart) in [(3_i64, 6), (3, 8), (2, 4)] {
        let text = hand.piece(&format!(
            "in work front L8-R8\ncast on wound front\nrows 2 front knit\nmark \"begin\"\nrepeat 4 times {{\nrows {} front knit\n\
             row front knit, loosened 2\ncross front L{width}-L1 over R1-R{width}\n}}\nmark \"end\"\nrow front knit\nbind off front",
            apart - 1
        ));
        let fabric = Fabric::read(&trace(&text)?, hand.is_mirrored())?;
        let rows: Vec<usize> = fabric.crossings.iter().map(|(row, ..)| *row).collect();
        agree!(rows.len(), 4, "crossings");
        must!(
            rows.windows(2).all(|pair| pair[1] - pair[0] == apart),
            "rows of the crossings: {rows:?}, not {apart} apart"
        );
        // The last crossing: a stitch comes to lie on the needle that stands as far from the middle on the other side.
        for (at, stack) in &fabric.at_end[0] {
            let came = fabric.loops[stack[0]].needle;
            let expected = match at {
                at if (-width..0).contains(at) => at + width,
                at if (0..width).contains(at) => at - width,
                at => *at,
            };
            agree!(came, expected, "where the stitch on needle {at} came from");
        }
    }
    Ok(())
}

#[test]
fn cables_of_three_and_two() {
    stands_either_way(
        cables,
        &[
            ("cross front L3-L1 over R1-R3", "cross front L3-L1 over R1-R2"),
            ("rows 5 front knit", "rows 4 front knit"),
            ("cross front L2-L1 over R1-R2\n", ""),
        ],
    );
}
